"""A relay coil made for another voltage than it gets.

What it finds
    Coils rated for at least half as much again as the supply that they never see more of (24 V on
    12 V), and coils that see at least half as much again as they are rated for (12 V on 24 V).

Why it matters
    A 24 V coil on 12 V gets half of what it needs and never pulls in. A 12 V coil on 24 V takes
    twice the current and four times the power: it burns.

Example
    A relay from a truck (320 Ω, needs 16.8 V) in a car: not a click, although the meter reads
    12.6 V across the coil.

How to fix
    A relay with the right coil. The resistance tells them apart: about 90 Ω for 12 V, about
    320 to 350 Ω for 24 V.

Limits
    Only the class; a coil that is merely weak (hot, or while cranking) is not looked at here.

Reference
    Ohm's law; power goes with the square of the voltage. Must-operate voltage of cube relays 70 %
    of nominal, greatest coil voltage 20.2 V at 20 °C for 12 V (published data).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from checks.case import Case, Use
from checks.finding import DANGER, FAULT, Datum, Finding, Remedy
from model.circuit import Part
from model.edits import set_part

NAME = "coil-voltage-class"
FAMILY = "rating"
ANOTHER = 1.5
"""Ratio from which a voltage is of another class: between 14.4 on 12 V and 24 on 14.4 V."""
_BASE = """
    {volts} V
    G1 battery
    F1 fuse-blade rating_a=5
    K1 relay-make coil_v={coil}
    X1 ground
    W1 G1.+ F1.1 1 0.15
    W2 F1.2 S1.1 1 0.3
    S1 switch
    W3 S1.2 K1.86 1 1
    W4 K1.85 X1.g 1 0.3
    W5 X1.g G1.- 10 0.3
"""
BAD = (
    (_BASE.format(volts=12, coil=24), ((FAULT, ("K1",)),)),
    (_BASE.format(volts=24, coil=12), ((DANGER, ("K1",)),)),
)
GOOD = (_BASE.format(volts=12, coil=12), _BASE.format(volts=24, coil=24))


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every part with a coil of another class, its worst coil."""
    seen: set[str] = set()
    for use in case.coils:
        finding = _judge(case, use) if use.part.id not in seen else None
        if finding is not None:
            seen.add(use.part.id)
            yield finding


def _judge(case: Case, use: Use) -> Finding | None:
    """Return what is wrong with a coil, None where nothing is."""
    coil_v = case.number(use.part, "coil_v", case.nominal_v)
    volts = case.across(use)
    row = int(volts.argmax())
    peak = float(volts[row])
    if coil_v <= 0:
        return None
    if peak >= ANOTHER * coil_v:
        return _finding(case, use, coil_v, peak, row, high=True)
    if not case.connectable(use):
        return None
    expected = max(peak, case.nominal_v)
    if coil_v >= ANOTHER * expected:
        return _finding(case, use, coil_v, peak, row, high=False)
    return None


def _finding(
    case: Case, use: Use, coil_v: float, peak_v: float, row: int, *, high: bool
) -> Finding:
    """Return the finding of one coil."""
    needs = case.number(use.part, "must_pull_in_share", 0.7) * coil_v
    values: dict[str, Datum] = {
        "part": use.name,
        "coil": coil_v,
        "seen": peak_v,
        "nominal": case.nominal_v,
        "needs": needs,
        "times": (peak_v / coil_v) ** 2,
    }
    return Finding(
        rule=NAME,
        severity=DANGER if high else FAULT,
        parts=(use.part.id,),
        says=_says(case, use, high, peak_v),
        values=values,
        source="Ohm's law; must-operate voltage of 70 % (published relay data)",
        path=(("parts", use.part.id),),
        setting=case.survey.settings[row],
        remedy=_remedy(case, use.part, coil_v),
    )


def _says(case: Case, use: Use, high: bool, peak_v: float) -> str:
    """Return the sentence."""
    assumed = case.rating(use.part, "coil_v").origin == "default"
    coil = "a {coil:voltage} coil" + (" (assumed)" if assumed else "")
    if high:
        return "{part} has " + coil + " and gets {seen:voltage}: {times:count} times its power; " \
            "it burns."  # fmt: skip
    if peak_v > 0.5:
        return "{part} has " + coil + ", needs {needs:voltage} to pull in and never gets more " \
            "than {seen:voltage}."  # fmt: skip
    return "{part} has " + coil + " in a circuit of {nominal:voltage}: it needs {needs:voltage} " \
        "and cannot pull in."  # fmt: skip


def _remedy(case: Case, part: Part, coil_v: float) -> Remedy | None:
    """Return the change to a coil of the circuit's own voltage, with its usual resistance."""
    if coil_v == case.nominal_v:
        return None
    kept = {k: v for k, v in part.ratings.items() if k not in ("coil_v", "coil_ohm")}
    text = f"Take a relay with a {case.nominal_v:g} V coil as {case.name(part.id)}"
    return Remedy(text, set_part(case.circuit, replace(part, ratings=kept), text))
