"""What contacts carry in their worst states: running, and in the moment they close.

A contact that carries several kinds of load is full when the shares of its ratings add up to
100 %. States are tried from the one that could be worst, by bounds of whole arrays, and only those
that could still be worse than what was found are followed load by load.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from checks.case import Case
from checks.contacts import Ratings, Start, ratings_of, start_of
from checks.currents import is_starter
from checks.flows import draws
from model.kinds.body import Coil, Contact
from model.linear import Floats
from model.network import Edge

MOST_TRIES = 16
"""States that are followed for one contact."""
MATTERS = 0.02
"""Share of a contact's current from which a load is named."""
RUNS = Start(1.0, "resistive", True)
"""What draws no more as it starts: coils."""


@dataclass(slots=True)
class Worst:
    """The worst a contact carries: the sum of its shares, and what makes it up.

    `amps` runs, `peak_a` flows in the moment that was asked for, running or starting; `loads` are
    its parts by edge, `kinds` by kind of load.
    """

    share: float = 0.0
    amps: float = 0.0
    row: int = 0
    peak_a: float = 0.0
    loads: dict[int, float] = field(default_factory=dict)
    kinds: dict[str, float] = field(default_factory=dict)


Shares = Callable[[int, int, Ratings], Worst]


class Carried:
    """Looks for the worst states of the contacts of a circuit."""

    def __init__(self, case: Case) -> None:
        self.case = case
        self._rows = np.flatnonzero(~case.cleared | case.cranking)
        self.starts: dict[int, Start] = {
            i: s for i, e in case.network.of_role("load") if (s := self._start(e))
        }

    def _start(self, edge: Edge) -> Start | None:
        """Return how a load starts."""
        case = self.case
        part = case.circuit.parts[edge.owner]
        return case.network.frame.kept(
            "starts", edge.key, (part,), lambda: start_of(case.circuit, edge)
        )

    def full(self) -> Iterator[tuple[Edge, Ratings, Worst, Worst]]:
        """Yield every contact that carries or makes more than it is rated for, with both."""
        some = [(i, e) for i, e in self.case.network.of_role("contact") if self._most[i] > 0.0]
        for index, edge in some:
            rated = self._rated(edge)
            if rated is None:
                continue
            most, running, starting = float(self._most[index]), Worst(), Worst()
            if most > min(rated.amps.values()):
                bound = self._running_bound(index, rated)
                running = self._worst(index, rated, bound, self._running)
            if rated.makes and most * self._steepest(rated) > 1.0:
                bound = self._start_bound(index, rated)
                starting = self._worst(index, rated, bound, self._starting)
            if max(running.share, starting.share) > 1.0:
                yield edge, rated, running, starting

    def _rated(self, edge: Edge) -> Ratings | None:
        """Return what a contact is made for."""
        case, inner = self.case, edge.inner
        if not isinstance(inner, Contact):
            return None
        part = case.circuit.parts[edge.owner]
        return case.network.frame.kept(
            "contact ratings", edge.key, (part,), lambda: ratings_of(case.circuit, part, inner)
        )

    def usual(self, starting: Worst) -> tuple[str, ...]:
        """Return the parts among what starts whose multiple nobody stated."""
        edges = self.case.network.edges
        some = (i for i in by_greatest(starting) if i in self.starts)
        return tuple(dict.fromkeys(edges[i].owner for i in some if not self.starts[i].stated))

    @cached_property
    def _most(self) -> Floats:
        """Greatest current of every edge, starts of engines among them."""
        return np.maximum(self.case.peaks.amps, self.case.cranking_peaks.amps)

    def _steepest(self, rated: Ratings) -> float:
        """Return the most that an ampere through a contact can ask of what it makes."""
        most = (times / rated.makes[kind] for kind, times in self._times.items())
        return max(max(most, default=0.0), 1.0 / min(rated.makes.values()))

    @cached_property
    def _times(self) -> dict[str, float]:
        """The greatest multiple at which a load starts, by kind."""
        found: dict[str, float] = {}
        for start in self.starts.values():
            found[start.kind] = max(start.times, found.get(start.kind, 1.0))
        return found

    # --- bounds over all states ---------------------------------------------------------------

    @cached_property
    def _by_kind(self) -> dict[str, Floats]:
        """Sum of the loads' currents by kind, shape (states,)."""
        kinds: dict[str, list[int]] = {}
        for index, edge in self.case.network.of_role("load"):
            kinds.setdefault(draws(edge), []).append(index)
        amps = self.case.survey.amps
        return {k: np.abs(amps[:, i]).sum(axis=1) for k, i in kinds.items()}

    @cached_property
    def _starts_by_kind(self) -> dict[str, Floats]:
        """Sum of what the loads draw as they start, by kind, shape (states,)."""
        kinds: dict[str, list[int]] = {}
        for index, start in self.starts.items():
            kinds.setdefault(start.kind, []).append(index)
        amps = self.case.survey.amps
        return {
            k: np.abs(amps[:, i]) @ np.array([self.starts[n].times for n in i])
            for k, i in kinds.items()
        }

    def _column(self, index: int) -> Floats:
        """Return the current of a contact in every state, shape (states,)."""
        found: Floats = np.abs(self.case.survey.amps[:, index])
        return found

    def _running_bound(self, index: int, rated: Ratings) -> Floats:
        """Return what the sum of a contact's shares cannot exceed, shape (states,)."""
        amps = self._column(index)
        bound = amps / rated.resistive
        for kind, total in self._by_kind.items():
            if kind != "resistive":
                bound = bound + np.minimum(amps, total) / rated.amps[kind]
        found: Floats = np.minimum(bound, amps / min(rated.amps.values()))
        return found

    def _start_bound(self, index: int, rated: Ratings) -> Floats:
        """Return what the shares of what a contact makes cannot exceed, shape (states,)."""
        amps = self._column(index)
        if not rated.makes:
            return np.zeros_like(amps)
        bound = amps / rated.makes["resistive"]
        for kind, total in self._starts_by_kind.items():
            bound = bound + total / rated.makes[kind]
        found: Floats = np.minimum(bound, amps * self._steepest(rated))
        return found

    def _worst(self, index: int, rated: Ratings, bound: Floats, shares_in: Shares) -> Worst:
        """Return the worst state of a contact; none where it is surely below 100 %."""
        worst, tried = Worst(), set[tuple[float, float]]()
        mine = bound[self._rows]
        for place in np.argsort(-mine, kind="stable").tolist():
            if mine[place] <= max(worst.share, 1.0) or len(tried) >= MOST_TRIES:
                break
            row = int(self._rows[place])
            key = (round(float(mine[place]), 3), round(float(self._column(index)[row]), 3))
            if key in tried:
                continue
            tried.add(key)
            here = shares_in(index, row, rated)
            worst = here if here.share > worst.share else worst
        return worst

    # --- one state ----------------------------------------------------------------------------

    def _running(self, index: int, row: int, rated: Ratings) -> Worst:
        """Return how much of its ratings a contact uses in one state."""
        amps, loads = self._amps(index, row), self.case.flows(row).loads_through(index)
        kinds: dict[str, float] = {}
        for load, current in loads.items():
            kind = draws(self.case.network.edges[load])
            kinds[kind] = kinds.get(kind, 0.0) + current
        rest = amps - sum(kinds.values())
        if rest > 0.01 * amps:
            kinds["resistive"] = kinds.get("resistive", 0.0) + rest
        share = sum(current / rated.amps[kind] for kind, current in kinds.items())
        return Worst(share, amps, row, amps, loads, kinds)

    def _starting(self, index: int, row: int, rated: Ratings) -> Worst:
        """Return how much of what it makes a contact has to make where it closes last."""
        loads = dict(self.case.flows(row).loads_through(index))
        found = self._made(index, row, rated, loads)
        if found.share <= 1.0:
            return found
        for late in self._later(index, row, loads):
            loads.pop(late, None)
        return self._made(index, row, rated, loads)

    def _made(self, index: int, row: int, rated: Ratings, loads: dict[int, float]) -> Worst:
        """Return what a contact makes when these loads start behind it."""
        share, kinds, starts = 0.0, dict[str, float](), dict[int, float]()
        for load, amps in loads.items():
            if is_starter(self.case.network.edges[load]):
                continue
            start = self.starts.get(load, RUNS)
            starts[load] = start.times * amps
            share += starts[load] / rated.makes[start.kind]
            kinds[start.kind] = kinds.get(start.kind, 0.0) + starts[load]
        runs = sum(loads[i] for i in starts)
        return Worst(share, runs, row, sum(starts.values()), starts, kinds)

    def _later(self, index: int, row: int, loads: dict[int, float]) -> set[int]:
        """Return the loads that start later: behind a contact whose coil hangs on this one."""
        edges, flows = self.case.network.edges, self.case.flows(row)
        moved = {
            (edges[i].owner, inner.moves)
            for i in loads
            if isinstance(inner := edges[i].inner, Coil) and edges[i].owner != edges[index].owner
        }
        found: set[int] = set()
        for other, edge in self.case.network.of_role("contact"):
            inner = edge.inner
            if isinstance(inner, Contact) and inner.by and (edge.owner, inner.by) in moved:
                found |= flows.loads_through(other).keys()
        return found

    def _amps(self, index: int, row: int) -> float:
        return float(abs(self.case.survey.amps[row, index]))


def by_greatest(worst: Worst) -> list[int]:
    """Return the edges of the loads that matter, the greatest current first."""
    order = sorted(worst.loads, key=lambda i: -worst.loads[i])
    return [i for i in order if worst.loads[i] > MATTERS * worst.peak_a]
