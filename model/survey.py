"""Every state of a circuit that the checks look at, solved once and kept as arrays."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cached_property
from typing import overload

import numpy as np

from model.asked import MOST_STATES, choices_of, let_go, settings_of, springs_of
from model.circuit import Circuit
from model.linear import Floats
from model.looking import Looking, solved
from model.rows import Row, laid_out, runs
from model.solver import Solver
from model.state import State
from model.states import Armature
from model.together import MOST_ROUNDS, Together

__all__ = ["MOST_STATES", "States", "Survey", "settings_of"]


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
        True when all combinations were solved, False when only rest and up to two changes were,
        with the states in which most is on together.
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
        self.circuit = circuit
        self.quick = quick
        self.solver = Solver(circuit)
        looking = Looking(self.solver, go_on)
        self.restless = looking.restless
        asked = settings_of(self.solver, most, quick=quick)
        self.every = asked.every
        looking.look(asked.settings[:1], [frozenset()])
        first, rest = looking.last, looking.rows[0].pulled
        looking.look(asked.settings[1:], [rest] * (len(asked.settings) - 1))
        if not self.every and not quick:
            self._gather(looking, rest)
        self._let_go(looking)
        self._lay_out(looking.rows)
        if first is not None and self._asked[0][1] == first.pulled:
            self.states.know(0, first)

    def _gather(self, looking: Looking, rest: frozenset[Armature]) -> None:
        """Add states in which more is on together."""
        together, count = Together(self.solver, choices_of(self.solver)), 0
        for _ in range(MOST_ROUNDS):
            rows, count = looking.rows[count:], len(looking.rows)
            for first, last in runs(rows):
                some, found = rows[first:last], rows[first].found
                there = slice(some[0].place, some[0].place + len(some))
                settings, supplies = [r.setting for r in some], [r.supply for r in some]
                together.met(settings, supplies, found.volts[there], found.amps[there])
            groups = together.more()
            if not groups:
                return
            for group in groups:
                looking.look(group, [rest] * len(group))

    def _let_go(self, looking: Looking) -> None:
        """Add what is left when buttons are let go while relays are in."""
        frame = self.solver.network.frame
        springs = frame.fact("springs", lambda: springs_of(self.circuit))
        if not springs:
            return
        released = [(r, let_go(r.setting, springs)) for r in looking.rows if r.pulled]
        wanted = [(r, s) for r, s in released if s is not r.setting]
        looking.look([s for _, s in wanted], [r.pulled for r, _ in wanted])

    def _lay_out(self, rows: Sequence[Row]) -> None:
        """Keep what the states found are asked for."""
        self.settings = [r.setting for r in rows]
        self.supplies = [r.supply for r in rows]
        self.volts, self.amps, self.on = laid_out(self.solver.network, rows)
        self._asked = [(r.setting, r.pulled, r.supply) for r in rows]
        self.states = States(self)

    def state(self, index: int) -> State:
        """Return one state to be asked by part and wire; solved anew, singly."""
        return solved(self.solver, *self._asked[index])

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
        return frozenset(a for _, pulled, _ in self._asked for a in pulled)


class States(Sequence[State]):
    """The states of a survey, each solved singly when it is asked for."""

    def __init__(self, survey: Survey) -> None:
        self._survey = survey
        self._known: dict[int, State] = {}

    def know(self, place: int, state: State) -> None:
        """Take a state that is solved already."""
        self._known[place] = state

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
