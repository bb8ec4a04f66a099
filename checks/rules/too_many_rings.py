"""More ring terminals on one stud than hold well.

What it finds
    Ground points, studs and battery posts with more wires than their limit (four unless stated).

Why it matters
    Each ring is a joint. A tall stack loosens, corrodes and warms, and one loose nut takes every
    circuit on it along.

Example
    Five grounds on one bolt behind the lamp.

How to fix
    Use a second stud, or a bus bar with a screw for each.

Limits
    Two wires crimped in one ring count as two, since the drawing does not say otherwise.

Reference
    At most four rings on one stud: small-craft practice (ABYC E-11 as quoted by installers).
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case
from checks.finding import ADVICE, Finding
from model.lookup import body_of

NAME = "too-many-rings"
FAMILY = "ground path"
MOST = 4.0
SOURCE = "at most four rings on one stud: small-craft practice (ABYC E-11, at second hand)"
_BASE = """
    G1 battery
    X1 ground
    W1 X1.g G1.- 10 0.3
    W2 X1.g - 1 1
    W3 X1.g - 1 1
    W4 X1.g - 1 1
"""
BAD = ((_BASE + "W5 X1.g - 1 1", ((ADVICE, ("X1", "W1", "W2", "W3", "W4", "W5")),)),)
GOOD = (_BASE,)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every crowded stud."""
    for part in case.circuit.parts.values():
        most = case.number(part, "rings", MOST)
        for terminal in body_of(case.circuit, part).terminals:
            wires = case.wires_at(part.id, terminal.node)
            if terminal.form not in ("ring", "stud") or len(wires) <= most:
                continue
            yield Finding(
                rule=NAME,
                severity=ADVICE,
                parts=(part.id,),
                wires=tuple(w.id for w in wires),
                says="{count:count} rings are on {part}.{terminal}; {most:count} is the usual "
                "limit for one stud.",
                values={"part": case.name(part.id), "terminal": terminal.key,
                        "count": float(len(wires)), "most": most},
                source=SOURCE,
            )  # fmt: skip
