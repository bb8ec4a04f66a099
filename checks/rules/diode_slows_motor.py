"""A relay with a plain diode across its coil that switches a motor.

What it finds
    Relays with a diode across the coil, their own or one drawn beside it, whose contact carries a
    motor.

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
    Typical times, no single maker's, where the relay states none of its own; what lets go within
    6.1 ms, as with the smallest resistor of the table, is not told.

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
from checks.quieting import Quiet, quieted
from checks.wording import listed
from model.circuit import Part
from model.edits import set_rating
from model.tables.relays import suppression

NAME = "diode-slows-motor"
FAMILY = "logic"
LEAST_A = 0.5
"""Current below which a contact makes no arc to speak of; common practice, no source."""
SLOW_S = 0.0062
"""Release from which a relay counts as slow: just above the slowest resistor's, 82 Ω."""
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
_DRAWN = _BASE.format(kind="relay-make") + "V1 diode\nW9 V1.K K1.86 1 0.1\nW10 V1.A K1.85 1 0.1"
BAD = (
    (_BASE.format(kind="relay-diode"), ((ADVICE, ("K1", "M1")),)),
    (_DRAWN, ((ADVICE, ("K1", "M1", "V1")),)),
)
GOOD = (
    _BASE.format(kind="relay-resistor"),
    _BASE.format(kind="relay-resistor suppression=zener"),
    _BASE.format(kind="relay-diode release_s=0.004"),
)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every relay with a diode that switches a motor."""
    done: set[str] = set()
    for use, quiet in quieted(case, case.coils):
        if quiet.way == "diode" and use.part.id not in done:
            loads = _loads(case, use.part)
            if loads and quiet.release_s >= SLOW_S:
                done.add(use.part.id)
                yield _finding(case, use.part, loads, quiet)


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


def _finding(case: Case, part: Part, loads: tuple[str, ...], quiet: Quiet) -> Finding:
    """Return the finding of one relay."""
    resistor, beside = suppression("resistor-680"), tuple(filter(None, (quiet.by,)))
    values: dict[str, Datum] = {
        "part": case.name(part.id),
        "loads": listed(case.name(p) for p in loads),
        "slow": quiet.release_s,
        "published": quiet.row.published_s or 0.0,
        "fast": resistor.release_s or 0.0,
        "by": case.name(quiet.by) if quiet.by else "",
    }
    return Finding(
        rule=NAME,
        severity=ADVICE,
        parts=(part.id, *loads, *beside),
        says=_says(quiet),
        values=values,
        source=f"{quiet.row.source}; te.com application note",
        path=(("parts", part.id), *(("parts", p) for p in (*loads, *beside))),
        remedy=None if quiet.by else _remedy(case, part),
    )


def _says(quiet: Quiet) -> str:
    """Return the sentence, with what is stated or else what the table has, and its standing."""
    what = "{part} switches {loads} and has a plain diode "
    what += "({by}) across its coil: " if quiet.by else "across its coil: "
    if quiet.stated:
        what += "it lets go after {slow:time} as stated"
    else:
        what += "it lets go after {slow:time} (measured; {published:time} published)"
    return what + ", with a resistor of 680 Ω after {fast:time}, and a slow contact may weld."


def _remedy(case: Case, part: Part) -> Remedy:
    """Return the change to a relay with a resistor."""
    change = set_rating(case.circuit, part.id, "suppression", "resistor")
    return Remedy(f"Take a relay with a resistor as {case.name(part.id)}", change)
