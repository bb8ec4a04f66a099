"""Wires whose size or length is not known.

What it finds
    Wires in the circuit without a size or without a length.

Why it matters
    Drops, ampacities and fuses depend on them. The program goes on with 1 mm² and 1 m and says
    so; its numbers are only as good as that.

Example
    A harness entered as found, with the lengths left for later.

How to fix
    Enter size and length; measured is better than assumed.

Limits
    One finding for all of them.

Reference
    None needed: data is missing.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case
from checks.finding import UNKNOWN, Finding

NAME = "size-or-length-missing"
FAMILY = "record"
_BASE = """
    G1 battery
    F1 fuse-blade
    M1 module
    X1 ground
    W1 G1.+ F1.1 2.5 0.15
    W2 F1.2 M1.+ 2.5 1
    W3 M1.- X1.g 2.5 0.5
"""
BAD = ((_BASE + "W4 X1.g G1.- ? 0.3", ((UNKNOWN, ("W4",)),)),)
GOOD = (_BASE + "W4 X1.g G1.- 10 0.3",)


def find(case: Case) -> Iterator[Finding]:
    """Yield one finding that lists every wire without a size or a length."""
    wires = [
        w
        for w in case.circuit.wires.values()
        if w.first and w.second and (w.size is None or w.length_m is None)
    ]
    if not wires:
        return
    sizes = sum(w.size is None for w in wires)
    lengths = sum(w.length_m is None for w in wires)
    yield Finding(
        rule=NAME,
        severity=UNKNOWN,
        wires=tuple(w.id for w in wires),
        says="{sizes:count} of {all:count} wires have no size and {lengths:count} no length: "
        "1 mm² and 1 m are assumed for them, and every number that rests on them is a guess.",
        values={
            "sizes": float(sizes),
            "lengths": float(lengths),
            "all": float(len(case.circuit.wires)),
        },
        source="data missing",
    )
