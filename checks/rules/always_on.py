"""A load that nothing can switch off.

What it finds
    Loads that should be off at rest and are on in every state there is.

Why it matters
    It runs until the battery is flat, and the first time somebody wants it off is an emergency.

Example
    A pump fed straight from its fuse with no switch or relay between.

How to fix
    Put a switch or a relay contact in its feed.

Limits
    Loads whose duty is to be always on (an electronics module) are left alone. Pulling a fuse is
    no switching.

Reference
    Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case
from checks.finding import FAULT, Finding

NAME = "always-on"
FAMILY = "continuity"
EVERY_STATE = True
_PUMP = """
    G1 battery
    F1 fuse-blade
    M1 pump
    X1 ground
    W1 G1.+ F1.1 2.5 0.15
    W3 M1.- X1.g 2.5 0.5
    W4 X1.g G1.- 10 0.3
"""
BAD = ((_PUMP + "W2 F1.2 M1.+ 2.5 1", ((FAULT, ("M1",)),)),)
GOOD = (
    _PUMP
    + """
    S1 switch
    W2 F1.2 S1.1 2.5 1
    W5 S1.2 M1.+ 2.5 1
    """,
)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every load that is on in every state against its duty."""
    for use in case.loads:
        if not case.on(use).all() or not case.duty(use).off_at_rest:
            continue
        yield Finding(
            rule=NAME,
            severity=FAULT,
            parts=(use.part.id,),
            says="{part} is on in every state: nothing switches it off, and it draws "
            "{amps:current} at rest.",
            values={"part": use.name, "amps": abs(case.rest.current(use.part.id, use.element))},
            setting=case.rest.setting,
        )
