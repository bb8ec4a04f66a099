"""A load that runs with the crash switch tripped against its duty.

What it finds
    Loads that shall stop in a crash and still run in some state in which a crash switch is
    tripped; and loads for which that duty was stated while there is no crash switch at all.

Why it matters
    A pump that goes on after a crash feeds the fire.

Example
    A crash switch supplied with its wires on the NO contact: the pump stops when the switch is
    set, and runs when it trips.

How to fix
    Wire the crash switch from C to NC, in the feed of the coil or in the load's own line.

Limits
    Looks at the circuit without faults; what a welded relay or a rubbed wire does is the matter
    of failure effects. A crash circuit must be proven on the car.

Reference
    Normally closed wiring of crash switches is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case, Use
from checks.finding import DANGER, Finding

NAME = "runs-after-crash"
FAMILY = "logic"
_BASE = """
    G1 battery
    F1 fuse-blade
    S1 switch
    S2 crash-switch
    M1 pump
    X1 ground
    W1 G1.+ F1.1 2.5 0.15
    W2 F1.2 S1.1 2.5 1
    W3 S1.2 S2.C 2.5 1
    W4 X1.g G1.- 10 0.3
    W5 M1.- X1.g 2.5 0.5
"""
BAD = (
    (_BASE + "W6 S2.NO M1.+ 2.5 1", ((DANGER, ("M1", "S2")),)),
    (
        """
        G1 battery
        F1 fuse-blade
        S1 switch
        M1 pump duty=stops_in_crash
        X1 ground
        W1 G1.+ F1.1 2.5 0.15
        W2 F1.2 S1.1 2.5 1
        W3 S1.2 M1.+ 2.5 1
        W4 X1.g G1.- 10 0.3
        W5 M1.- X1.g 2.5 0.5
        """,
        ((DANGER, ("M1",)),),
    ),
)
GOOD = (_BASE + "W6 S2.NC M1.+ 2.5 1",)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every load that runs after a crash against its duty."""
    for use in case.loads:
        if not case.duty(use).stops_in_crash:
            continue
        if not case.crash_switches:
            if use.part.duty.stops_in_crash and case.runs(use).any():
                yield _nothing_stops(case, use)
            continue
        running = case.runs(use) & case.crashed
        if running.any():
            yield _runs(case, use, int(running.argmax()))


def _nothing_stops(case: Case, use: Use) -> Finding:
    """Return the finding of a load with the duty and no crash switch in the circuit."""
    return Finding(
        rule=NAME,
        severity=DANGER,
        parts=(use.part.id,),
        says="{part} shall stop in a crash, and there is no crash switch in this circuit.",
        values={"part": use.name},
    )


def _runs(case: Case, use: Use, index: int) -> Finding:
    """Return the finding of a load that runs with a crash switch tripped."""
    state = case.survey.states[index]
    tripped = [p for p in case.crash_switches if case.tripped(state.setting, p)]
    return Finding(
        rule=NAME,
        severity=DANGER,
        parts=(use.part.id, *tripped),
        says="{part} runs with {crash} tripped: it gets {volts:voltage} and draws {amps:current}. "
        "Its duty is to stop in a crash.",
        values={
            "part": use.name,
            "crash": ", ".join(case.name(p) for p in tripped),
            "volts": abs(state.across(use.part.id, use.element)),
            "amps": abs(state.current(use.part.id, use.element)),
        },
        setting=state.setting,
    )
