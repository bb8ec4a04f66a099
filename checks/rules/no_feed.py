"""A load or coil that nothing can join to the supply's plus.

What it finds
    Loads and coils that have a way back but are joined, in no position, to the plus of any
    battery or alternator; coils of a relay in use, and loads wired at both ends, that are joined
    to neither side. Where there is no supply at all, that is said once.

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
from checks.wording import listed
from model.circuit import Wire

NAME = "no-feed"
FAMILY = "continuity"
_REST = """
    G1 battery
    M1 pump
    X1 ground
    W4 X1.g G1.- 10 0.3
    W5 M1.- X1.g 2.5 0.5
"""
_RELAY = """
    G1 battery
    F1 fuse-blade
    M1 fan current_a=8
    K1 relay-resistor
    X1 ground
    W1 G1.+ F1.1 2.5 0.15
    W2 F1.2 K1.30 2.5 1
    W3 K1.87 M1.+ 2.5 1
    W4 X1.g G1.- 10 0.3
    W5 M1.- X1.g 2.5 0.5
"""
BAD = (
    (_REST, ((FAULT, ("M1", "W5")),)),
    (_RELAY, ((FAULT, ("K1",)),)),
    ("H1 lamp\nX1 ground\nW1 H1.- X1.g 1 1", ((FAULT, ("H1",)),)),
)
GOOD = (
    _RELAY
    + """
    S1 switch
    W6 F1.2 S1.1 1 1
    W7 S1.2 K1.86 1 1
    W8 K1.85 X1.g 1 1
    """,
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
    """Yield a finding for every load and coil without a feed, or one where nothing feeds."""
    if not case.sources:
        users = dict.fromkeys(u.part.id for u in (*case.loads, *case.coils))
        wired = tuple(p for p in users if _wired(case.wires_of(p)))
        if wired:
            yield _no_supply(case, wired)
        return
    for use in (*case.loads, *case.coils):
        ends = {use.a, use.b}
        if ends & case.could_feed or case.fed_through(use):
            continue
        if ends & case.could_ground or (not case.shell_joined and ends & case.shell_side):
            yield _finding(case, use)
        elif _in_use(case, use) and not case.through_load(use):
            yield _neither(case, use)


def _in_use(case: Case, use: Use) -> bool:
    """Tell whether a relay is wired anywhere, or a load at both its ends."""
    if use.draws == "coil":
        return _wired(case.wires_of(use.part.id))
    return all(_wired(case.wires_at(use.part.id, n)) for n in (use.a_node, use.b_node))


def _wired(wires: list[Wire]) -> bool:
    """Tell whether one of these wires leads from a part to another one."""
    return any(None not in (w.first, w.second) for w in wires)


def _no_supply(case: Case, parts: tuple[str, ...]) -> Finding:
    """Return the finding of a circuit without a source."""
    return Finding(
        rule=NAME,
        severity=FAULT,
        parts=parts,
        says="There is no battery or alternator in this circuit: nothing feeds {parts}.",
        values={"parts": listed(case.name(p) for p in parts)},
        source="Kirchhoff's laws",
    )


def _neither(case: Case, use: Use) -> Finding:
    """Return the finding of a coil or load that is joined to neither side."""
    what = "The coil of {part}" if use.draws == "coil" else "{part}"
    return Finding(
        rule=NAME,
        severity=FAULT,
        parts=(use.part.id,),
        says=what + " has neither a feed nor a way back: {a} and {b} lead to no side of the "
        "supply.",
        values={"part": use.name, "a": use.a_node, "b": use.b_node},
        source="Kirchhoff's laws",
    )


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
