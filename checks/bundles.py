"""What wires may carry where they lie: in their zones, among the loaded wires of their bundles.

The wires of a branch of the harness are one bundle. How many of them are loaded is looked up in
every solved state, so that a bundle is judged by what really runs together. A starter that cranks
and a short that a fuse ends within seconds do not count: they do not last.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, partial

import numpy as np
from numpy.typing import NDArray

from checks.finding import Datum
from model.circuit import Circuit, Wire
from model.linear import Floats
from model.own_tables import bundle_share, bundle_source, may_carry
from model.survey import Survey
from model.tables.ampacity import Ampacity
from model.tables.heating import steady_temperature_c
from model.tables.store import SUPPLIED
from model.wiresize import Size
from model.zones import Warmth, branch_warmth, stretches

LOADED_SHARE = 0.30
"""A wire that carries less than this of what it may in the bundle warms the others by next to
nothing and is not counted (IEC 60364-5-52, annex B, from memory)."""
LEAST_A = 0.01
"""Below this a wire carries nothing."""


@dataclass(frozen=True, slots=True)
class Held(Ampacity):
    """What a wire may carry where it lies, and what it was reckoned from.

    Attributes
    ----------
    warmth : Warmth
        The temperature around it where this limit holds, and its zone.
    free_a : float or None
        What it may carry there at the table's own ambient, among the wires of its bundle.
    bundle : str
        Name of the branch whose bundle sets the limit; "" where none does.
    loaded, lying : int
        Wires loaded together in it, this one included, and wires that lie in it.
    share : float
        What the bundle leaves of the ampacity.
    bundle_table, bundle_source : str
        Id and source of the table of that share.
    lacks : str
        Id of the table that does not cover it, "" where the limit is known.
    """

    warmth: Warmth
    free_a: float | None
    bundle: str = ""
    loaded: int = 1
    lying: int = 1
    share: float = 1.0
    bundle_table: str = ""
    bundle_source: str = ""
    lacks: str = ""

    def copper_c(self, amps: float) -> float | None:
        """Return how hot the copper becomes for ever at a current, None where it is not known.

        The rise goes with the square of the current and reaches the insulation's limit at the
        table's figure (IEC 60287 in its plainest form: heat lost in proportion to the rise).
        """
        if not self.free_a:
            return None
        return steady_temperature_c(
            amps, self.free_a, self.warmth.celsius, self.t_max_c, self.base_c
        )


@dataclass(frozen=True, slots=True)
class Bundle:
    """A branch with its wires: `column` of each by id, what is loaded, shape (states, wires)."""

    name: str
    column: dict[str, int]
    loaded: NDArray[np.bool_]
    counts: NDArray[np.intp]

    def others(self, wire_id: str) -> NDArray[np.intp]:
        """Return how many wires beside this one are loaded, shape (states,)."""
        column = self.column.get(wire_id)
        mine = 0 if column is None else self.loaded[:, column].astype(np.intp)
        return np.asarray(self.counts - mine, np.intp)


class Bundles:
    """What the wires of a circuit may carry in its zones and bundles.

    Parameters
    ----------
    circuit, survey
        The circuit and its solved states.
    lasting
        States whose currents count, shape (states,).
    """

    def __init__(self, circuit: Circuit, survey: Survey, lasting: NDArray[np.bool_]) -> None:
        self.circuit = circuit
        self._survey, self._lasting = survey, lasting
        self._known: dict[tuple[str, object], Held] = {}

    def held(self, wire: Wire) -> Held | None:
        """Return the least that a wire may carry over all states, None without a size."""
        if wire.size is None:
            return None
        if self.circuit.branches or self.circuit.zones:
            key = (wire.id, wire.size)
            if key not in self._known:
                self._known[key] = self._least(wire, None)
            return self._known[key]
        frame = self._survey.solver.network.frame
        records = (wire.size, self.circuit.settings, self.circuit.own_tables)
        return frame.kept("held", wire.id, records, partial(self._sized, wire))

    def _sized(self, wire: Wire) -> Held:
        """Return what a wire may carry where there are no zones and bundles: by its size alone."""
        kept = self._survey.solver.network.frame.kept
        # A circuit under another table may be looked at with the survey of the first one.
        records = (self.circuit.settings, self.circuit.own_tables)
        known: dict[Size | None, Held] = kept("held sizes", "", records, dict)
        if wire.size not in known:
            known[wire.size] = self._least(wire, None)
        return known[wire.size]

    def worst(self, wire: Wire, edge: int) -> tuple[Held, float, int] | None:
        """Return limit, amperes and state of a bundled wire where it is nearest its limit.

        None where it lies in no bundle, or some limit of it is not known.
        """
        bundles = [b for b in wire.branches if b in self.by_branch]
        if wire.size is None or not bundles:
            return None
        amps = np.abs(self._survey.amps[:, edge]) * self._lasting
        limits = self._limits(wire)
        if not np.isfinite(limits).all():
            return None
        row = int((amps / np.maximum(limits, 1e-9)).argmax())
        return self._least(wire, row), float(amps[row]), row

    @cached_property
    def by_branch(self) -> dict[str, Bundle]:
        """The bundles of two wires or more, by the id of their branch."""
        if not self.circuit.branches:
            return {}
        lying: dict[str, list[tuple[int, Wire]]] = {}
        for index, edge in self._survey.solver.network.of_role("wire"):
            wire = self.circuit.wires[edge.owner]
            for branch in dict.fromkeys(wire.branches):
                if branch in self.circuit.branches:
                    lying.setdefault(branch, []).append((index, wire))
        return {b: self._bundle(b, wires) for b, wires in lying.items() if len(wires) > 1}

    def _bundle(self, branch_id: str, wires: list[tuple[int, Wire]]) -> Bundle:
        """Return which of the wires of a branch are loaded in which state."""
        branch = self.circuit.branches[branch_id]
        amps = np.abs(self._survey.amps[:, [i for i, _ in wires]]) * self._lasting[:, None]
        celsius = branch_warmth(self.circuit, branch).celsius
        least = self._share(len(wires)) or 0.0
        may = np.array([self._single(w, celsius) or 0.0 for _, w in wires])
        loaded = amps > np.maximum(LEAST_A, LOADED_SHARE * least * may)
        column = {w.id: k for k, (_, w) in enumerate(wires)}
        return Bundle(branch.name or branch.id, column, loaded, loaded.sum(axis=1))

    def _single(self, wire: Wire, celsius: float) -> float | None:
        """Return what a wire may carry alone, None where that is not known."""
        return None if wire.size is None else self._alone(wire, celsius).value_a

    def _alone(self, wire: Wire, celsius: float) -> Ampacity:
        assert wire.size is not None
        return may_carry(self.circuit, wire.size, celsius)

    def _share(self, loaded: int) -> float | None:
        return bundle_share(self.circuit, max(loaded, 1))

    def _limits(self, wire: Wire) -> Floats:
        """Return what a wire may carry in every state, NaN where unknown, shape (states,)."""
        limits = np.full(len(self._lasting), np.inf)
        for branch, warmth in stretches(self.circuit, wire):
            may = self._single(wire, warmth.celsius)
            bundle = self.by_branch.get(branch)
            counts = bundle.others(wire.id) + 1 if bundle else np.ones(len(limits), np.intp)
            shares = [self._share(n) for n in range(int(counts.max(initial=1)) + 1)]
            known = np.array([np.nan if s is None else s for s in shares])
            limits = np.minimum(limits, (np.nan if may is None else may) * known[counts])
        return limits

    def _least(self, wire: Wire, row: int | None) -> Held:
        """Return the limit of the stretch of a wire that has the least, in one state or in all."""
        found = [self._at(wire, b, w, row) for b, w in stretches(self.circuit, wire)]
        return min(found, key=lambda h: -1.0 if h.value_a is None else h.value_a)

    def _at(self, wire: Wire, branch: str, warmth: Warmth, row: int | None) -> Held:
        """Return what a wire may carry in one stretch."""
        alone = self._alone(wire, warmth.celsius)
        free = self._alone(wire, alone.base_c).value_a
        bundle = self.by_branch.get(branch)
        loaded = 1
        if bundle is not None and self._lasting.size:
            others = bundle.others(wire.id)
            loaded = 1 + int(others.max() if row is None else others[row])
        share = self._share(loaded)
        known = alone.value_a is not None and share is not None
        lacks = "" if known else alone.table if share is not None else self._table
        return Held(
            alone.value_a * share if alone.value_a is not None and share is not None else None,
            alone.table,
            alone.row,
            alone.factor,
            alone.t_max_c,
            alone.source,
            alone.standing,
            alone.base_c,
            warmth,
            free * share if free is not None and share is not None else None,
            bundle.name if bundle and share != 1.0 else "",
            loaded,
            len(bundle.column) if bundle else 1,
            share if share is not None else 1.0,
            self._table if bundle and share != 1.0 else "",
            bundle_source(self.circuit) if bundle and share != 1.0 else "",
            lacks,
        )

    @property
    def _table(self) -> str:
        return self.circuit.settings.chosen.bundle


def where(held: Held) -> str:
    """Return the words for the conditions of a limit, to be filled with `where_values`."""
    zone = " in the zone {zone_name}" if held.warmth.zone else ""
    if not held.bundle:
        return "at {zone:temperature}" + zone + f" (table {{table}}{_unproven(held)})"
    return (
        "at {zone:temperature}" + zone + " among {loaded:count} loaded wires of the bundle "
        f"{{bundle}} (table {{table}}{_unproven(held)}, × {{bundle_share:share}} by table "
        "{bundle_table})"
    )


def _unproven(held: Held) -> str:
    """Return the standing of a table where that is not to be relied on without a look."""
    return ", {standing}" if held.standing in ("from memory", SUPPLIED) else ""


def where_values(held: Held) -> dict[str, Datum]:
    """Return the values that `where` names."""
    values: dict[str, Datum] = {"zone": held.warmth.celsius, "table": held.table}
    values["standing"] = held.standing
    if held.warmth.zone:
        values["zone_name"] = held.warmth.zone
    if held.bundle:
        values |= {
            "bundle": held.bundle,
            "loaded": float(held.loaded),
            "bundle_share": held.share,
            "bundle_table": held.bundle_table,
        }
    return values


def source_of(held: Held) -> str:
    """Return the source of a limit: that of its ampacity table, and of its bundle's."""
    if not held.bundle:
        return held.source
    return f"{held.source}; bundle: {held.bundle_source}"
