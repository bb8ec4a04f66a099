"""What can be sized in a circuit: fuses, runs of wires that share a size, relays.

Wires form a run when the same fuse protects them and they carry the same loads: all that is
downstream of a trunk is in it together. The return of loads belongs to the run that feeds them,
and so does the piece between a battery and the one fuse it leads to.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from checks.case import Case
from checks.currents import is_starter
from checks.sizing.advice import FUSE, RELAY, WIRE
from checks.sizing.forms import OtherFuse
from checks.stock import fuse_ratings, sizes_above
from model.circuit import Circuit, Wire
from model.kinds.relays import PLAIN
from model.lookup import kind_of, number, rating
from model.own_tables import may_carry
from model.resistances import ASSUMED_LENGTH_M
from model.tables.relay_types import RelayType, relay_types
from model.wiresize import Size

SMALLEST = 0.3
"""Wires below this many mm² are not advised on a vehicle: they break; common practice."""
SMALLEST_AWG = 24
BASE_C = 30.0
"""The ambient for which a table is asked whether it covers a size."""
LEAST_SHARE = 0.05
"""A load that draws less of a wire's current than this does not make the wire a shared one."""
PLAIN_RELAYS = frozenset(k.key for k in PLAIN)
BACK = "-"
"""Stands for the fuse of wires on the ground side."""
Value = float | OtherFuse | Size | RelayType
Groups = dict[tuple[str, tuple[str, ...]], dict[str, float]]
"""Wires with their greatest current, by fuse and the loads they carry."""


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to be sized and what it may be, the smallest first.

    `loads` are the ids of loads and coils whose current it carries, `amps` the greatest of it.
    """

    kind: str
    part: str
    wires: tuple[str, ...]
    loads: tuple[str, ...]
    amps: float
    values: tuple[Value, ...]

    @property
    def key(self) -> tuple[str, ...]:
        """What tells it from the others."""
        return (self.kind, self.part, *self.wires)

    def text(self, value: Value | None) -> str:
        """Return a value in words."""
        if value is None:
            return "unknown"
        if isinstance(value, RelayType):
            return value.title
        if isinstance(value, OtherFuse):
            return f"{value.rating_a:g} A ({value.form.title})"
        return value.text() if isinstance(value, Size) else f"{value:g} A"

    def copper(self, circuit: Circuit, size: Size) -> float:
        """Return the copper of a run at a size, in mm²·m."""
        wires = (circuit.wires[w] for w in self.wires)
        lengths = (ASSUMED_LENGTH_M if w.length_m is None else w.length_m for w in wires)
        return size.area_mm2 * sum(lengths)


def items_of(case: Case, chosen: frozenset[str], *, whole: bool) -> tuple[Item, ...]:
    """Return what can be sized for some loads.

    Parameters
    ----------
    case
        The circuit, analysed.
    chosen
        Ids of the loads; what carries others too is left alone.
    whole
        Whether coils' own feeds are sized too.
    """
    carried = _Carried(case, chosen, whole)
    return (*_fuses(carried), *_runs(carried), *_relays(carried))


class _Carried:
    """Which loads' current every edge carries where it carries most."""

    def __init__(self, case: Case, chosen: frozenset[str], whole: bool) -> None:
        self.case, self.chosen, self.whole = case, chosen, whole
        self._known: dict[int, tuple[str, ...] | None] = {}

    def by(self, index: int) -> tuple[str, ...] | None:
        """Return the loads of an edge in order, None where it is to be left alone."""
        if index not in self._known:
            self._known[index] = self._looked(index)
        return self._known[index]

    def amps(self, index: int) -> float:
        """Return the greatest current of an edge in amperes."""
        return float(self.case.peaks.amps[index])

    def _looked(self, index: int) -> tuple[str, ...] | None:
        case, amps = self.case, self.amps(index)
        if amps <= 1e-3:
            return None
        found = self._loads(index, int(case.peaks.rows[index]))
        loads = {case.network.edges[i].owner for i in found if self._is_load(i)}
        starts = any(is_starter(case.network.edges[i]) for i in found)
        if starts or not loads <= self.chosen or (not loads and not self.whole):
            return None
        owners = {case.network.edges[i].owner for i, a in found.items()
                  if loads == set() or self._is_load(i) or a > LEAST_SHARE * amps}  # fmt: skip
        return tuple(p for p in case.circuit.parts if p in owners) or None

    def _loads(self, index: int, row: int) -> dict[int, float]:
        """Return what an edge carries where it carries most, and what else it ever carries."""
        flows = self.case.flows(row)
        found = flows.loads_through(index)
        column = np.abs(self.case.survey.amps[:, index])
        _, rows = np.unique(np.round(column, 2), return_index=True)
        for other in rows[::-1][:6].tolist():
            if column[other] > 1e-3 and not self.case.cleared[other]:
                for load, amps in self.case.flows(other).loads_through(index).items():
                    found.setdefault(load, amps)
        return found

    def _is_load(self, index: int) -> bool:
        return self.case.network.edges[index].role == "load"


def _fuses(carried: _Carried) -> Iterator[Item]:
    """Yield the fuses that carry nothing but what is sized."""
    case = carried.case
    for index, edge in case.network.of_role("fuse"):
        part = case.circuit.parts[edge.owner]
        loads, sold = carried.by(index), fuse_ratings(case.circuit, part)
        if loads and sold:
            stated = rating(case.circuit, part, "rating_a")
            own = {float(stated.number)} if stated.origin == "part" and stated.number else set()
            yield Item(FUSE, part.id, (), loads, carried.amps(index), (*sorted({*sold, *own}),))


def _runs(carried: _Carried) -> Iterator[Item]:
    """Yield the runs of wires, in file order."""
    case = carried.case
    groups: Groups = {}
    feeding = _feeding(case)
    for index, edge in case.network.of_role("wire"):
        loads = carried.by(index)
        if loads and not _stays(case, edge.owner):
            group = groups.setdefault((feeding.get(edge.owner, BACK), loads), {})
            group[edge.owner] = carried.amps(index)
    for (_, loads), wires in _joined(case, groups).items():
        ids = tuple(w for w in case.circuit.wires if w in wires)
        sizes = _sizes(case.circuit, [case.circuit.wires[w] for w in ids])
        if sizes:
            yield Item(WIRE, "", ids, loads, max(wires.values()), sizes)


def _feeding(case: Case) -> dict[str, str]:
    """Return the fuse that protects each wire, "" before the first; returns have none."""
    found: dict[str, str] = {}
    for feed in sorted(case.feeds, key=lambda f: f.fuse is None):
        for wire in feed.wires:
            found.setdefault(wire, feed.fuse.owner if feed.fuse else "")
    return found


def _joined(case: Case, groups: Groups) -> Groups:
    """Return the groups with returns, and what leads to a first fuse, put to their runs.

    A return joins the run that feeds the same loads behind the most fuses; what lies before the
    first fuse joins the run behind that fuse, if it carries the same loads.
    """
    found = {k: dict(v) for k, v in groups.items() if k[0] not in ("", BACK)}
    depths = _depths(case)
    for (fuse, loads), wires in groups.items():
        if fuse not in ("", BACK):
            continue
        homes = [k for k in found if k[1] == loads and (fuse == BACK or depths.get(k[0]) == 1)]
        home = max(homes, key=lambda k: depths.get(k[0], 0), default=(fuse, loads))
        found.setdefault(home, {}).update(wires)
    return found


def _depths(case: Case) -> dict[str, int]:
    """Return how many fuses a current passes up to each fuse, itself counted."""
    found: dict[str, int] = {}
    todo = [(f.owner, 1) for feed in case.feeds if feed.fuse is None for f in feed.fuses]
    while todo:
        fuse, depth = todo.pop(0)
        if fuse not in found:
            found[fuse] = depth
            behind = (f for f in case.feeds if f.fuse is not None and f.fuse.owner == fuse)
            todo += [(f.owner, depth + 1) for feed in behind for f in feed.fuses]
    return found


def _stays(case: Case, wire_id: str) -> bool:
    """Tell whether a wire stays: a starter's cable, or one at a battery's minus."""
    if wire_id in case.starter_cables:
        return True
    edge = case.network.edges[case.network.by_key[(wire_id, "")]]
    return bool({edge.a, edge.b} & {e.b for e in case.sources})


def _sizes(circuit: Circuit, wires: list[Wire]) -> tuple[Size, ...]:
    """Return the sizes that wires may have, in the system that they are in.

    What the chosen table does not cover proves nothing, and is not advised.
    """
    awg = any(w.size is not None and w.size.awg is not None for w in wires)
    sizes = sizes_above(Size(awg=SMALLEST_AWG) if awg else Size(mm2=SMALLEST))
    return tuple(s for s in sizes if may_carry(circuit, s, BASE_C).value_a is not None)


def _relays(carried: _Carried) -> Iterator[Item]:
    """Yield the plain relays whose contacts carry nothing but what is sized."""
    case = carried.case
    contacts: dict[str, list[int]] = {}
    for index, edge in case.network.of_role("contact"):
        if case.circuit.parts[edge.owner].kind in PLAIN_RELAYS:
            contacts.setdefault(edge.owner, []).append(index)
    for part_id, indices in contacts.items():
        used = [i for i in indices if carried.amps(i) > 1e-3]
        loads = [carried.by(i) for i in used]
        if used and all(loads):
            owners = {p for some in loads if some for p in some}
            ids = tuple(p for p in case.circuit.parts if p in owners)
            amps = max(carried.amps(i) for i in used)
            yield Item(RELAY, part_id, (), ids, amps, _types(case, part_id))


def _types(case: Case, part_id: str) -> tuple[RelayType, ...]:
    """Return the types that have the contacts of a relay."""
    part = case.circuit.parts[part_id]
    breaks = "break_a" in kind_of(case.circuit, part).specs
    return tuple(t for t in relay_types() if t.break_a is not None or not breaks)


def present(circuit: Circuit, item: Item) -> str:
    """Return what is there now, in words."""
    if item.kind == WIRE:
        sizes = (circuit.wires[w].size for w in item.wires)
        return ", ".join(dict.fromkeys(s.text() if s else "unknown" for s in sizes))
    part = circuit.parts[item.part]
    if item.kind == FUSE:
        return f"{number(circuit, part, 'rating_a'):g} A"
    return f"{number(circuit, part, 'contact_a'):g} A contact"
