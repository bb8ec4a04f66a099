"""A part that is not in the circuit.

What it finds
    Parts without any wire, and fuses, switches, diodes and ground points of which only one side
    is joined.

Why it matters
    It is either forgotten or in the wrong place; a fuse with nothing behind it protects nothing.

Example
    A fuse whose output was never wired.

How to fix
    Wire it, or delete it.

Limits
    Spare terminals of relays, connectors and multi-position switches are normal and not told.

Reference
    Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case
from checks.finding import ADVICE, Finding
from model.circuit import Part
from model.lookup import body_of

NAME = "loose-part"
FAMILY = "continuity"
_BASE = """
    G1 battery
    F1 fuse-blade
    M1 module
    X1 ground
    W1 G1.+ F1.1 2.5 0.15
    W2 F1.2 M1.+ 2.5 1
    W3 M1.- X1.g 2.5 0.5
    W4 X1.g G1.- 10 0.3
"""
BAD = (
    (_BASE + "H1 lamp", ((ADVICE, ("H1",)),)),
    (_BASE + "F2 fuse-blade rating_a=5\nW5 G1.+ F2.1 1 0.15", ((ADVICE, ("F2",)),)),
)
GOOD = (_BASE,)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every loose part."""
    for part in case.circuit.parts.values():
        nodes = [t.node for t in body_of(case.circuit, part).terminals]
        wired = [n for n in nodes if case.wires_at(part.id, n)]
        if part.host or part.id in case.hosts:
            continue
        if not wired:
            yield _finding(part, case, "{part} is not wired to anything.", "")
        elif len(nodes) == 2 and len(wired) == 1 and not case.is_load(part.id):
            missing = next(n for n in nodes if n not in wired)
            yield _finding(part, case, "Nothing is joined to {part}.{end}.", missing)


def _finding(part: Part, case: Case, says: str, end: str) -> Finding:
    """Return the finding of one part."""
    return Finding(
        rule=NAME,
        severity=ADVICE,
        parts=(part.id,),
        says=says,
        values={"part": case.name(part.id), "end": end},
    )
