"""What a supply feeds without a fuse: the runs of such wire, how long they are, how well kept.

From the plus of batteries (the cables of a starter taken as part of the source) and of alternators
that feed alone, conductors are followed to the nearest fuse, load or coil.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterator
from dataclasses import dataclass, field

from checks.case import Case
from checks.covers import BARE_M, POST_M, ROAD_M, SHEATHED_M, sheathed
from checks.feeds import is_battery
from model.kinds.body import SourcePath
from model.lookup import number
from model.network import Edge

SAME = 1e-9


@dataclass(slots=True)
class Unfused:
    """Conductors that sources feed without a fuse, with the metres from where runs begin.

    `posts` are the starts that are a battery's own post; `bare` the nodes on whose way from the
    start some wire has no sheath.
    """

    starts: dict[int, str]
    edges: list[Edge]
    posts: frozenset[int] = frozenset()
    metres: dict[int, float] = field(default_factory=dict)
    origin: dict[int, str] = field(default_factory=dict)
    bare: set[int] = field(default_factory=set)
    begins: dict[int, int] = field(default_factory=dict)


@dataclass(slots=True)
class Run:
    """Wires that hang together, beyond the allowed distance from the source.

    `sheathed` tells that they are kept in a sheath from the source on, `post` that it begins at
    a battery's own post.
    """

    wires: list[tuple[float, str]] = field(default_factory=list)
    far_m: float = 0.0
    source: str = ""
    sheathed: bool = True
    post: bool = True

    @property
    def practice_m(self) -> float:
        """The metres small-craft practice allows; 72 in for one wire straight from the post."""
        if not self.sheathed:
            return BARE_M
        return POST_M if self.post and len(self.wires) == 1 else SHEATHED_M

    @property
    def limit_m(self) -> float:
        """The metres beyond which nothing allows it: of practice, or of the trade on roads."""
        return max(self.practice_m, ROAD_M)


def of_batteries(case: Case) -> Unfused:
    """Return what batteries feed without a fuse, a starter's cables as part of the source."""
    starts: dict[int, str] = {}
    posts: set[int] = set()
    edges: dict[tuple[str, str], Edge] = {}
    minus = {e.b for e in case.sources}
    for feed in case.feeds:
        if feed.source is None or not is_battery(feed.source):
            continue
        if feed.source.owner == case.plus_on_shell:
            continue  # what is the shell itself cannot be shorted to it
        starts[feed.start] = feed.source.owner
        posts.add(feed.start)
        for edge, _ in feed.edges:
            if edge.owner in case.starter_cables:
                starts.setdefault(edge.a, feed.source.owner)
                starts.setdefault(edge.b, feed.source.owner)
            elif not {edge.a, edge.b} & minus:
                edges[edge.key] = edge
    return _measured(case, Unfused(starts, list(edges.values()), frozenset(posts)))


def of_alternators(case: Case) -> Unfused:
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
    return _measured(case, Unfused(starts, list(edges.values())))


def _carries(case: Case, edge: Edge, amps: float) -> bool:
    """Tell whether an edge is a wire that may carry this current for ever."""
    held = case.ampacity(case.circuit.wires[edge.owner]) if edge.role == "wire" else None
    return held is not None and held.value_a is not None and held.value_a >= amps


def _length(case: Case, edge: Edge) -> float:
    """Return the metres of a wire, 0 for anything else or where it is not known."""
    wire = case.circuit.wires[edge.owner] if edge.role == "wire" else None
    return (wire.length_m or 0.0) if wire else 0.0


def _measured(case: Case, unfused: Unfused) -> Unfused:
    """Set what is known of every node: metres of wire the shortest way, where that begins."""
    links: dict[int, list[tuple[int, Edge]]] = {}
    for edge in unfused.edges:
        links.setdefault(edge.a, []).append((edge.b, edge))
        links.setdefault(edge.b, []).append((edge.a, edge))
    todo = [(0.0, node, source, node, False) for node, source in unfused.starts.items()]
    heapq.heapify(todo)
    while todo:
        metres, node, source, start, bare = heapq.heappop(todo)
        if node in unfused.metres:
            continue
        unfused.metres[node], unfused.origin[node] = metres, source
        unfused.begins[node] = start
        if bare:
            unfused.bare.add(node)
        for other, edge in links.get(node, ()):
            if other not in unfused.metres:
                open_ = bare or not _kept(case, edge)
                heapq.heappush(todo, (metres + _length(case, edge), other, source, start, open_))
    return unfused


def _kept(case: Case, edge: Edge) -> bool:
    """Tell whether an edge is a wire in a sheath, or no wire at all."""
    return edge.role != "wire" or sheathed(case.circuit, case.circuit.wires[edge.owner])


def runs_of(case: Case, unfused: Unfused) -> Iterator[Run]:
    """Yield the runs that reach beyond 7 in from the source.

    They are cut apart at every node within it, so that each branch of a stud beside the battery
    is a run of its own.
    """
    by_node: dict[int, list[Edge]] = {}
    for edge in unfused.edges:
        for node in (edge.a, edge.b):
            if unfused.metres.get(node, 0.0) > BARE_M + SAME:
                by_node.setdefault(node, []).append(edge)
    done: set[tuple[str, str]] = set()
    for edge in unfused.edges:
        if edge.key in done or not _beyond(case, unfused, edge):
            continue
        run, todo = Run(source=unfused.origin[_near(unfused, edge)]), [edge]
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


def _near(unfused: Unfused, edge: Edge) -> int:
    """Return the end of an edge that is nearer to the source."""
    return min((edge.a, edge.b), key=lambda n: unfused.metres.get(n, math.inf))


def _far_m(case: Case, unfused: Unfused, edge: Edge) -> float:
    """Return the metres from the source to the far end of an edge."""
    return unfused.metres.get(_near(unfused, edge), 0.0) + _length(case, edge)


def _beyond(case: Case, unfused: Unfused, edge: Edge) -> bool:
    """Tell whether a wire reaches beyond the allowed distance."""
    return (
        edge.role == "wire"
        and _near(unfused, edge) in unfused.metres
        and _far_m(case, unfused, edge) > BARE_M + SAME
    )


def _take(case: Case, unfused: Unfused, edge: Edge, run: Run) -> None:
    """Add a wire to a run."""
    if edge.role == "wire":
        near = _near(unfused, edge)
        run.wires.append((unfused.metres.get(near, 0.0), edge.owner))
        run.far_m = max(run.far_m, _far_m(case, unfused, edge))
        run.sheathed &= _kept(case, edge) and near not in unfused.bare
        run.post &= unfused.begins.get(near) in unfused.posts and not unfused.metres[near]
