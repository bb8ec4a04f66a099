"""Wire that leaves a supply without a fuse near it.

What it finds
    Every run of wire that a battery feeds without a fuse, to the nearest fuse, load or coil:
    longer than 0.3 m is danger, longer than 0.18 m advice. Switches and relays on the way end
    nothing: they protect nothing. Where an alternator alone feeds a run, wires that carry less
    than its greatest current.

Why it matters
    A battery drives a thousand amperes and more into a short. Wire between it and the first fuse
    that rubs through to the shell glows from end to end, whatever is fused behind.

Example
    A 2 m feed from the battery post to the key switch, with the fuse box behind the switch.

How to fix
    A fuse as near the battery as it can be mounted, sized for the wire behind it.

Limits
    Cables on the way to a starter motor are left out, as they commonly run without a fuse; what
    branches off them is measured from there. Links between batteries in series are left out, and
    what hangs on a plus that is joined to the shell (ground-not-joined tells that).
    33 CFR allows 40 in (1.02 m) in a sheath or enclosure; sheaths are not looked at here.

Reference
    33 CFR 183.455: 7 in (178 mm) from the source. 0.3 m: common practice for road vehicles, no
    source.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterator
from dataclasses import dataclass, field

from checks.case import Case
from checks.feeds import is_battery
from checks.finding import ADVICE, DANGER, UNKNOWN, Finding
from checks.wording import listed
from model.kinds.body import SourcePath
from model.lookup import number
from model.network import Edge

NAME = "unfused-length"
FAMILY = "protection"
DANGER_M = 0.3
"""Longest unfused run by the trade's rule; common practice, no source."""
ADVICE_M = 0.18
"""7 in, 33 CFR 183.455."""
SAME = 1e-9
SOURCE = "33 CFR 183.455 (7 in); 0.3 m common practice, no source"
_BASE = """
    G1 battery
    F1 fuse-blade rating_a=10
    E1 heater current_a=4
    X1 ground
    W1 G1.+ F1.1 2.5 {length}
    W2 F1.2 E1.+ 2.5 2
    W3 E1.- X1.g 2.5 0.3
    W4 X1.g G1.- 10 0.3
"""
BAD = (
    (_BASE.format(length="0.31"), ((DANGER, ("G1", "W1")),)),
    (_BASE.format(length="0.25"), ((ADVICE, ("G1", "W1")),)),
    (_BASE.format(length="?"), ((UNKNOWN, ("G1", "W1")),)),
)
GOOD = (_BASE.format(length="0.18"),)


@dataclass(slots=True)
class _Unfused:
    """Conductors that sources feed without a fuse, with the metres from where runs begin."""

    starts: dict[int, str]
    edges: list[Edge]
    metres: dict[int, float] = field(default_factory=dict)
    origin: dict[int, str] = field(default_factory=dict)


@dataclass(slots=True)
class _Run:
    """Wires that hang together, beyond the allowed distance from the source."""

    wires: list[tuple[float, str]] = field(default_factory=list)
    far_m: float = 0.0
    source: str = ""


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every run without a fuse, and one for wires of unknown length."""
    for unfused in (_of_batteries(case), _of_alternators(case)):
        _measure(case, unfused)
        runs = list(_runs(case, unfused))
        for run in runs:
            yield _too_long(case, run)
        judged = {w for run in runs for _, w in run.wires}
        yield from _not_known(case, unfused, judged)


def _of_batteries(case: Case) -> _Unfused:
    """Return what batteries feed without a fuse, a starter's cables as part of the source."""
    starts: dict[int, str] = {}
    edges: dict[tuple[str, str], Edge] = {}
    minus = {e.b for e in case.sources}
    for feed in case.feeds:
        if feed.source is None or not is_battery(feed.source):
            continue
        if feed.source.owner == case.plus_on_shell:
            continue  # what is the shell itself cannot be shorted to it
        starts[feed.start] = feed.source.owner
        for edge, _ in feed.edges:
            if edge.owner in case.starter_cables:
                starts.setdefault(edge.a, feed.source.owner)
                starts.setdefault(edge.b, feed.source.owner)
            elif not {edge.a, edge.b} & minus:
                edges[edge.key] = edge
    return _Unfused(starts, list(edges.values()))


def _of_alternators(case: Case) -> _Unfused:
    """Return what alternators alone feed; wires that carry all they give are part of the source."""
    known = {e.key for f in case.feeds if f.source and is_battery(f.source) for e, _ in f.edges}
    starts: dict[int, str] = {}
    edges: dict[tuple[str, str], Edge] = {}
    for feed in case.feeds:
        if feed.source is None or is_battery(feed.source):
            continue
        part = case.circuit.parts[feed.source.owner]
        prefix = feed.source.inner.prefix if isinstance(feed.source.inner, SourcePath) else ""
        limit_a = number(case.circuit, part, f"{prefix}limit_a", 100.0)
        starts[feed.start] = part.id
        for edge, _ in feed.edges:
            if _carries(case, edge, limit_a):
                starts.setdefault(edge.a, part.id)
                starts.setdefault(edge.b, part.id)
            elif edge.key not in known:
                edges[edge.key] = edge
    return _Unfused(starts, list(edges.values()))


def _carries(case: Case, edge: Edge, amps: float) -> bool:
    """Tell whether an edge is a wire that may carry this current for ever."""
    held = case.ampacity(case.circuit.wires[edge.owner]) if edge.role == "wire" else None
    return held is not None and held.value_a is not None and held.value_a >= amps


def _length(case: Case, edge: Edge) -> float:
    """Return the metres of a wire, 0 for anything else or where it is not known."""
    wire = case.circuit.wires[edge.owner] if edge.role == "wire" else None
    return (wire.length_m or 0.0) if wire else 0.0


def _measure(case: Case, unfused: _Unfused) -> None:
    """Set the metres of wire from where a run begins to every node, the shortest way."""
    links: dict[int, list[tuple[int, Edge]]] = {}
    for edge in unfused.edges:
        links.setdefault(edge.a, []).append((edge.b, edge))
        links.setdefault(edge.b, []).append((edge.a, edge))
    todo = [(0.0, node, source) for node, source in unfused.starts.items()]
    heapq.heapify(todo)
    while todo:
        metres, node, source = heapq.heappop(todo)
        if node in unfused.metres:
            continue
        unfused.metres[node], unfused.origin[node] = metres, source
        for other, edge in links.get(node, ()):
            if other not in unfused.metres:
                heapq.heappush(todo, (metres + _length(case, edge), other, source))


def _runs(case: Case, unfused: _Unfused) -> Iterator[_Run]:
    """Yield the runs that reach beyond the allowed distance.

    They are cut apart at every node within it, so that each branch of a stud beside the battery
    is a run of its own.
    """
    by_node: dict[int, list[Edge]] = {}
    for edge in unfused.edges:
        for node in (edge.a, edge.b):
            if unfused.metres.get(node, 0.0) > ADVICE_M + SAME:
                by_node.setdefault(node, []).append(edge)
    done: set[tuple[str, str]] = set()
    for edge in unfused.edges:
        if edge.key in done or not _beyond(case, unfused, edge):
            continue
        run, todo = _Run(source=unfused.origin[_near(unfused, edge)]), [edge]
        done.add(edge.key)
        while todo:
            one = todo.pop()
            _take(case, unfused, one, run)
            for other in (o for n in (one.a, one.b) for o in by_node.get(n, ())):
                if other.key not in done:
                    done.add(other.key)
                    todo.append(other)
        if run.wires:
            run.wires.sort()
            yield run


def _near(unfused: _Unfused, edge: Edge) -> int:
    """Return the end of an edge that is nearer to the source."""
    return min((edge.a, edge.b), key=lambda n: unfused.metres.get(n, math.inf))


def _far_m(case: Case, unfused: _Unfused, edge: Edge) -> float:
    """Return the metres from the source to the far end of an edge."""
    return unfused.metres.get(_near(unfused, edge), 0.0) + _length(case, edge)


def _beyond(case: Case, unfused: _Unfused, edge: Edge) -> bool:
    """Tell whether a wire reaches beyond the allowed distance."""
    return (
        edge.role == "wire"
        and _near(unfused, edge) in unfused.metres
        and _far_m(case, unfused, edge) > ADVICE_M + SAME
    )


def _take(case: Case, unfused: _Unfused, edge: Edge, run: _Run) -> None:
    """Add a wire to a run."""
    if edge.role == "wire":
        run.wires.append((unfused.metres.get(_near(unfused, edge), 0.0), edge.owner))
        run.far_m = max(run.far_m, _far_m(case, unfused, edge))


def _too_long(case: Case, run: _Run) -> Finding:
    """Return the finding of a run."""
    wires = tuple(dict.fromkeys(w for _, w in run.wires))
    far = run.far_m > DANGER_M + SAME
    rest = " and, behind it, {rest}" if len(wires) > 1 else ""
    says = "No fuse between {source} and {wire}" + rest + ": {length:length} to the farthest end"
    if far:
        says += "; a short anywhere on the way burns it. Protect it within {limit:length}."
    else:
        says += ", within {limit:length} but farther than the 7 in (0.178 m) of 33 CFR 183.455."
    return Finding(
        rule=NAME,
        severity=DANGER if far else ADVICE,
        parts=(run.source,),
        wires=wires,
        says=says,
        values={
            "source": case.name(run.source),
            "wire": case.wire_name(wires[0]),
            "rest": listed(case.wire_name(w) for w in wires[1:]),
            "length": run.far_m,
            "limit": DANGER_M,
        },
        source=SOURCE,
        path=(("parts", run.source), *(("wires", w) for w in wires)),
    )


def _not_known(case: Case, unfused: _Unfused, judged: set[str]) -> Iterator[Finding]:
    """Yield one finding for the unfused wires whose length is missing."""
    wires = [
        e.owner
        for e in unfused.edges
        if e.role == "wire" and e.owner not in judged and e.owner in case.network.assumed
    ]
    missing = [w for w in wires if case.circuit.wires[w].length_m is None]
    if missing:
        source = next(iter(unfused.starts.values()))
        yield Finding(
            rule=NAME,
            severity=UNKNOWN,
            parts=(source,),
            wires=tuple(missing),
            says="No fuse between {source} and {wire}, and the length is missing: whether it is "
            "within {limit:length} cannot be told.",
            values={
                "source": case.name(source),
                "wire": listed(case.wire_name(w) for w in missing),
                "limit": DANGER_M,
            },
            source=SOURCE,
            path=(("parts", source), *(("wires", w) for w in missing)),
        )
