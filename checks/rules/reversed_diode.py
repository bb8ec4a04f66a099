"""A diode the wrong way round.

What it finds
    Diodes across a coil or a load that conduct when it is fed (a short), diodes in line that
    only ever block, and LED lamps fed the wrong way round only.

Why it matters
    Reversed across a coil a diode shorts the feed: the fuse blows the instant the switch closes,
    or the electronic driver dies. Reversed in line, its branch is dead.

Example
    A relay with a built-in diode wired with 85 to the switch: 86 must be +.

How to fix
    Turn the diode round; on a relay swap 85 and 86.

Limits
    A diode in line is told only where it blocks at full voltage in some state and conducts in
    none. One that is fed by a relay which never pulls in is left until that is cured.

Reference
    DIN 72552: 86 is the feed side of the coil. That a diode relay must have 86 at + is common
    practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checks.case import Case, Use
from checks.finding import DANGER, FAULT, Finding
from model.network import Edge

NAME = "reversed-diode"
FAMILY = "logic"
EVERY_STATE = True
CONDUCTS_A = 1e-4
_BASE = """
    G1 battery
    F1 fuse-blade rating_a=5
    S1 switch
    K1 relay-diode
    X1 ground
    W1 G1.+ F1.1 1 0.15
    W2 F1.2 S1.1 1 1
    W4 X1.g G1.- 10 0.3
"""
_LINE = """
    G1 battery
    F1 fuse-blade rating_a=5
    S1 switch
    V1 diode
    K1 relay-resistor
    X1 ground
    W1 G1.+ F1.1 1 0.15
    W2 F1.2 S1.1 1 1
    W3 X1.g G1.- 10 0.3
    W4 K1.85 X1.g 1 0.3
"""
_LED = """
    G1 battery
    F1 fuse-blade rating_a=5
    S1 switch
    E1 lamp-led
    X1 ground
    W1 G1.+ F1.1 1 0.15
    W2 F1.2 S1.1 1 1
    W3 X1.g G1.- 10 0.3
"""
BAD = (
    (_BASE + "W3 S1.2 K1.85 1 1\nW5 K1.86 X1.g 1 1", ((DANGER, ("K1",)),)),
    (_LINE + "W5 S1.2 V1.K 1 1\nW6 V1.A K1.86 1 1", ((FAULT, ("V1",)),)),
    (_LED + "W5 S1.2 E1.- 1 1\nW6 E1.+ X1.g 1 1", ((FAULT, ("E1",)),)),
)
GOOD = (
    _BASE + "W3 S1.2 K1.86 1 1\nW5 K1.85 X1.g 1 1",
    _LINE + "W5 S1.2 V1.A 1 1\nW6 V1.K K1.86 1 1",
    _LED + "W5 S1.2 E1.+ 1 1\nW6 E1.- X1.g 1 1",
)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every reversed diode."""
    across = {frozenset((u.a, u.b)) for u in (*case.loads, *case.coils)}
    for use in case.loads:
        if case.backwards(use) and not case.plus_on_shell:
            yield _dark(case, use)
    for index, edge in case.network.of_role("diode"):
        amps = case.survey.amps[:, index]
        volts = case.survey.across(index)
        if frozenset((edge.a, edge.b)) in across:
            if index in case.shorting_diodes:
                yield _short(case, edge, int(amps.argmax()), float(amps.max()))
        elif amps.max() < CONDUCTS_A and case.live_volts(float(-volts.min())):
            if case.waiting.waits_at(edge.a):
                continue
            yield _blocks(case, edge, int(np.argmin(volts)), float(-volts.min()))


def _short(case: Case, edge: Edge, index: int, amps: float) -> Finding:
    """Return the finding of a diode that shorts the feed of what it lies across."""
    return Finding(
        rule=NAME,
        severity=DANGER,
        parts=(edge.owner,),
        says="The diode of {part} is the wrong way round for its feed and shorts it: "
        "{amps:current} would flow until a fuse opens. On a relay with a diode 86 must be +.",
        values={"part": case.name(edge.owner), "amps": amps},
        source="DIN 72552 (86 is the feed side); common practice, no source",
        setting=case.survey.settings[index],
    )


def _blocks(case: Case, edge: Edge, index: int, volts: float) -> Finding:
    """Return the finding of a diode that only ever blocks."""
    return Finding(
        rule=NAME,
        severity=FAULT,
        parts=(edge.owner,),
        says="{part} only ever blocks, {volts:voltage} the wrong way: nothing flows through it in "
        "any state. It seems reversed; the stripe (K) points where the current shall go.",
        values={"part": case.name(edge.owner), "volts": volts},
        setting=case.survey.settings[index],
    )


def _dark(case: Case, use: Use) -> Finding:
    """Return the finding of an LED lamp that is fed the wrong way round."""
    volts = case.survey.across(use.edge)
    index = int(volts.argmin())
    return Finding(
        rule=NAME,
        severity=FAULT,
        parts=(use.part.id,),
        says="{part} lights one way round only and is fed the other way: {volts:voltage} from {b} "
        "to {a}. Swap its two wires.",
        values={"part": use.name, "volts": -float(volts[index]), "a": use.a_node, "b": use.b_node},
        setting=case.survey.settings[index],
    )
