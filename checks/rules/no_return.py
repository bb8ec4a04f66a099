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
from checks.wording import listed

NAME = "no-return"
FAMILY = "continuity"
MANY = (
    "{parts} have no way back: their ground sides are joined to each other, but in no position to "
    "the supply's minus. Join them to a ground point."
)
COMMON = (
    "{parts} has no way back: its common terminal is joined to the supply's minus in no position. "
    "Join it to a ground point."
)
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
_TWO = _FEED + "M2 fan current_a=4\nW6 S1.2 M2.+ 2.5 1\nW7 M1.- M2.- 2.5 1\n"
BAD = (
    (_FEED, ((FAULT, ("M1", "W3")),)),
    (_TWO, ((FAULT, ("M1", "M2", "W3", "W7", "W6")),)),
)
GOOD = (_FEED + "W5 M1.- X1.g 2.5 0.5", _TWO + "W5 M1.- X1.g 2.5 0.5")


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for loads and coils without a way back, those on one open side together."""
    groups: dict[frozenset[int], list[Use]] = {}
    for use in (*case.loads, *case.coils):
        ends = {use.a, use.b}
        if ends & case.could_ground or not ends & case.could_feed or case.through_load(use):
            continue
        if use.draws == "coil" and case.both_live(use).any():
            continue
        if not case.shell_joined and ends & case.shell_side:
            continue
        groups.setdefault(case.reach(ends - case.could_feed), []).append(use)
    for uses in groups.values():
        yield _finding(case, uses[0]) if len(uses) == 1 else _together(case, uses)


def _wires(case: Case, use: Use) -> list[str]:
    """Return the wires at the ends of a load."""
    return [w.id for n in (use.a_node, use.b_node) for w in case.wires_at(use.part.id, n)]


def _together(case: Case, uses: list[Use]) -> Finding:
    """Return the finding of loads whose other ends are joined and lead nowhere."""
    parts = tuple(dict.fromkeys(u.part.id for u in uses))
    wires = tuple(dict.fromkeys(w for u in uses for w in _wires(case, u)))
    return Finding(
        rule=NAME,
        severity=FAULT,
        parts=parts,
        wires=wires,
        says=MANY if len(parts) > 1 else COMMON,
        values={"parts": listed(case.name(p) for p in parts)},
        source="Kirchhoff's current law",
        path=tuple(("wires", w) for w in wires),
    )


def _finding(case: Case, use: Use) -> Finding:
    """Return the finding of one load."""
    wires = _wires(case, use)
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
