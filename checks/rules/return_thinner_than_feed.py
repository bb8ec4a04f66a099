"""A return wire that is thinner than the feed of the same load.

What it finds
    Loads whose return has clearly less copper than their feed.

Why it matters
    The same current flows in both. A thin return is the part that gets hot and loses the volts,
    and no fuse on the feed was chosen for it.

Example
    A fan fed with 6 mm² and grounded with 1.5 mm².

How to fix
    Make the return at least the size of the feed.

Limits
    Compares the wires at the load's own two terminals; wires from one place to one terminal count
    together, feeds from several places one by one, since they take turns. Motors that run both
    ways have no return of their own.

Reference
    Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from checks.case import Case, Use
from checks.finding import ADVICE, Finding, Remedy
from model.circuit import Wire
from model.edits import set_wire

NAME = "return-thinner-than-feed"
FAMILY = "ground path"
SAME = 0.95
"""A return of this share of the feed still counts as the same size (AWG beside mm²)."""
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
    """Yield a finding for every load with a thin return."""
    for use in case.loads:
        node = case.return_node(use)
        if node is None:
            continue
        back = case.wires_at(use.part.id, node[1])
        feed = case.wires_at(use.part.id, use.a_node if node[1] == use.b_node else use.b_node)
        feed = _thickest(case, use, feed)
        if _copper(back) and _copper(back) < SAME * _copper(feed):
            yield _finding(case, use, feed, back)


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
