"""A relay with a plain diode across its coil that switches a motor.

What it finds
    Relays with a diode as the coil's suppression whose contact carries a motor.

Why it matters
    The diode lets the coil's current die slowly: the relay lets go after 8 to 10 ms in place of
    2, and its contact opens slowly. A slow contact draws a longer arc from a motor, and may tack
    shut: the pump that will not stop.

Example
    A cube relay with a diode for the fuel pump: after some thousands of starts it welds, and the
    pump runs with the key off.

How to fix
    The same relay with a resistor (680 Ω at 12 V, 2700 Ω at 24 V): it quietens nearly as well
    and lets go at once, and 85 and 86 may be fed either way round.

Limits
    Typical times, no single maker's; a diode drawn as a part of its own is not looked at.

Reference
    Release 9.8 ms with a diode, 2.3 ms with 680 Ω, 1.5 ms without (published; about 8 and 2.6 ms
    measured, electro-tech-online.com thread 167257); random tack welds of make contacts on motor
    loads: te.com application note on coil suppression.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checks.case import Case
from checks.finding import ADVICE, Datum, Finding, Remedy
from checks.flows import draws
from checks.wording import listed
from model.circuit import Part
from model.edits import set_rating
from model.lookup import word
from model.tables.relays import suppression

NAME = "diode-slows-motor"
FAMILY = "logic"
LEAST_A = 0.5
"""Current below which a contact makes no arc to speak of; common practice, no source."""
_BASE = """
    G1 battery
    F1 fuse-blade rating_a=15
    S1 switch
    K1 {kind}
    M1 pump current_a=6
    X1 ground
    X2 ground
    W1 G1.+ F1.1 2.5 0.15
    W2 F1.2 S1.1 1 0.3
    W3 S1.2 K1.86 1 1
    W4 K1.85 X1.g 1 0.3
    W5 F1.2 K1.30 2.5 0.3
    W6 K1.87 M1.+ 2.5 1
    W7 M1.- X1.g 2.5 0.3
    W8 X2.g G1.- 16 0.3
"""
BAD = ((_BASE.format(kind="relay-diode"), ((ADVICE, ("K1", "M1")),)),)
GOOD = (_BASE.format(kind="relay-resistor"),)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every relay with a diode that switches a motor."""
    relays = {
        u.part.id: u.part
        for u in case.coils
        if word(case.circuit, u.part, "suppression") == "diode"
    }
    for part in relays.values():
        loads = _loads(case, part)
        if loads:
            yield _finding(case, part, loads)


def _loads(case: Case, part: Part) -> tuple[str, ...]:
    """Return the motors that a relay's contacts carry in some state."""
    found: dict[str, None] = {}
    for index, edge in case.network.of_role("contact"):
        if edge.owner != part.id:
            continue
        row = int(np.abs(case.survey.amps[:, index]).argmax())
        for load, amps in case.flows(row).loads_through(index).items():
            if amps > LEAST_A and draws(case.network.edges[load]) == "motor":
                found[case.network.edges[load].owner] = None
    return tuple(found)


def _finding(case: Case, part: Part, loads: tuple[str, ...]) -> Finding:
    """Return the finding of one relay."""
    diode, resistor = suppression("diode").release_s, suppression("resistor-680").release_s
    values: dict[str, Datum] = {
        "part": case.name(part.id),
        "loads": listed(case.name(p) for p in loads),
        "slow": diode or 0.0098,
        "fast": resistor or 0.0023,
    }
    change = set_rating(case.circuit, part.id, "suppression", "resistor")
    text = f"Take a relay with a resistor as {case.name(part.id)}"
    return Finding(
        rule=NAME,
        severity=ADVICE,
        parts=(part.id, *loads),
        says="{part} switches {loads} and has a plain diode across its coil: it lets go after "
        "{slow:time}, with a resistor after {fast:time}, and a slow contact may weld.",
        values=values,
        source="published release times; te.com application note",
        path=(("parts", part.id), *(("parts", p) for p in loads)),
        remedy=Remedy(text, change),
    )
