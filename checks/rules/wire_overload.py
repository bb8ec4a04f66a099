"""A wire that carries more than its size may, in its zone and bundle.

What it finds
    Wires whose current, in any state, is above their ampacity at the temperature of their zone
    and among the wires of their bundle that are loaded in that state. Wires that carry current and
    whose size, or number in the bundle, the chosen tables do not cover are named as unknown.

Why it matters
    Heat grows with the square of the current: a fifth too much is nearly half as hot again.
    The insulation softens, chafes through, and shorts.

Example
    A 20 A fan on 1 mm², which may carry 16.5 A at 30 °C, 13.5 A beside the radiator at 55 °C, and
    10 A at 30 °C where five loaded wires lie in one bundle.

How to fix
    Thicker wire, a cooler way, or a relay near the load so that the long wire carries the coil
    only.

Limits
    Running current, not the start of a motor. Current that flows only while a starter cranks
    lasts seconds: it is judged by the heat of 30 s without any cooling (IEC 60949), from the
    zone's temperature to the one the insulation stands. A wire with less than 30 % of what it may
    carry does not count as loaded (IEC 60364-5-52, from memory). What is not drawn in the bundle
    is not counted.

Reference
    The chosen ampacity table; other ambients by √((T_max − θ)/(T_max − 30)); bundles by the chosen
    bundle table (MIL-W-5088L curves unless told). The copper's temperature: zone + (T_max − 30)·
    (I/I_max)². 30 s is the longest discharge of the SAE cranking test.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from checks.bundles import Held, source_of, where, where_values
from checks.case import Case
from checks.finding import DANGER, UNKNOWN, Finding, Remedy
from checks.flows import LEAST_A
from checks.stock import sizes_above
from checks.wording import listed
from model.circuit import Wire
from model.edits import set_wire
from model.network import Edge
from model.tables.heating import adiabatic_k
from model.wiresize import Size

NAME = "wire-overload"
FAMILY = "rating"
CRANKING_S = 30.0
"""Longest cranking a wire must stand: the discharge of the SAE cranking test."""
SAME = 1e-9
_BASE = """
    G1 battery
    F1 fuse-strip rating_a=30
    S1 switch contact_a=40
    E1 heater current_a=20
    X1 ground
    W1 G1.+ F1.1 6 0.15
    W2 F1.2 S1.1 6 0.5
    W3 S1.2 E1.+ {size} 0.5
    W4 E1.- X1.g 6 0.3
    W5 X1.g G1.- 10 0.3
"""
_TWO = (
    _BASE
    + """
    S2 switch contact_a=40
    E2 heater current_a=20
    W6 F1.2 S2.1 6 0.5
    W7 S2.2 E2.+ 2.5 0.5
    W8 E2.- X1.g 6 0.3
    bundle B1 W3 W7
"""
)
BAD = (
    (_BASE.format(size=1), ((DANGER, ("E1", "W3")),)),
    (_BASE.format(size="0.35"), ((UNKNOWN, ("W3",)),)),
    # Two loaded wires in a bundle: 29 A × 0.825 = 23.9 A hold 20 A; 21 A × 0.825 = 17.3 A do not.
    (_TWO.format(size=1.5), ((DANGER, ("E1", "W3")),)),
)
GOOD = (_BASE.format(size=2.5), _BASE.format(size="?"), _TWO.format(size=2.5))


@dataclass(frozen=True, slots=True)
class _Over:
    """A wire above its ampacity."""

    index: int
    wire: Wire
    held: Held
    amps: float
    row: int

    @property
    def alike(self) -> tuple[str, float, float, str]:
        """What wires of one run have in common: size, limit, current and bundle."""
        size = self.wire.size.text() if self.wire.size else ""
        return size, self.held.value_a or 0.0, round(self.amps, 3), self.held.bundle


def find(case: Case) -> Iterator[Finding]:
    """Yield a finding for every run of wire that carries too much, and one for those not known."""
    unknown: dict[str, list[tuple[Wire, float]]] = {}
    over: dict[tuple[str, float, float, str], list[_Over]] = {}
    for index, edge in case.network.of_role("wire"):
        wire = case.circuit.wires[edge.owner]
        held = case.ampacity(wire)
        running = float(case.peaks.amps[index])
        starting = float(case.cranking_peaks.amps[index])
        if held is None:
            continue  # no size: size-or-length-missing says so once
        one = _worst(case, index, wire, held)
        if held.value_a is None:
            if max(running, starting) > LEAST_A:
                unknown.setdefault(held.lacks, []).append((wire, max(running, starting)))
        elif one.amps > (one.held.value_a or 0.0) * (1 + SAME):
            over.setdefault(one.alike, []).append(one)
        elif starting > running and starting > _cranking_a(case, wire, held):
            yield _cranking(case, index, wire, held)
    for run in over.values():
        yield _overload(case, run)
    for table, wires in unknown.items():
        yield _not_known(case, table, wires)


def _worst(case: Case, index: int, wire: Wire, held: Held) -> _Over:
    """Return the state in which a wire is nearest its limit, with current and limit there."""
    bundled = case.bundles.worst(wire, index)
    if bundled is not None:
        limit, amps, row = bundled
        return _Over(index, wire, limit, amps, row)
    return _Over(index, wire, held, float(case.peaks.amps[index]), int(case.peaks.rows[index]))


def _cranking_a(case: Case, wire: Wire, held: Held) -> float:
    """Return what a wire stands for the time of a start."""
    zone_c = case.zone_c(wire)
    if wire.size is None or zone_c >= held.t_max_c:
        return 0.0
    return adiabatic_k(zone_c, held.t_max_c) * wire.size.area_mm2 / math.sqrt(CRANKING_S)


def _overload(case: Case, run: list[_Over]) -> Finding:
    """Return the finding of wires of one size with one current too great for them."""
    first = run[0]
    parts = _loads(case, first.row, case.network.edges[first.index])
    size, limit, *_ = first.alike
    guessed = case.guessed(o.wire.id for o in run)
    copper_c = first.held.copper_c(first.amps)
    return Finding(
        rule=NAME,
        severity=DANGER,
        parts=parts,
        wires=tuple(o.wire.id for o in run),
        says="{current:current} runs through {wire}"
        + (" for {loads}" if parts else "")
        + "; {size} may carry {limit:current} "
        + where(first.held)
        + (". Its copper would reach {copper:temperature}." if copper_c is not None else ".")
        + guessed,
        values={
            "wire": listed(case.wire_name(o.wire.id) for o in run),
            "current": first.amps,
            "size": size,
            "limit": limit,
            "share": first.amps / max(limit, 1e-9),
            "loads": listed(case.name(p) for p in parts),
            **where_values(first.held),
            **({"copper": copper_c} if copper_c is not None else {}),
        },
        source=source_of(first.held),
        path=(*(("wires", o.wire.id) for o in run), *(("parts", p) for p in parts)),
        setting=case.survey.settings[first.row],
        remedy=_remedy(case, run),
    )


def _cranking(case: Case, index: int, wire: Wire, held: Held) -> Finding:
    """Return the finding of a wire that a start overheats."""
    row = int(case.cranking_peaks.rows[index])
    amps = float(case.cranking_peaks.amps[index])
    return Finding(
        rule=NAME,
        severity=DANGER,
        wires=(wire.id,),
        says="{wire} ({size}) carries {current:current} while the starter cranks; in "
        "{seconds:time} of that it stands no more than {limit:current}.",
        values={
            "wire": case.wire_name(wire.id),
            "size": wire.size.text() if wire.size else "",
            "current": amps,
            "limit": _cranking_a(case, wire, held),
            "seconds": CRANKING_S,
            "zone": case.zone_c(wire),
            "table": held.table,
        },
        source=f"IEC 60949, no heat lost, to {held.t_max_c:g} °C in 30 s (SAE cranking test)",
        path=(("wires", wire.id),),
        setting=case.survey.settings[row],
    )


def _loads(case: Case, row: int, edge: Edge) -> tuple[str, ...]:
    """Return the parts a wire feeds in a state, the greatest first, the small ones left out."""
    loads = case.flows(row).loads_through(case.network.by_key[edge.key])
    most = max(loads.values(), default=0.0)
    kept = sorted((i for i in loads if loads[i] > 0.05 * most), key=lambda i: -loads[i])
    return tuple(dict.fromkeys(case.network.edges[i].owner for i in kept))


def _remedy(case: Case, run: list[_Over]) -> Remedy | None:
    """Return the next size of the same system that carries the current of the run.

    Thicker wire lets a little more flow: as much as without any drop in these wires.
    """
    first = run[0].wire
    if first.size is None:
        return None
    row = run[0].row
    drop = sum(abs(float(case.survey.across(o.index)[row])) for o in run)
    amps = run[0].amps * case.supply_v / max(case.supply_v - drop, 0.1 * case.supply_v)
    for size in sizes_above(first.size):
        held = case.ampacity(replace(first, size=size))
        if held is not None and held.value_a is not None and held.value_a >= amps:
            return _thicker(case, [o.wire for o in run], size)
    return None


def _thicker(case: Case, wires: list[Wire], size: Size) -> Remedy:
    """Return the change that gives wires a size."""
    text = f"Make {listed(case.wire_name(w.id) for w in wires)} {size.text()}"
    change = set_wire(case.circuit, replace(wires[0], size=size), text)
    for wire in wires[1:]:
        change = change.then(set_wire(case.circuit, replace(wire, size=size), text))
    return Remedy(text, change)


def _not_known(case: Case, table: str, wires: list[tuple[Wire, float]]) -> Finding:
    """Return the finding of wires whose ampacity is not known."""
    names = (f"{case.wire_name(w.id)} ({w.size.text() if w.size else ''})" for w, _ in wires)
    them = "it" if len(wires) == 1 else "them"
    return Finding(
        rule=NAME,
        severity=UNKNOWN,
        wires=tuple(w.id for w, _ in wires),
        says="Whether {wire} may carry what runs through it, up to {current:current}, cannot be "
        f"told: the table {{table}} does not cover {them}.",
        values={
            "wire": listed(names),
            "current": max(a for _, a in wires),
            "table": table,
        },
        source="data missing",
        path=tuple(("wires", w.id) for w, _ in wires),
    )
