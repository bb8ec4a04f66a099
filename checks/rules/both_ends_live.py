"""A coil whose two ends are live together and never apart.

What it finds
    Coils that never pull in and of which both ends are joined to the supply's plus in some
    position.

Why it matters
    A coil needs a difference. With 12 V on both ends the relay is as dead as with none, and a
    meter from either end to ground reads "good".

Example
    A relay with 86 on the switch and 85 on the permanent feed.

How to fix
    Move one end to the ground side: 85 to a ground point, or 86 to the switched feed.

Limits
    A coil that has no way back at all is told by no-return.

Reference
    Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case
from checks.finding import FAULT, Finding

NAME = "both-ends-live"
FAMILY = "continuity"
EVERY_STATE = True
_COIL = """
    G1 battery
    F1 fuse-blade rating_a=5
    S1 switch
    K1 relay-make suppression=resistor
    X1 ground
    W1 G1.+ F1.1 1 0.15
    W2 F1.2 S1.1 1 1
    W3 S1.2 K1.86 1 1
    W4 X1.g G1.- 10 0.3
"""
BAD = ((_COIL + "W5 K1.85 F1.2 1 1", ((FAULT, ("K1", "W3", "W5")),)),)
GOOD = (_COIL + "W5 K1.85 X1.g 1 1",)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every coil with both ends live."""
    for use in case.dead_coil_uses:
        live = case.both_live(use)
        if not live.any():
            continue
        state = case.survey.states[int(live.argmax())]
        wires = [w.id for n in (use.a_node, use.b_node) for w in case.wires_at(use.part.id, n)]
        yield Finding(
            rule=NAME,
            severity=FAULT,
            parts=(use.part.id,),
            wires=tuple(dict.fromkeys(wires)),
            says="The coil of {part} has the supply on both ends, {va:voltage} at {a} and "
            "{vb:voltage} at {b}: it never pulls in.",
            values={
                "part": use.name,
                "a": use.a_node,
                "b": use.b_node,
                "va": float(state.solved.volts[use.a]),
                "vb": float(state.solved.volts[use.b]),
            },
            path=tuple(("wires", w) for w in dict.fromkeys(wires)),
            setting=state.setting,
        )
