"""A load or coil that nothing can join to the supply's minus.

What it finds
    Loads and coils of which neither end is joined, in any position, to the minus of the supply by
    wires, contacts, joints and ground points.

Why it matters
    Current needs a way back. Without one the load stays dead although its plus reads full volts,
    and so does its other end: the commonest hook-up error.

Example
    A pump with its ground wire missing: both terminals read 12.6 V, the pump is still.

How to fix
    Join the ground side to a ground point, and that ground point to the supply.

Limits
    A way back only through another load is told by ground-only-through-load. Where the whole
    shell is not joined to the supply, ground-not-joined says so once for all loads. A coil with
    the plus on both ends is told by both-ends-live.

Reference
    Kirchhoff's current law. The reading (battery volts on both ends) is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case, Use
from checks.finding import FAULT, Finding

NAME = "no-return"
FAMILY = "continuity"
_FEED = """
    G1 battery
    F1 fuse-blade
    S1 switch
    M1 pump
    X1 ground
    W1 G1.+ F1.1 2.5 0.15
    W2 F1.2 S1.1 2.5 1
    W3 S1.2 M1.+ 2.5 1
    W4 X1.g G1.- 10 0.3
"""
BAD = ((_FEED, ((FAULT, ("M1", "W3")),)),)
GOOD = (_FEED + "W5 M1.- X1.g 2.5 0.5",)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every load and coil without a way back."""
    for use in (*case.loads, *case.coils):
        ends = {use.a, use.b}
        if ends & case.could_ground or not ends & case.could_feed or case.through_load(use):
            continue
        if use.draws == "coil" and case.both_live(use).any():
            continue
        if not case.shell_joined and ends & case.shell_side:
            continue
        yield _finding(case, use)


def _finding(case: Case, use: Use) -> Finding:
    """Return the finding of one load."""
    wires = [w.id for n in (use.a_node, use.b_node) for w in case.wires_at(use.part.id, n)]
    return Finding(
        rule=NAME,
        severity=FAULT,
        parts=(use.part.id,),
        wires=tuple(dict.fromkeys(wires)),
        says="{part} has no way back: neither {a} nor {b} is joined to the supply's minus in any "
        "position. Join its ground side to a ground point.",
        values={"part": use.name, "a": use.a_node, "b": use.b_node},
        source="Kirchhoff's current law",
        path=tuple(("wires", w) for w in dict.fromkeys(wires)),
    )
