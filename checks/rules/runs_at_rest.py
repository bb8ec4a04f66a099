"""A load that runs with every control at rest against its duty.

What it finds
    Loads that should be off at rest and get more than 8 % of the supply there.

Why it matters
    It drains the battery, or moves when nobody asked it to.

Example
    A pump on 87a instead of 87: it runs until the switch is put on.

How to fix
    Use the make contact (87), or state another duty if it is meant to run.

Limits
    "At rest" is the rest position that every control names. A load that is on in every state is
    told by always-on, one whose current holds a relay by held-by-leak.

Reference
    The duty is what the person stated, or the kind's default. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case
from checks.finding import FAULT, Finding
from checks.leaks import leaks_by

NAME = "runs-at-rest"
FAMILY = "logic"
_BASE = """
    G1 battery
    F1 fuse-blade
    F2 fuse-blade rating_a=5
    S1 switch
    K1 relay-changeover suppression=resistor
    M1 pump
    X1 ground
    W1 G1.+ F1.1 2.5 0.15
    W2 F1.2 K1.30 2.5 1
    W4 X1.g G1.- 10 0.3
    W5 M1.- X1.g 2.5 0.5
    W6 G1.+ F2.1 1 0.15
    W7 F2.2 S1.1 1 1
    W8 S1.2 K1.86 1 1
    W9 K1.85 X1.g 1 1
"""
BAD = ((_BASE + "W3 K1.87a M1.+ 2.5 1", ((FAULT, ("M1",)),)),)
GOOD = (_BASE + "W3 K1.87 M1.+ 2.5 1",)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every load that runs at rest against its duty."""
    for use in case.loads:
        if not case.runs(use)[0] or not case.duty(use).off_at_rest or case.on(use).all():
            continue
        if any(k.stays for k in leaks_by(case, use)) and not {use.a, use.b} & case.could_ground:
            continue  # held-by-leak says that its current goes through a coil
        yield Finding(
            rule=NAME,
            severity=FAULT,
            parts=(use.part.id,),
            says="{part} runs with every control at rest: it gets {volts:voltage} and draws "
            "{amps:current}. Its duty is to be off then.",
            values={
                "part": use.name,
                "volts": abs(case.rest.across(use.part.id, use.element)),
                "amps": abs(case.rest.current(use.part.id, use.element)),
            },
            setting=case.rest.setting,
        )
