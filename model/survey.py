"""Every state of a circuit that the checks look at, solved once and kept as arrays."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import compress
from typing import overload

import numpy as np

from model.asked import MOST_STATES, let_go, settings_of, springs_of
from model.batch import Stack, Stopped, stack
from model.circuit import Circuit
from model.linear import Bools, Floats
from model.solver import (
    ENGINE_NEEDS_V,
    MOST_ORDERS,
    NONE,
    SEVERAL,
    STARTER_DRAWS_A,
    Settled,
    Solver,
)
from model.state import State
from model.states import Armature, Memory, Setting
from model.updates import Updates

LEAST_ORDERS = 64
"""States that each setting may try, where the order of moving matters, when those before it have
used up what all of them share (`MOST_ORDERS`)."""
FEW = 4
"""Below this many states of a kind they are solved one by one."""
Pair = tuple[Setting, frozenset[Armature]]
"""A setting, and the armatures that are in before it."""
__all__ = ["MOST_STATES", "States", "Survey", "settings_of"]


@dataclass(frozen=True, slots=True)
class _Row:
    """One state as arrays: what it was asked from, and what came out."""

    setting: Setting
    start: frozenset[Armature]
    pulled: frozenset[Armature]
    supply: str
    volts: Floats
    amps: Floats
    on: Bools


class Survey:
    """The states of a circuit, solved.

    Every setting is settled from the rest state; where buttons are pressed and relays are in,
    the state after letting go is added, so that a relay that holds itself is seen holding.

    Attributes
    ----------
    settings
        The setting of every state met, the engine as it came out; the rest state first. A race
        gives each of its outcomes; a circuit without a steady state those it runs through.
    supplies
        The supply that applied in every state.
    volts, amps, on
        Volts at every node (states, nodes), amperes in every edge and which conduct (states,
        edges).
    restless
        Settings that gave several outcomes or none, with how they came out.
    every
        True when all combinations were solved, False when only rest and up to two changes were.
    """

    def __init__(
        self,
        circuit: Circuit,
        most: int = MOST_STATES,
        *,
        quick: bool = False,
        go_on: Callable[[], bool] = lambda: True,
    ) -> None:
        """Solve the states of a circuit; `quick` only those that show almost everything.

        `go_on` is asked now and then; `Stopped` is raised when it says no.
        """
        self._go_on = go_on
        self.circuit = circuit
        self.quick = quick
        self.solver = Solver(circuit)
        self._orders = MOST_ORDERS
        self.restless: list[tuple[Setting, Settled]] = []
        self._rows: list[_Row] = []
        asked = settings_of(self.solver, most, quick=quick)
        self.every = asked.every
        self._look(asked.settings[:1], [frozenset()])
        rest = self._rows[0].pulled
        self._look(asked.settings[1:], [rest] * (len(asked.settings) - 1))
        self._let_go()
        self._arrays()

    def _let_go(self) -> None:
        """Add what is left when buttons are let go while relays are in."""
        springs = springs_of(self.circuit)
        if not springs:
            return
        released = [(r, let_go(r.setting, springs)) for r in self._rows if r.pulled]
        wanted = [(r, s) for r, s in released if s is not r.setting]
        self._look([s for _, s in wanted], [r.pulled for r, _ in wanted])

    def _look(self, settings: Sequence[Setting], starts: Sequence[frozenset[Armature]]) -> None:
        """Solve settings, stacked where that pays, one by one where it does not."""
        pairs = list(zip(settings, starts, strict=True))
        rows: list[list[_Row]] = [[] for _ in pairs]
        groups: dict[tuple[str, str], list[int]] = {}
        for k, (setting, _) in enumerate(pairs):
            groups.setdefault((setting.engine, setting.supply), []).append(k)
        for group in groups.values():
            found = self._together([pairs[k] for k in group])
            for n, k in enumerate(group):
                row = found[n] if found else None
                rows[k] = [row] if row else self._singly(*pairs[k])
        self._rows += [row for several in rows for row in several]

    def _together(self, pairs: Sequence[Pair]) -> list[_Row | None] | None:
        """Solve settings of one engine and supply together; None for those that need more."""
        if len(pairs) < FEW:
            return None
        return self._stacked(pairs) or self._updated(pairs)

    def _updated(self, pairs: Sequence[Pair]) -> list[_Row | None] | None:
        """Solve settings by updates of the rest state; None for those that are not near it.

        A quick look also takes what is near the first setting that is not, settled singly: that
        is every control where it closes most. A relay whose coil is between pull-in and drop-out
        there may be taken as in.
        """
        if not self._rows:
            return None
        bases = [Updates(self.solver, self._row_state(self._rows[0]))]
        found: list[_Row | None] = []
        for setting, start in pairs:
            row = self._near(bases, setting, start)
            if row is None and self.quick and len(bases) == 1 and bases[0].moved(setting) > FEW:
                (row, *_) = self._singly(setting, start)
                bases.append(Updates(self.solver, self._row_state(row)))
            found.append(row)
        return found

    def _near(
        self, bases: Sequence[Updates], setting: Setting, start: frozenset[Armature]
    ) -> _Row | None:
        """Solve one setting by update of the nearest base, if nothing must follow."""
        if not self._go_on():
            raise Stopped("The look at all states was called off.")
        base = min(bases, key=lambda b: b.moved(setting))
        was = base.state
        if start != self._rows[0].pulled or was.setting.moment != setting.moment:
            return None
        if (was.setting.engine, was.setting.supply) != (setting.engine, setting.supply):
            return None
        near = base.settle(setting)
        if near is None or self._follow(near.volts, near.amps, setting.engine):
            return None
        return _Row(setting, start, near.pulled, setting.supply, near.volts, near.amps, near.on)

    def _follow(self, volts: Floats, amps: Floats, engine: str) -> bool:
        """Tell whether the engine or the supply must follow in a state."""
        keys, edges = self.solver.network.by_key, self.solver.network.edges
        if any(abs(amps[keys[k]]) > STARTER_DRAWS_A for k in self.solver.starters):
            return True
        if engine != "running" or not self.solver.follows:
            return False
        ends = (edges[keys[k]] for k in self.solver.keepers)
        return any(abs(volts[e.a] - volts[e.b]) < ENGINE_NEEDS_V for e in ends)

    def _row_state(self, row: _Row) -> State:
        """Return the state of a row, solved singly."""
        cranking = row.supply == "cranking"
        return self.solver.solve(row.setting, row.pulled, row.setting.engine, cranking)

    def _singly(self, setting: Setting, start: frozenset[Armature]) -> list[_Row]:
        """Settle one setting and return its outcomes."""
        if not self._go_on():
            raise Stopped("The look at all states was called off.")
        settled = self.solver.settle(setting, Memory(start), self._orders)
        self._orders = max(self._orders - settled.tried, LEAST_ORDERS)
        if settled.settled in (SEVERAL, NONE):
            self.restless.append((setting, settled))
        count = len(self.solver.network.edges)
        return [
            _Row(
                state.setting, start, state.pulled, state.supply, state.solved.volts,
                (state.solved.amps * state.solved.on)[:count], state.solved.on[:count],
            )
            for state in settled.states
        ]  # fmt: skip

    def _stacked(
        self, pairs: Sequence[tuple[Setting, frozenset[Armature]]]
    ) -> list[_Row | None] | None:
        """Solve settings of one engine and supply stacked; None for those that need more."""
        coils = self.solver.coils
        starts = np.array([[a in start for a in coils.armatures] for _, start in pairs], np.bool_)
        starts = starts.reshape(len(pairs), len(coils.armatures))
        found = stack(self.solver.conductor, coils, [s for s, _ in pairs], starts, self._go_on)
        if found is None:
            return None
        fine = (found.done & ~self._follows(found, pairs[0][0].engine)).tolist()
        pulled = found.pulled.tolist()
        return [
            _Row(
                setting, start, _named(coils.armatures, pulled[n]), setting.supply,
                found.volts[n], found.amps[n], found.on[n],
            )
            if fine[n] else None
            for n, (setting, start) in enumerate(pairs)
        ]  # fmt: skip

    def _follows(self, found: Stack, engine: str) -> Bools:
        """Tell in which states the engine or the supply must follow."""
        keys = self.solver.network.by_key
        must = np.zeros(len(found.done), np.bool_)
        for key in self.solver.starters:
            must |= np.abs(found.amps[:, keys[key]]) > STARTER_DRAWS_A
        if engine == "running" and self.solver.follows:
            for key in self.solver.keepers:
                edge = self.solver.network.edges[keys[key]]
                must |= np.abs(found.volts[:, edge.a] - found.volts[:, edge.b]) < ENGINE_NEEDS_V
        return must

    def _arrays(self) -> None:
        """Lay the rows out as arrays."""
        self.settings = [r.setting for r in self._rows]
        self.supplies = [r.supply for r in self._rows]
        self.volts: Floats = np.array([r.volts for r in self._rows])
        self.amps: Floats = np.array([r.amps for r in self._rows])
        self.on: Bools = np.array([r.on for r in self._rows])
        self.states = States(self)

    def state(self, index: int) -> State:
        """Return one state to be asked by part and wire; solved anew, singly."""
        return self._row_state(self._rows[index])

    @property
    def rest(self) -> State:
        """The state with every control at rest."""
        return self.states[0]

    def across(self, edge: int) -> Floats:
        """Return the volts across an edge in every state, shape (states,)."""
        found = self.solver.network.edges[edge]
        return self.volts[:, found.a] - self.volts[:, found.b]

    def peak(self, edge: int) -> tuple[float, int]:
        """Return the greatest amperes in an edge and the index of the state that has them."""
        column = np.abs(self.amps[:, edge])
        worst = int(column.argmax())
        return float(column[worst]), worst

    @cached_property
    def ever_pulled(self) -> frozenset[Armature]:
        """Armatures that are in, in some state."""
        return frozenset(a for row in self._rows for a in row.pulled)


class States(Sequence[State]):
    """The states of a survey, each solved singly when it is asked for."""

    def __init__(self, survey: Survey) -> None:
        self._survey = survey
        self._known: dict[int, State] = {}

    def __len__(self) -> int:
        return len(self._survey.settings)

    @overload
    def __getitem__(self, index: int) -> State: ...
    @overload
    def __getitem__(self, index: slice) -> Sequence[State]: ...
    def __getitem__(self, index: int | slice) -> State | Sequence[State]:
        """Return a state, or several."""
        if isinstance(index, slice):
            return [self[i] for i in range(*index.indices(len(self)))]
        place = index if index >= 0 else index + len(self)
        if not 0 <= place < len(self):
            raise IndexError(index)
        if place not in self._known:
            self._known[place] = self._survey.state(place)
        return self._known[place]


def _named(armatures: Sequence[Armature], pulled: Sequence[bool]) -> frozenset[Armature]:
    """Return the armatures of a row that are in."""
    return frozenset(compress(armatures, pulled))
