"""`loads FILE`: what every load draws, and what that asks of battery and alternator."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from math import isfinite
from pathlib import Path
from typing import Any

from app.commands.errors import ExitCode, WrongCall
from app.commands.names import Names
from app.commands.opening import opened
from app.commands.size import names_part
from app.commands.talk import Talk
from app.commands.verb import Verb
from checks.balance import Balance, balances_of
from checks.case import Case
from checks.energy import Energy, Row, Scenario, energy_of
from checks.used import rests_on
from checks.wording import listed
from model.circuit import Circuit
from model.lookup import label
from model.states import Setting
from model.units import show

TITLES = {
    "rest": "at rest",
    "most": "most together",
    "use": "on average",
    "start": "while starting",
}
CASES = {
    ("resting", "rest"): "at rest",
    ("resting", "most"): "engine off, most on",
    ("charging", "most"): "charging, most on",
    ("cranking", "most"): "cranking",
}
DAY_H = 24.0


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--use",
        action="append",
        default=[],
        metavar="REF=SHARE",
        help="share of time that a load is in use, 0.3 or 30 %%, instead of what the file states",
    )


def _run(options: argparse.Namespace, talk: Talk) -> int:
    circuit = opened(options.file, talk)
    names = Names(circuit)
    used = dict(_used(circuit, names, words) for words in options.use)
    energy, balances = energy_of(Case(circuit), used), balances_of(circuit, used)
    name = Path(options.file).name
    if options.json:
        head = {"file": name, "circuit": circuit.settings.title}
        supplies = [_balance_data(circuit, b) for b in balances]
        more = {"supplies": supplies, "rests_on": list(rests_on(circuit))}
        talk.json(head | energy_data(circuit, names, energy) | more)
    else:
        talk.data(f"{circuit.settings.title or name}\n")
        for line in energy_lines(circuit, names, energy, talk):
            talk.data(line)
        for line in balance_lines(circuit, energy, balances):
            talk.data(talk.wrapped(line) if line[:1] != " " else line)
    return ExitCode.GOOD


def _used(circuit: Circuit, names: Names, words: str) -> tuple[str, float]:
    """Return the part and the share that one option tells."""
    ref, _, text = words.rpartition("=")
    number = text.strip().replace(",", ".").rstrip("% ")
    try:
        share = float(number) / (100.0 if text.strip().endswith("%") else 1.0)
    except ValueError:
        share = -1.0
    if not ref or not 0.0 <= share <= 1.0:
        raise WrongCall(f"--use {words}: write it as M1=0.3 or M1=30%, a share from 0 to 1.")
    return names_part(circuit, names, ref.strip()), share


def energy_data(circuit: Circuit, names: Names, energy: Energy) -> dict[str, Any]:
    """Return the load table as the JSON gives it."""
    return {
        "loads": [_row_data(names, r) for r in energy.rows],
        "scenarios": [
            {
                "name": s.name,
                "current_a": s.amps,
                "positions": _positions(circuit, s),
                "engine": s.setting.engine if s.setting else None,
                "half_lasts_h": energy.lasts_h(s.amps) if s.amps > 0.0 else None,
            }
            for s in energy.scenarios
        ],
        "battery_ah": energy.capacity_ah,
        "battery_spare_ah": energy.spare_ah,
        "battery_assumed": energy.capacity_assumed,
        "alternator_a": energy.rated_a,
        "alternator_assumed": energy.rated_assumed,
        "alternator_idle_a": energy.idle_a,
    }


def _row_data(names: Names, row: Row) -> dict[str, Any]:
    return {
        "part": names.parts[row.part],
        "element": row.element,
        "coil": row.coil,
        "runs_a": row.runs_a,
        "starts_a": row.starts_a,
        "starts_s": row.starts_s,
        "rests_a": row.rests_a,
        "use": row.use,
        "average_a": row.average_a,
        "assumed": list(row.assumed),
    }


def energy_lines(circuit: Circuit, names: Names, energy: Energy, talk: Talk) -> Iterator[str]:
    """Yield the load table and what it asks of the supply, as lines."""
    if not energy.rows:
        yield "No load draws anything in any state."
        return
    table = [("", "runs", "starts", "at rest", "used", "average"), *_cells(circuit, names, energy)]
    widths = [max(len(line[c]) for line in table) for c in range(6)]
    for line in table:
        cells = [line[0].ljust(widths[0]), *(t.rjust(w) for t, w in zip(line[1:], widths[1:],
                                                                        strict=True))]  # fmt: skip
        yield "  ".join(cells).rstrip()
    yield ""
    for scenario in energy.scenarios:
        yield talk.wrapped(scenario_line(circuit, energy, scenario))
    yield from (talk.wrapped(line) for line in notes_of(circuit, energy))


def _cells(circuit: Circuit, names: Names, energy: Energy) -> Iterator[tuple[str, ...]]:
    """Yield the cells of every row."""
    for row in energy.rows:
        name = "coil" if row.coil else circuit.parts[row.part].name
        name = f"{name} ({row.element})" if row.element else name
        yield (
            f"{names.parts[row.part]}  {name}".rstrip(),
            show(row.runs_a, "current"),
            f"{show(row.starts_a, 'current')} {show(row.starts_s, 'time')}" if row.starts_s else "",
            show(row.rests_a, "current") if row.rests_a > 1e-6 else "",
            f"{100 * row.use:.0f} %",
            show(row.average_a, "current"),
        )


def scenario_line(circuit: Circuit, energy: Energy, scenario: Scenario) -> str:
    """Return what all loads draw together in one case, and what gives it."""
    title = TITLES[scenario.name]
    positions = ", ".join(f"{k} {v}" for k, v in _positions(circuit, scenario).items())
    text = f"{title}: {show(scenario.amps, 'current')}" + (f" ({positions})" if positions else "")
    if scenario.name == "start" or scenario.amps <= 1e-6:
        return text + "."
    if scenario.name != "rest" and energy.rated_a > 0.0:
        text += (
            f", {100 * scenario.amps / energy.rated_a:.0f} % of what the alternator is rated, "
            f"{100 * scenario.amps / energy.idle_a:.0f} % of what it may give at idle"
        )
    if energy.capacity_ah > 0.0:
        text += f"; the battery alone is at half its charge after {_long(energy, scenario)}"
    return text + "."


def _long(energy: Energy, scenario: Scenario) -> str:
    """Return hours, or days where it is long."""
    return _hours(energy.lasts_h(scenario.amps))


def _hours(hours: float) -> str:
    """Return hours, or days where it is long."""
    return f"{hours / DAY_H:.0f} days" if hours > 2 * DAY_H else show(hours * 3600.0, "time")


def notes_of(circuit: Circuit, energy: Energy) -> Iterator[str]:
    """Yield what the table rests on."""
    battery = " (assumed)" if energy.capacity_assumed else ""
    if energy.capacity_ah > 0.0:
        yield f"Battery: {show(energy.capacity_ah, 'capacity')}{battery}."
    if energy.rated_a > 0.0:
        assumed = " (assumed)" if energy.rated_assumed else ""
        yield (
            f"Alternator: {show(energy.rated_a, 'current')}{assumed} at speed; "
            f"{show(energy.idle_a, 'current')} taken at idle (common practice, no source: see the "
            "maker's curve)."
        )
    else:
        yield "There is no alternator: the battery gives it all."
    titles = dict.fromkeys(a for r in energy.rows for a in r.assumed)
    for title in titles:
        some = dict.fromkeys(label(circuit.parts[r.part]) for r in energy.rows
                             if title in r.assumed)  # fmt: skip
        yield f"Usual {title} taken for {listed(some)}: it is not stated."
    yield from rests_on(circuit)


def _balance_data(circuit: Circuit, balance: Balance) -> dict[str, Any]:
    """Return who gives what in one case as the JSON gives it."""
    return {
        "supply": balance.supply,
        "case": balance.case,
        "positions": _named(circuit, balance.setting),
        "engine": balance.setting.engine,
        "loads_a": balance.loads_a,
        "starter_a": balance.starter_a,
        "average_a": balance.average_a,
        "battery_a": balance.battery_a,
        "battery_v": balance.battery_v,
        "alternator_a": balance.alternator_a,
        "idle_left_a": balance.idle_left_a,
        "rated_left_a": balance.rated_left_a,
        "half_lasts_h": balance.lasts_h if isfinite(balance.lasts_h) else None,
    }


def balance_lines(circuit: Circuit, energy: Energy, balances: tuple[Balance, ...]) -> Iterator[str]:
    """Yield who gives what at rest, while charging and while cranking, as lines."""
    if not balances or not energy.rows:
        return
    heads = ("", "loads", "starter", "from battery", "alternator", "battery at", "half after")
    table: list[tuple[str, ...]] = [heads, *(_balance_cells(energy, b) for b in balances)]
    widths = [max(len(line[c]) for line in table) for c in range(len(table[0]))]
    yield ""
    for line in table:
        cells = [t.rjust(w) for t, w in zip(line[1:], widths[1:], strict=True)]
        yield "  " + "  ".join([line[0].ljust(widths[0]), *cells]).rstrip()
    yield ""
    yield from (_balance_said(circuit, b) for b in balances if _balance_said(circuit, b))


def _balance_cells(energy: Energy, balance: Balance) -> tuple[str, ...]:
    """Return the cells of one case; what does not flow is left out."""

    def amps(value: float) -> str:
        return show(value, "current") if abs(value) > 1e-3 else ""

    half = ""
    if isfinite(balance.lasts_h) and energy.capacity_ah > 0.0:
        half = _hours(balance.lasts_h)
    return (
        CASES[balance.supply, balance.case],
        amps(balance.loads_a),
        amps(balance.starter_a),
        amps(balance.battery_a),
        amps(balance.alternator_a),
        show(balance.battery_v, "voltage"),
        half,
    )


def _balance_said(circuit: Circuit, balance: Balance) -> str:
    """Return what a case means for the battery, "" where the table says it all."""
    idle, rated = balance.idle_left_a, balance.rated_left_a
    on = ", ".join(f"{k} {v}" for k, v in _named(circuit, balance.setting).items())
    on = f" ({on})" if on else ""
    if balance.supply == "charging" and (idle is None or rated is None):
        return f"charging{on}: what charges the battery is not drawn; the loads draw " \
            f"{show(balance.loads_a, 'current')} at its charging voltage."  # fmt: skip
    if idle is not None and rated is not None:
        said = f"charging{on}: {show(balance.average_a, 'current')} on average; for the battery "
        said += f"{_left(rated)} at speed and {_left(idle)} at idle"
        drained = isfinite(balance.lasts_h)
        return said + (f": half its charge is gone after {_hours(balance.lasts_h)}." if drained
                       else ".")  # fmt: skip
    if balance.supply == "cranking" and balance.starter_a <= 1e-3:
        return f"cranking{on}: no starter is drawn; the battery is taken as low as one pulls it."
    return ""


def _left(amps: float) -> str:
    """Return what is left of an alternator, or short."""
    return f"{show(abs(amps), 'current')} are {'left' if amps >= 0.0 else 'missing'}"


def _named(circuit: Circuit, setting: Setting | None) -> dict[str, str]:
    positions = setting.positions if setting else {}
    return {label(circuit.parts[k]): v for k, v in positions.items()}


def _positions(circuit: Circuit, scenario: Scenario) -> dict[str, str]:
    return _named(circuit, scenario.setting)


LOADS = Verb("loads", "What loads draw, against battery and alternator.", _arguments, _run)
