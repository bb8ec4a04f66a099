"""A load or coil that nothing can join to the supply's plus.

What it finds
    Loads and coils that have a way back but are joined, in no position, to the plus of any
    battery or alternator.

Why it matters
    The load can never run, whatever is switched.

Example
    A pump grounded at the tank whose feed wire was never drawn.

How to fix
    Bring it a feed: from a fuse, through the switch or the relay contact that shall run it.

Limits
    It looks at what could be joined in any position; a load whose switches never agree is told by
    never-on.

Reference
    Kirchhoff's laws: no source in the loop, no current.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case, Use
from checks.finding import FAULT, Finding

NAME = "no-feed"
FAMILY = "continuity"
_REST = """
    G1 battery
    M1 pump
    X1 ground
    W4 X1.g G1.- 10 0.3
    W5 M1.- X1.g 2.5 0.5
"""
BAD = ((_REST, ((FAULT, ("M1", "W5")),)),)
GOOD = (
    _REST
    + """
    F1 fuse-blade
    S1 switch
    W1 G1.+ F1.1 2.5 0.15
    W2 F1.2 S1.1 2.5 1
    W3 S1.2 M1.+ 2.5 1
    """,
)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every load and coil without a feed."""
    for use in (*case.loads, *case.coils):
        ends = {use.a, use.b}
        grounded = ends & case.could_ground or (not case.shell_joined and ends & case.shell_side)
        if grounded and not ends & case.could_feed and not case.fed_through(use):
            yield _finding(case, use)


def _finding(case: Case, use: Use) -> Finding:
    """Return the finding of one load."""
    wires = [w.id for n in (use.a_node, use.b_node) for w in case.wires_at(use.part.id, n)]
    return Finding(
        rule=NAME,
        severity=FAULT,
        parts=(use.part.id,),
        wires=tuple(dict.fromkeys(wires)),
        says="{part} has no feed: in no position is {a} or {b} joined to the plus of a supply.",
        values={"part": use.name, "a": use.a_node, "b": use.b_node},
        source="Kirchhoff's laws",
        path=tuple(("wires", w) for w in dict.fromkeys(wires)),
    )
