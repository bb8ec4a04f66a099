"""Two parts with one reference, or two wires with one number.

What it finds
    References and wire numbers that are used more than once.

Why it matters
    On paper, at the bench and on the command line nobody can tell the two apart.

Example
    Two relays called K1 after a copy.

How to fix
    Rename one; every link stays as it is.

Limits
    Parts without a reference and wires without a number are left alone.

Reference
    IEC 81346 asks for references that identify one object.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from checks.case import Case
from checks.finding import ADVICE, Finding

NAME = "same-name-twice"
FAMILY = "record"
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
    (
        _BASE + "F2 fuse-blade ref=F1\nW5 F1.2 F2.1 2.5 1\nW6 F2.2 M1.+ 2.5 1",
        ((ADVICE, ("F1", "F2")),),
    ),
)
GOOD = (_BASE,)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every name that is used more than once."""
    parts: dict[str, list[str]] = defaultdict(list)
    wires: dict[str, list[str]] = defaultdict(list)
    for part in case.circuit.parts.values():
        parts[part.reference].append(part.id)
    for wire in case.circuit.wires.values():
        wires[wire.number].append(wire.id)
    for name, ids in parts.items():
        if name and len(ids) > 1:
            yield _finding(name, tuple(ids), ())
    for name, ids in wires.items():
        if name and len(ids) > 1:
            yield _finding(name, (), tuple(ids))


def _finding(name: str, parts: tuple[str, ...], wires: tuple[str, ...]) -> Finding:
    """Return the finding of one name."""
    return Finding(
        rule=NAME,
        severity=ADVICE,
        parts=parts,
        wires=wires,
        says="{count:count} {what} are called {name}: rename all but one.",
        values={
            "count": float(len(parts or wires)),
            "what": "parts" if parts else "wires",
            "name": name,
        },
        source="IEC 81346",
    )
