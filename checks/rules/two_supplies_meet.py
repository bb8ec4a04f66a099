"""Two batteries joined so that one drives current into the other.

What it finds
    States in which a battery is charged by another battery (no alternator giving) with more than
    20 A: danger where the two are of different nominal voltage, else fault.

Why it matters
    A full battery joined to an empty one, or 24 V to 12 V, is limited by nothing but its inner
    resistance: hundreds of amperes through whatever wire joins them.

Example
    A tail switch whose middle position joins the second battery, on 24 V, to the first one's
    12 V line.

How to fix
    A change-over switch that opens one before it closes the other, a relay that joins them only
    while the alternator charges, or a diode in each feed.

Limits
    Batteries alike in voltage and charge hardly drive each other and are not told. What flows
    while an alternator charges both is not looked at.

Reference
    Ohm's law with the batteries' inner resistances; 20 A is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import numpy as np

from checks.case import Case
from checks.feeds import is_battery
from checks.finding import DANGER, FAULT, Datum, Finding
from model.linear import Bools
from model.network import Edge
from model.resistances import battery_class_v

NAME = "two-supplies-meet"
FAMILY = "protection"
LEAST_A = 20.0
"""Amperes from battery to battery that count; common practice, no source."""
_BASE = """
    G1 battery voltage_v=12.6
    G2 battery voltage_v={second}
    F1 fuse-strip rating_a=60
    S1 switch contact_a=100
    X1 ground
    W1 G1.+ F1.1 16 0.15
    W2 F1.2 S1.1 16 0.3
    W3 S1.2 F2.1 16 0.3
    F2 fuse-strip rating_a=60
    W6 F2.2 G2.+ 16 0.15
    W4 G1.- X1.g 16 0.3
    W5 G2.- X1.g 16 0.3
"""
BAD = (
    (_BASE.format(second=25.2), ((DANGER, ("G2", "G1", "S1")),)),
    (_BASE.format(second=11.6), ((FAULT, ("G1", "G2", "S1")),)),
)
GOOD = (_BASE.format(second=12.6),)


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every pair of batteries of which one drives the other."""
    batteries = [(i, e) for i, e in case.network.of_role("source") if is_battery(e)]
    alternators = [i for i, e in case.network.of_role("source") if not is_battery(e)]
    calm = np.abs(case.survey.amps[:, alternators]).max(axis=1, initial=0.0) <= 1.0
    for (i, one), (j, other) in combinations(batteries, 2):
        finding = _pair(case, calm, (i, one), (j, other))
        if finding is not None:
            yield finding


def _pair(
    case: Case, calm: Bools, first: tuple[int, Edge], second: tuple[int, Edge]
) -> Finding | None:
    """Return the finding of two batteries, None where neither drives the other."""
    worst: tuple[float, int, Edge, Edge] | None = None
    for (i, giver), (j, taker) in ((first, second), (second, first)):
        if giver.b == taker.a or giver.a == taker.b:
            continue  # in series: one and the same current
        gives, takes = -case.survey.amps[:, i], case.survey.amps[:, j]
        both = np.where(calm, np.minimum(gives, takes), 0.0)
        row = int(both.argmax())
        if both[row] > LEAST_A and (worst is None or both[row] > worst[0]):
            worst = (float(both[row]), row, giver, taker)
    return _finding(case, *worst) if worst is not None else None


def _finding(case: Case, amps: float, row: int, giver: Edge, taker: Edge) -> Finding:
    """Return the finding of one pair."""
    carry = np.abs(case.survey.amps[row]) > 0.5 * amps
    way = [
        e for i, e in case.network.of_role("wire", "contact", "fuse")
        if carry[i]
    ]  # fmt: skip
    movers = tuple(dict.fromkeys(e.owner for e in way if e.role == "contact"))
    classes = [battery_class_v(case.circuit, case.circuit.parts[e.owner]) for e in (giver, taker)]
    unlike = classes[0] != classes[1]
    values: dict[str, Datum] = {
        "giver": case.name(giver.owner),
        "taker": case.name(taker.owner),
        "current": amps,
        "movers": ", ".join(case.name(p) for p in movers),
        "first": classes[0],
        "second": classes[1],
    }
    what = "{giver} drives {current:current} into {taker}" + (" through {movers}" if movers else "")
    why = (
        ": batteries of {first:voltage} and {second:voltage} are joined in this state."
        if unlike
        else ": they are joined while one is emptier, and nothing but their own resistance limits "
        "it."
    )
    return Finding(
        rule=NAME,
        severity=DANGER if unlike else FAULT,
        parts=(giver.owner, taker.owner, *movers),
        says=what + why,
        values=values,
        source="Ohm's law; inner resistance of the batteries",
        path=tuple((e.table, e.owner) for e in way),
        setting=case.survey.settings[row],
    )
