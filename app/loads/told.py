"""What the page of loads says: rows, what they come to together, and what it all rests on."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite

from app.tr import tr
from checks.assumed import wires_assumed
from checks.balance import Balance
from checks.energy import Energy, Row, Scenario
from checks.used import to_be_confirmed
from checks.wording import listed
from model.circuit import Circuit
from model.lookup import label
from model.states import Setting
from model.units import show

TITLES = {
    "rest": "At rest",
    "most": "Most together",
    "use": "On average",
    "start": "While starting",
}
CASES = {"charging": "Charging, most on", "cranking": "Cranking"}
BATTERY_ALONE = ("rest", "start")
"""Scenarios in which no alternator gives anything."""
NOTHING_A = 1e-6
DAY_S = 86400.0


def cells(circuit: Circuit, row: Row) -> tuple[str, ...]:
    """Return a row of the load table as it is read."""
    starts = f"{amps(row.starts_a)}, {show(row.starts_s, 'time')}" if row.starts_s else ""
    return (named(circuit, row), amps(row.runs_a), show(row.use, "share"), amps(row.average_a),
            starts, amps(row.rests_a))  # fmt: skip


def named(circuit: Circuit, row: Row) -> str:
    """Return what a row is about: M1 Fuel pump, K1 (coil)."""
    part = circuit.parts[row.part]
    what = ", ".join(filter(None, (tr("coil") if row.coil else "", tr(row.element))))
    return f"{label(part)} {part.name}".rstrip() + (f" ({what})" if what else "")


def amps(current_a: float) -> str:
    """Return a current, nothing for none."""
    return show(current_a, "current") if current_a > NOTHING_A else "–"


def scenario_cells(circuit: Circuit, energy: Energy, scenario: Scenario) -> tuple[str, ...]:
    """Return one scenario: its name, the sum, what alternator and battery make of it, the state."""
    alone = scenario.name in BATTERY_ALONE
    return (
        title(scenario),
        amps(scenario.amps),
        "–" if alone else left(energy.rated_a, scenario.amps),
        "–" if alone else left(energy.idle_a, scenario.amps),
        lasting(energy, scenario),
        state_of(circuit, scenario),
    )


def balance_cells(circuit: Circuit, energy: Energy, balance: Balance) -> tuple[str, ...]:
    """Return the case of charging or cranking, by itself: what flows at that supply's voltage."""
    seconds = 3600.0 * balance.lasts_h
    return (
        tr(CASES[balance.supply]),
        amps(balance.loads_a + balance.starter_a),
        spare(balance.rated_left_a),
        spare(balance.idle_left_a),
        _long(seconds) if isfinite(seconds) and energy.capacity_ah > 0.0 else "–",
        _positions(circuit, balance.setting),
    )


def spare(current_a: float | None) -> str:
    """Return what is left for the battery, or missing; nothing where no alternator turns."""
    return "–" if current_a is None else left(1e-9, 1e-9 - current_a)


def title(scenario: Scenario) -> str:
    """Return the name of a scenario in the reader's language."""
    return tr(TITLES.get(scenario.name, scenario.name.capitalize()))


def left(gives_a: float, takes_a: float) -> str:
    """Return what is left of a current, or how much is missing."""
    if gives_a <= 0.0:
        return tr("none")
    spare = gives_a - takes_a
    said = tr("{current} left") if spare >= 0.0 else tr("{current} missing")
    return said.format(current=show(abs(spare), "current"))


def lasting(energy: Energy, scenario: Scenario) -> str:
    """Return how long the batteries alone last down to half their charge."""
    if scenario.amps <= NOTHING_A:
        return tr("no end")
    if scenario.name == "start" or energy.capacity_ah <= 0.0:
        return "–"
    return _long(3600.0 * energy.lasts_h(scenario.amps))


def _long(seconds: float) -> str:
    if seconds <= 0.0:
        return tr("is down to half")
    if seconds > 2 * DAY_S:
        return tr("{count} days", count=f"{seconds / DAY_S:.0f}")
    return show(seconds, "time")


def state_of(circuit: Circuit, scenario: Scenario) -> str:
    """Return the positions of a scenario's state, nothing for averages."""
    return _positions(circuit, scenario.setting)


def _positions(circuit: Circuit, setting: Setting | None) -> str:
    positions = setting.positions if setting else {}
    return ", ".join(f"{label(circuit.parts[k])} {v}" for k, v in positions.items())


def verdict(energy: Energy) -> str:
    """Return in one sentence whether the supply covers the loads."""
    most = energy.scenario("most")
    if most is None or not energy.rows:
        return tr("No load draws anything in any state.")
    if energy.rated_a <= 0.0:
        long = lasting(energy, most)
        if long == "–":
            return tr("Together the loads draw at most {most}.", most=amps(most.amps))
        return tr(
            "Together the loads draw at most {most}; there is no alternator, and the battery is at "
            "half its charge after {long}.", most=amps(most.amps), long=long)  # fmt: skip
    return tr(
        "Together the loads draw at most {most}; of the alternator: {speed} at speed, {idle} at "
        "idle.", most=amps(most.amps), speed=left(energy.rated_a, most.amps),
        idle=left(energy.idle_a, most.amps))  # fmt: skip


def rests(circuit: Circuit, energy: Energy) -> Iterator[str]:
    """Yield what the table rests on, what is assumed named as such."""
    yield from _supply(energy)
    used = dict.fromkeys(named(circuit, r) for r in energy.rows if not r.use_told)
    if used:
        yield tr("Counted as in use all the time: {names}.", names=listed(used))
    for what in dict.fromkeys(a for r in energy.rows for a in r.assumed):
        names = listed(label(circuit.parts[r.part]) for r in energy.rows if what in r.assumed)
        yield tr("Usual {what} taken for {names}: it is not stated.", what=tr(what), names=names)
    yield from map(tr, wires_assumed(circuit))
    yield from map(tr, to_be_confirmed(circuit))


def _supply(energy: Energy) -> Iterator[str]:
    assumed = f" ({tr('assumed')})"
    if energy.capacity_ah > 0.0:
        yield tr("Battery: {capacity}{assumed}. It counts down to half its charge; below that an "
                 "engine may not start any more (common practice, no source).",
                 capacity=show(energy.capacity_ah, "capacity"),
                 assumed=assumed if energy.capacity_assumed else "")  # fmt: skip
    if energy.rated_a > 0.0:
        yield tr("Alternator: {current}{assumed} at speed; {idle} taken at idle (common practice, "
                 "no source: see the maker's curve).", current=show(energy.rated_a, "current"),
                 assumed=assumed if energy.rated_assumed else "",
                 idle=show(energy.idle_a, "current"))  # fmt: skip
    else:
        yield tr("There is no alternator: the battery gives it all.")
