"""A load whose only way back leads through another load.

What it finds
    Loads and coils that no conductor can join to the supply's minus, but another load can.

Why it matters
    The two share the volts: both glow, turn slowly or do nothing, and the wrong one is suspected.

Example
    A lamp whose ground wire is missing lights dimly through the lamp beside it.

How to fix
    Give it a return of its own.

Limits
    A fixed resistor in the way is taken as meant.

Reference
    Kirchhoff's laws; the lost lamp ground is a taught example, common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case
from checks.finding import FAULT, Finding

NAME = "ground-only-through-load"
FAMILY = "ground path"
_BASE = """
    G1 battery
    F1 fuse-blade
    S1 switch
    S2 switch
    H1 lamp
    H2 lamp
    X1 ground
    W1 G1.+ F1.1 2.5 0.15
    W2 F1.2 S1.1 1 1
    W3 S1.2 H1.+ 1 1
    W4 X1.g G1.- 25 0.3
    W5 H1.- H2.- 1 0.3
    W6 F1.2 S2.1 1 1
    W7 S2.2 H2.+ 1 1
"""
BAD = (
    (
        """
        G1 battery
        F1 fuse-blade
        S1 switch
        H1 lamp
        H2 lamp
        X1 ground
        W1 G1.+ F1.1 2.5 0.15
        W2 F1.2 S1.1 1 1
        W3 S1.2 H1.+ 1 1
        W4 X1.g G1.- 25 0.3
        W5 H1.- H2.+ 1 0.3
        W6 H2.- X1.g 1 1
        """,
        ((FAULT, ("H1", "H2", "W5")),),
    ),
)
GOOD = (_BASE + "W8 H2.- X1.g 1 1",)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every load that returns only through another."""
    for use in (*case.loads, *case.coils):
        if {use.a, use.b} & case.could_ground or not {use.a, use.b} & case.could_feed:
            continue
        if use.draws == "coil" and case.both_live(use).any():
            continue  # both-ends-live says so
        through = case.through_load(use)
        if through:
            wires = [w.id for n in (use.a_node, use.b_node)
                     for w in case.wires_at(use.part.id, n)
                     if any(e.part in through for e in case.ends(w.id))]  # fmt: skip
            yield Finding(
                rule=NAME,
                severity=FAULT,
                parts=(use.part.id, *through),
                wires=tuple(dict.fromkeys(wires)),
                says="The only way back for {part} is through {others}: they share the volts. "
                "Give {part} a return of its own.",
                values={"part": use.name, "others": ", ".join(case.name(p) for p in through)},
                source="Kirchhoff's laws",
            )
