"""More ring terminals on one stud than hold well.

What it finds
    Ground points, studs and battery posts with more wires than their limit (four unless stated).

Why it matters
    Each ring is a joint. A tall stack loosens, corrodes and warms, and one loose nut takes every
    circuit on it along.

Example
    Five grounds on one bolt behind the lamp.

How to fix
    Use a second stud, or a bus bar with a screw for each. The ring of the thickest wire belongs
    lowest, on the metal itself, so that its current crosses no other ring.

Limits
    Two wires crimped in one ring count as two, since the drawing does not say otherwise. In which
    order they lie is not drawn; the order told is that of their sizes.

Reference
    At most four rings on one stud, the largest lowest: small-craft practice (ABYC E-11 as quoted
    by installers).
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case
from checks.finding import ADVICE, Finding
from checks.wording import listed
from model.circuit import Wire
from model.kinds.body import Terminal
from model.lookup import body_of

NAME = "too-many-rings"
FAMILY = "ground path"
MOST = 4.0
SOURCE = "at most four rings on one stud: small-craft practice (ABYC E-11, at second hand)"
_LOWEST = " Lowest belongs the ring of {lowest}, the thickest wire there."
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
    for part_id, terminal in case.network.frame.fact(NAME, lambda: _shared(case)):
        part = case.circuit.parts[part_id]
        most = case.number(part, "rings", MOST)
        wires = case.wires_at(part_id, terminal.node)
        if len(wires) > most:
            lowest = _thickest(case, wires)
            yield Finding(
                rule=NAME,
                severity=ADVICE,
                parts=(part.id,),
                wires=tuple(w.id for w in wires),
                says="{count:count} rings are on {part}.{terminal}; {most:count} is the usual "
                "limit for one stud." + (_LOWEST if lowest else ""),
                values={"part": case.name(part.id), "terminal": terminal.key,
                        "count": float(len(wires)), "most": most, "lowest": listed(lowest)},
                source=SOURCE,
            )  # fmt: skip


def _shared(case: Case) -> list[tuple[str, Terminal]]:
    """Return the studs with more than one ring, by part."""
    return [
        (part.id, terminal)
        for part in case.circuit.parts.values()
        for terminal in body_of(case.circuit, part).terminals
        if terminal.form in ("ring", "stud") and len(case.wires_at(part.id, terminal.node)) > 1
    ]


def _thickest(case: Case, wires: list[Wire]) -> list[str]:
    """Return the wires clearly thicker than all others, none where sizes are alike or missing."""
    areas = [w.size.area_mm2 for w in wires if w.size is not None]
    if len(areas) < len(wires) or min(areas) == max(areas):
        return []
    return [case.wire_name(w.id) for w in wires if w.size and w.size.area_mm2 == max(areas)]
