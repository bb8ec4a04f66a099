"""A load whose only way back leads through another load.

What it finds
    Loads and coils that no conductor can join to the supply's minus, but another load can. Where
    that is the coil of a relay which so never pulls in, what it gets with the filament before it
    hot and cold.

Why it matters
    The two share the volts: both glow, turn slowly or do nothing, and the wrong one is suspected.

Example
    A lamp whose ground wire is missing lights dimly through the lamp beside it.

How to fix
    Give it a return of its own.

Limits
    A fixed resistor in the way is taken as meant. A load that holds a relay in by its way back
    through the coil is told by held-by-leak.

Reference
    Kirchhoff's laws; the lost lamp ground is a taught example, common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checks.case import Case, Use
from checks.finding import FAULT, Datum, Finding
from checks.leaks import filament_volts, leaks_by

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
        if through and not _holds(case, use, through):
            yield _finding(case, use, through)


def _holds(case: Case, use: Use, through: tuple[str, ...]) -> bool:
    """Tell whether the load so holds a relay, which held-by-leak says, and every way is that."""
    coils = {u.part.id for u in case.coils}
    if use.draws == "coil" or not set(through) <= coils:
        return False
    return set(through) <= {k.use.part.id for k in leaks_by(case, use)}


def _finding(case: Case, use: Use, through: tuple[str, ...]) -> Finding:
    """Return the finding of one load."""
    wires = [w.id for n in (use.a_node, use.b_node)
             for w in case.wires_at(use.part.id, n)
             if any(e.part in through for e in case.ends(w.id))]  # fmt: skip
    values: dict[str, Datum] = {
        "part": use.name,
        "others": ", ".join(case.name(p) for p in through),
    }
    says = "The only way back for {part} is through {others}: they share the volts."
    dead = next((u for u in case.dead_coil_uses if u.part.id in through), None)
    if dead is not None and use.draws != "coil":
        more, numbers = _coil(case, dead, use)
        says, values = says + more, values | numbers
    return Finding(
        rule=NAME,
        severity=FAULT,
        parts=(use.part.id, *through),
        wires=tuple(dict.fromkeys(wires)),
        says=says + " Give {part} a return of its own.",
        values=values,
        source="Kirchhoff's laws",
    )


def _coil(case: Case, coil: Use, through: Use) -> tuple[str, dict[str, Datum]]:
    """Return what a coil gets that is fed through a load, its filament hot and cold."""
    volts = np.abs(case.survey.across(coil.edge))
    row = int(volts.argmax())
    hot, cold = filament_volts(case, coil, row, (case.network.edges[through.edge],))
    values: dict[str, Datum] = {
        "coil": coil.name,
        "gets": float(volts[row]),
        "pulls": case.pull_in_v(coil),
        "hot": hot or 0.0,
        "cold": cold or 0.0,
    }
    says = " {coil} gets {gets:voltage} so and needs {pulls:voltage} to pull in"
    if hot is not None and cold is not None:
        says += ": with the filament hot {hot:voltage}, cold {cold:voltage}" + (
            ", so that at best it clicks when it is switched on"
            if cold >= case.pull_in_v(coil)
            else ""
        )
    return says + ".", values
