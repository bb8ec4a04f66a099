"""A relay that its maker does not promise to pull in with the voltage its coil gets.

What it finds
    Coils whose greatest voltage in any state is enough for a typical relay but less than the
    guaranteed pull-in, warmed to the circuit's surroundings (fault) or to the 85 °C of an engine
    bay (advice); and coils that are fed only while the starter draws and get too little then,
    those of the starting circuit itself left out.

Why it matters
    The current that pulls a relay in does not change with heat, but the copper's resistance
    does: a coil at 85 °C needs a quarter more voltage than at 20 °C. Add the drop in a long thin
    control wire, or a battery that gives 9.5 V while it cranks, and the relay that always
    clicked stays out on a hot day.

Example
    A pump relay that START feeds: 9.3 V reach its coil while the engine cranks. It must pull in
    at 8.4 V cold, but needs 10.5 V at 85 °C.

How to fix
    A relay with a lower pull-in or its place where it is cool, a shorter or thicker control wire,
    fewer contacts in its feed; for one needed while cranking, a type made for it.

Limits
    Self-heating of the coil (20 to 40 K more) is not added. Coils far below what even a typical
    relay needs are told by the rules that find what never works. Suppression does not change it.

Reference
    V(T) = V(20 °C)·(234.5 + T)/254.5, copper; published checks in relay makers' notes (te.com,
    schrackrelays, babcockinc.com). Guaranteed pull-in 70 % of nominal unless stated (published
    data of cube relays). 85 °C as the engine bay: the ambient limit of ordinary relays.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checks.case import Case, Use
from checks.drops import drop_of
from checks.finding import ADVICE, FAULT, Datum, Finding
from checks.flows import LEAST_A
from model.linear import Bools, Floats
from model.tables.relays import coil_factor
from model.zones import copper_c, part_warmth

NAME = "weak-pull-in"
FAMILY = "rating"
HOT_C = 85.0
_BASE = """
    G1 battery
    F1 fuse-blade rating_a=5
    S1 switch
    K1 relay-make coil_ohm=90 {needs}
    X1 ground
    X2 ground
    R1 resistor resistance_ohm={ohm}
    W1 G1.+ F1.1 1 0.15
    W2 F1.2 S1.1 1 0.3
    W3 S1.2 R1.1 1 0.3
    W4 R1.2 K1.86 1 1
    W5 K1.85 X1.g 1 0.3
    W6 X2.g G1.- 10 0.3
"""
BAD = (
    (_BASE.format(ohm=50, needs=""), ((FAULT, ("K1",)),)),
    (_BASE.format(ohm=25, needs=""), ((ADVICE, ("K1",)),)),
)
GOOD = (_BASE.format(ohm=0.1, needs=""), _BASE.format(ohm=25, needs="must_pull_in_share=0.58"))


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every coil that gets less than is guaranteed to pull it in."""
    for use in case.coils:
        volts = case.across(use)
        finding = _at_best(case, use, volts) or _while_cranking(case, use, volts)
        if finding is not None:
            yield finding


def _need_v(case: Case, use: Use, temperature_c: float) -> float:
    """Return the guaranteed pull-in of a coil at a temperature."""
    share = case.number(use.part, "must_pull_in_share", 0.7)
    nominal = case.number(use.part, "coil_v", case.nominal_v)
    return share * nominal * coil_factor(temperature_c)


def _warm_c(case: Case, use: Use) -> float:
    """Return how warm it is around a relay, no less than 20 °C: where it is, or its copper."""
    warmth = part_warmth(case.circuit, use.part)
    return max(warmth.celsius, copper_c(case.circuit, use.part), 20.0)


def _at_best(case: Case, use: Use, volts: Floats) -> Finding | None:
    """Return what the greatest voltage of a coil comes to, None where it is enough or far off."""
    row = int(volts.argmax())
    if case.cranking[row] or volts[row] < case.pull_in_v(use) or not case.connectable(use):
        return None
    return _judged(case, use, float(volts[row]), row, cranking=False)


def _while_cranking(case: Case, use: Use, volts: Floats) -> Finding | None:
    """Return what a coil gets that is fed only while a starter draws, None where it is enough."""
    fed: Bools = volts >= case.pull_in_v(use)
    if not fed.any() or (fed & ~case.cranking).any():
        return None
    row = int(np.where(fed, volts, 0.0).argmax())
    if _starts(case, use, row):
        return None
    return _judged(case, use, float(volts[row]), row, cranking=True)


def _starts(case: Case, use: Use, row: int) -> bool:
    """Tell whether a part with a coil belongs to the starting circuit: its contacts feed it."""
    starters = {u.part.id for u in case.loads if u.draws == "starter"}
    if use.part.id in starters:
        return True
    flows = case.flows(row)
    for index, edge in case.network.of_role("contact"):
        if edge.owner == use.part.id and abs(case.survey.amps[row, index]) > LEAST_A:
            owners = {case.network.edges[i].owner for i in flows.loads_through(index)}
            if owners & starters:
                return True
    return False


def _judged(case: Case, use: Use, volts: float, row: int, *, cranking: bool) -> Finding | None:
    """Return the finding of a coil with this voltage, None where it is enough even when hot."""
    warm_c = _warm_c(case, use)
    severity = FAULT if volts < _need_v(case, use, warm_c) else ADVICE
    zoned = bool(part_warmth(case.circuit, use.part).zone)
    at_c = warm_c if severity == FAULT or zoned else max(HOT_C, warm_c)
    if volts >= _need_v(case, use, at_c):
        return None
    values: dict[str, Datum] = {
        "part": use.name,
        "volts": volts,
        "cold": _need_v(case, use, 20.0),
        "needs": _need_v(case, use, at_c),
        "temperature": at_c,
        "zone_name": part_warmth(case.circuit, use.part).zone,
        "lost": max(case.supply_v - volts, 0.0),
        "supply": case.supply_v,
    }
    return Finding(
        rule=NAME,
        severity=severity,
        parts=(use.part.id,),
        says=_says(severity, cranking, bool(values["zone_name"])) + _guessed(case, use, row),
        values=values,
        source="guaranteed pull-in of the relay; copper 234.5 °C",
        path=(("parts", use.part.id),),
        setting=case.survey.settings[row],
    )


def _guessed(case: Case, use: Use, row: int) -> str:
    """Return words for the wires on the coil's way of which a size or length is missing."""
    drop = drop_of(case.flows(row), use)
    pieces = drop.pieces if drop is not None else ()
    return case.guessed(p.edge.owner for p in pieces if p.edge.role == "wire")


def _says(severity: str, cranking: bool, zone: bool) -> str:
    """Return the sentence."""
    gets = (
        "{part} is fed only while the engine is cranked and its coil then gets {volts:voltage}"
        if cranking
        else "{part} gets no more than {volts:voltage} at its coil, {lost:voltage} less than the "
        "battery's {supply:voltage}"
    )
    if severity == FAULT:
        here = " in the zone {zone_name}" if zone else ""
        return (
            gets + "; at {temperature:temperature}" + here + " it is promised to pull in only "
            "from {needs:voltage} ({cold:voltage} at 20 °C): it may stay out."
        )
    return gets + ". That is enough when cool ({cold:voltage} at 20 °C), but at " \
        "{temperature:temperature}, as in an engine bay, it needs {needs:voltage}."  # fmt: skip
