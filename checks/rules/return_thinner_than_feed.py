"""A return wire that is thinner than the feed of the same load.

What it finds
    Loads whose return has clearly less copper than their feed, at the load itself or further on;
    and returns that several loads share, at half of what they may carry or more, with more current
    in every mm² than any of those loads has in its feed.

Why it matters
    The same current flows in both. A thin return is the part that gets hot and loses the volts,
    and no fuse on the feed was chosen for it.

Example
    A fan fed with 6 mm² and grounded with 1.5 mm².

How to fix
    Make the return at least the size of the feed.

Limits
    At the load, wires from one place to one terminal count together, feeds from several places
    one by one, since they take turns. Further on, a return piece is compared with the thinnest
    piece of the feed as far as the fuse. Shared returns are judged by what runs through them
    together. What lifts the ground side above the limit is told by ground-lift alone. Motors that
    run both ways have no return of their own.

Reference
    Common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from checks.case import Case, Use
from checks.finding import ADVICE, Finding, Remedy
from checks.flows import Flow, Flows
from checks.lifts import LIMIT_V
from checks.wording import listed
from model.circuit import Wire
from model.edits import set_wire
from model.wiresize import Size

NAME = "return-thinner-than-feed"
FAMILY = "ground path"
SAME = 0.95
"""A return of this share of the feed still counts as the same size (AWG beside mm²)."""
HALF = 0.5
"""Share of what it may carry from which a shared return is looked at."""
LEAST_A = 0.05
LEAST_PART = 0.02
"""A load with less than this of a wire's current does not make it a shared one."""
UP = frozenset(("wire", "contact", "way", "diode"))
"""Roles of what a feed runs through from the fuse on."""
MORE = 1.25
"""Times a coil's current up to which a wire at it carries nothing but that, and what runs through
a resistor across it (an eighth of it: 680 Ω across 85 Ω)."""
_BASE = """
    G1 battery
    F1 fuse-blade rating_a=15
    S1 switch contact_a=40
    M1 fan current_a=6
    X1 ground
    W1 G1.+ F1.1 2.5 0.15
    W2 F1.2 S1.1 2.5 1
    W3 S1.2 M1.+ 2.5 1
    W4 X1.g G1.- 25 0.3
"""
BAD = ((_BASE + "W5 M1.- X1.g 1.5 0.3", ((ADVICE, ("M1", "W5")),)),)
GOOD = (
    _BASE + "W5 M1.- X1.g 2.5 0.3",
    _BASE + "W5 M1.- X1.g 2.5 0.3\nS2 switch contact_a=40\nW6 F1.2 S2.1 2.5 1\nW7 S2.2 M1.+ 2.5 1",
)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every load with a thin return, then for pieces further on."""
    told: set[str] = set()
    feeds: dict[int, float] = {}
    for use in case.loads:
        node = case.return_node(use)
        if node is None:
            continue
        back = case.wires_at(use.part.id, node[1])
        feed = case.wires_at(use.part.id, use.a_node if node[1] == use.b_node else use.b_node)
        feed = _thickest(case, use, feed)
        told |= {w.id for w in back}
        feeds[use.edge] = _copper(feed)
        if _copper(back) and _copper(back) < SAME * _copper(feed):
            yield _finding(case, use, feed, back)
    for index, wire in _further(case, told, max(feeds.values(), default=0.0)):
        yield from _judged(case, index, wire, feeds)


def _further(case: Case, told: set[str], most: float) -> Iterator[tuple[int, Wire]]:
    """Yield the loaded wires of the ground side beyond the loads, thinner than some feeds are."""
    back, coils = case.could_ground - case.could_feed, _coil_amps(case)
    for index, edge in case.network.of_role("wire"):
        wire, amps = case.circuit.wires[edge.owner], float(case.peaks.amps[index])
        if wire.size is None or wire.id in told or not {edge.a, edge.b} <= back:
            continue
        if amps <= MORE * max(coils.get(edge.a, 0.0), coils.get(edge.b, 0.0)):
            continue  # a coil's own return
        held = case.ampacity(wire)
        limit = held.value_a if held is not None else None
        half = limit is not None and amps >= HALF * limit
        if amps > LEAST_A and (half or wire.size.area_mm2 < SAME * most):
            yield index, wire


def _coil_amps(case: Case) -> dict[int, float]:
    """Return the greatest current of the coil at each node that a coil ends at."""
    return {n: float(case.peaks.amps[u.edge]) for u in case.coils for n in (u.a, u.b)}


def _judged(case: Case, index: int, wire: Wire, feeds: dict[int, float]) -> Iterator[Finding]:
    """Yield what is wrong with a return piece that one load has to itself, or several share."""
    row, amps = int(case.peaks.rows[index]), float(case.peaks.amps[index])
    flows = case.flows(row)
    flow = flows.through(index)
    if flow is None or wire.size is None or flows.volts[flow.high] > LIMIT_V:
        return
    through = {i: a for i, a in flows.loads_through(index).items() if a > LEAST_PART * amps}
    copper = {i: _feed_copper(case, flows, i) for i in through}
    if not through or not all(copper.values()) or not through.keys() <= feeds.keys():
        return
    here = wire.size.area_mm2 * _beside(flows, flow)
    if len(through) == 1:
        if here < SAME * min(copper.values()):
            yield _piece(case, wire, row, through, min(copper.values()))
        return
    held = case.ampacity(wire)
    limit = held.value_a if held is not None else None
    packed = max(abs(float(case.survey.amps[row, i])) / copper[i] for i in through)
    full = limit is not None and amps >= HALF * limit
    fair_a, feed = packed * here, sum(copper.values())
    if full and here < SAME * feed and SAME * amps / wire.size.area_mm2 > packed:
        yield _piece(case, wire, row, through, feed, fair_a)


def _feed_copper(case: Case, flows: Flows, load: int) -> float:
    """Return the mm² of a load's feed where it is thinnest, as far as the fuse; 0 if not known."""
    flow, least = flows.through(load), math.inf
    node = flow.high if flow is not None else None
    while node is not None:
        coming = flows.coming(node)
        most = max(coming, key=lambda f: f.amps, default=None)
        if most is None or most.edge.role not in UP:
            break
        beside = [case.circuit.wires[f.edge.owner] for f in coming
                  if f.edge.role == "wire" and f.high == most.high]  # fmt: skip
        if most.edge.role == "wire":
            least = min(least, _copper(beside))
        node = most.high
    return least if math.isfinite(least) else 0.0


def _beside(flows: Flows, flow: Flow) -> float:
    """Return how many times the current of a wire flows between its two ends."""
    same = [f.amps for f in flows.leaving(flow.high) if f.low == flow.low]
    return sum(same) / flow.amps


def _piece(
    case: Case,
    wire: Wire,
    row: int,
    through: dict[int, float],
    feed: float,
    fair_a: float = 0.0,
) -> Finding:
    """Return the finding of a return piece further on; `fair_a` is what a shared one may carry."""
    loads = tuple(dict.fromkeys(case.network.edges[i].owner for i in sorted(through)))
    shared = len(through) > 1
    alone = (
        "{wire} ({size}), through which {loads} returns, is thinner than the thinnest piece of "
        "its feed ({feed}): the same current flows in both, so make the return as thick."
    )
    several = (
        "{loads} return together through {wire} ({size}): {current:current} in it, where their "
        "feeds would have {fair:current} in as much copper at most. Make it as thick as they are "
        "together ({feed}), or give them returns of their own."
    )
    return Finding(
        rule=NAME,
        severity=ADVICE,
        parts=loads,
        wires=(wire.id,),
        says=several if shared else alone,
        values={
            "wire": case.wire_name(wire.id),
            "size": wire.size.text() if wire.size else "",
            "loads": listed(case.name(p) for p in loads),
            "feed": Size(mm2=round(feed, 2)).text(),
            "current": sum(through.values()),
            "fair": fair_a,
        },
        path=(*(("parts", p) for p in loads), ("wires", wire.id)),
        setting=case.survey.settings[row],
    )


def _thickest(case: Case, use: Use, feed: list[Wire]) -> list[Wire]:
    """Return the feed with the most copper: wires from one place count together."""
    places: dict[int, list[Wire]] = {}
    for wire in feed:
        for end in case.ends(wire.id):
            if end.part != use.part.id:
                index = case.network.node_of(*case.node(end))
                places.setdefault(-1 if index is None else index, []).append(wire)
    return max(places.values(), key=_copper, default=feed)


def _copper(wires: list[Wire]) -> float:
    """Return the mm² of wires together, 0 where one is not known."""
    if any(w.size is None for w in wires):
        return 0.0
    return sum(w.size.area_mm2 for w in wires if w.size is not None)


def _finding(case: Case, use: Use, feed: list[Wire], back: list[Wire]) -> Finding:
    """Return the finding of one load, with the cure where there is one wire on each side."""
    sizes = {"feed": " + ".join(w.size.text() for w in feed if w.size),
             "back": " + ".join(w.size.text() for w in back if w.size)}  # fmt: skip
    return Finding(
        rule=NAME,
        severity=ADVICE,
        parts=(use.part.id,),
        wires=tuple(w.id for w in back),
        says="{part} is fed with {feed} and returns through {back}: the same current flows in "
        "both, so make the return as thick.",
        values={"part": use.name, **sizes},
        path=tuple(("wires", w.id) for w in (*feed, *back)),
        remedy=_remedy(case, feed, back),
    )


def _remedy(case: Case, feed: list[Wire], back: list[Wire]) -> Remedy | None:
    """Return the change that gives a single return the size of a single feed."""
    if len(feed) != 1 or len(back) != 1 or feed[0].size is None:
        return None
    text = f"Make {case.wire_name(back[0].id)} {feed[0].size.text()}"
    return Remedy(text, set_wire(case.circuit, replace(back[0], size=feed[0].size), text))
