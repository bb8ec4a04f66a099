"""A load that is on, or a relay that pulls in, in no state at all.

What it finds
    Loads that reach 60 % of the battery's voltage in no combination of positions, and relays
    that never pull in, although both could be joined to the supply. Relays whose coil waits for
    their own contact, or for each other's, are named together.

Why it matters
    Something is drawn that can never work: two switches that are never closed together, a
    contact on the wrong side, a voltage that is too small.

Example
    A fan behind 87 of one relay and 87a of another whose coils work together: one of the two
    contacts is always open.

How to fix
    Follow the Walk from the supply to the load: the finding names the open contact or the volts.

Limits
    Above 4,096 combinations the rest state and all single and double changes from it are looked
    at. A load that waits for a relay which itself has a finding is not told again, nor is one
    whose feed takes too many volts (voltage-drop) or an LED the wrong way round (reversed-diode).

Reference
    The 60 % and the drop-out are the program's own; common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from checks.case import Case, Use
from checks.drops import drop_of
from checks.finding import FAULT, Finding
from checks.wording import listed

NAME = "never-on"
FAMILY = "continuity"
EVERY_STATE = True
OFF_V = 0.05
"""Volts below which a load is off."""
_LOAD = """
    G1 battery
    F1 fuse-blade
    S1 switch
    K1 relay-changeover suppression=resistor
    K2 relay-changeover suppression=resistor
    M1 fan current_a=5
    X1 ground
    W1 G1.+ F1.1 2.5 0.15
    W2 F1.2 K1.30 2.5 1
    W3 K1.87 K2.30 2.5 1
    W4 X1.g G1.- 10 0.3
    W5 M1.- X1.g 2.5 0.5
    W6 F1.2 S1.1 2.5 1
    W7 S1.2 K1.86 1 1
    W8 S1.2 K2.86 1 1
    W9 K1.85 X1.g 1 1
    W10 K2.85 X1.g 1 1
"""
_HOLD = """
    G1 battery
    F1 fuse-blade rating_a=5
    K1 relay-resistor
    X1 ground
    W1 G1.+ F1.1 1 0.15
    W2 F1.2 K1.30 1 1
    W3 K1.85 X1.g 1 1
    W4 X1.g G1.- 10 0.3
    W5 K1.87 K1.86 1 0.1
"""
BAD = (
    (_LOAD + "W11 K2.87a M1.+ 2.5 1", ((FAULT, ("M1",)),)),
    (_HOLD, ((FAULT, ("K1",)),)),
)
GOOD = (
    _LOAD + "W11 K2.87 M1.+ 2.5 1",
    _HOLD + "S1 push-make\nW6 F1.2 S1.1 1 0.1\nW7 S1.2 K1.86 1 0.1",
)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every load that is never on and every relay that never pulls in."""
    for use in case.dead_coil_uses:
        if case.connectable(use) and not _told_elsewhere(case, use):
            yield _coil(case, use)
    if case.waiting.locked:
        yield _locked(case, case.waiting.locked)
    for use in case.loads:
        if case.on(use).any() or not case.connectable(use) or case.waiting.waits(use):
            continue
        if not case.backwards(use) and not _starved(case, use):
            yield _load(case, use)


def _told_elsewhere(case: Case, use: Use) -> bool:
    """Tell whether another rule explains the coil: both ends live, a wrong class, a reversed diode.

    A coil that waits for a relay is told with that relay, or among those that wait for each other.
    """
    return (
        bool(case.both_live(use).any())
        or case.wrong_class(use.part)
        or case.diode_shorts(use)
        or case.waiting.waits(use)
    )


def _starved(case: Case, use: Use) -> bool:
    """Tell whether conductors lead to and from a load and only take too many of its volts."""
    most, index = _most(case, use)
    return most > OFF_V and drop_of(case.flows(index), use) is not None


def _locked(case: Case, relays: tuple[str, ...]) -> Finding:
    """Return the finding of relays that wait for their own contact or for each other's."""
    one = "{parts} never pulls in: its coil is fed only through its own contact, which is open "
    many = "{parts} never pull in: the coil of each is fed only through a contact of another one "
    return Finding(
        rule=NAME,
        severity=FAULT,
        parts=relays,
        says=(one if len(relays) == 1 else many) + "until it has pulled in.",
        values={"parts": listed(case.name(p) for p in relays)},
        setting=case.rest.setting,
    )


def _most(case: Case, use: Use) -> tuple[float, int]:
    """Return the greatest volts across a load and the index of the state."""
    volts = case.across(use)
    index = int(volts.argmax())
    return float(volts[index]), index


def _coil(case: Case, use: Use) -> Finding:
    """Return the finding of a relay that never pulls in."""
    most, index = _most(case, use)
    return Finding(
        rule=NAME,
        severity=FAULT,
        parts=(use.part.id,),
        says="{part} never pulls in: the most its coil gets in any state is {most:voltage}, and "
        "it needs {needs:voltage}.",
        values={"part": use.name, "most": round(most, 3), "needs": case.pull_in_v(use)},
        setting=case.survey.settings[index],
    )


def _load(case: Case, use: Use) -> Finding:
    """Return the finding of a load that is never on."""
    most, index = _most(case, use)
    return Finding(
        rule=NAME,
        severity=FAULT,
        parts=(use.part.id,),
        says="{part} is never on: the most it gets in any state is {most:voltage}.",
        values={"part": use.name, "most": round(most, 3)},
        setting=case.survey.settings[index],
    )
