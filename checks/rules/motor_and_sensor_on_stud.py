"""A motor and a sensor that share a ground point.

What it finds
    Ground points on which a motor's return and the return of electronics or of a sensing switch
    end together.

Why it matters
    The motor lifts the stud each time it starts, and the sensor measures against that stud.

Example
    A fan and the engine computer grounded on one bolt.

How to fix
    Give electronics and sensors a ground point of their own.

Limits
    Looks at wires that go straight from the load to the ground point, or through one splice.

Reference
    Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case
from checks.finding import ADVICE, Finding

NAME = "motor-and-sensor-on-stud"
FAMILY = "ground path"
MOTORS = frozenset(("motor", "starter"))
SENSORS = frozenset(("pressure-switch", "temperature-switch", "level-switch"))
_BASE = """
    G1 battery
    F1 fuse-blade
    S1 switch
    M1 fan current_a=6
    A1 module
    X1 ground
    X2 ground
    W1 G1.+ F1.1 2.5 0.15
    W2 F1.2 S1.1 2.5 1
    W3 S1.2 M1.+ 2.5 1
    W4 X1.g G1.- 25 0.3
    W5 M1.- X2.g 2.5 0.3
    W6 F1.2 A1.+ 1 1
"""
BAD = ((_BASE + "W7 A1.- X2.g 1 1", ((ADVICE, ("X2", "M1", "A1", "W5", "W7")),)),)
GOOD = (_BASE + "W7 A1.- X1.g 1 1",)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every ground point that a motor and a sensor share."""
    motors = {u.part.id for u in case.loads if u.draws in MOTORS}
    sensors = {u.part.id for u in case.loads if u.draws == "electronic"} | {
        p.id for p in case.circuit.parts.values() if p.kind in SENSORS
    }
    for _, edge in case.network.of_role("ground"):
        here = case.neighbours(edge.owner, "g")
        moving = [(p, w) for p, w in here if p in motors]
        sensing = [(p, w) for p, w in here if p in sensors]
        if moving and sensing:
            yield _finding(case, edge.owner, moving, sensing)


def _finding(
    case: Case, stud: str, moving: list[tuple[str, str]], sensing: list[tuple[str, str]]
) -> Finding:
    """Return the finding of one ground point."""
    both = moving + sensing
    return Finding(
        rule=NAME,
        severity=ADVICE,
        parts=(stud, *(p for p, _ in both)),
        wires=tuple(w for _, w in both),
        says="{motors} and {sensors} share the ground point {stud}: it lifts when the motor "
        "starts. Ground {sensors} elsewhere.",
        values={
            "stud": case.name(stud),
            "motors": ", ".join(case.name(p) for p, _ in moving),
            "sensors": ", ".join(case.name(p) for p, _ in sensing),
        },
        path=tuple(("wires", w) for _, w in both),
    )
