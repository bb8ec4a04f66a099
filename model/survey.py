"""Every state of a circuit that the checks look at, solved once and kept as arrays."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cached_property
from itertools import compress, pairwise
from typing import NamedTuple, overload

import numpy as np

from model.asked import MOST_STATES, choices_of, let_go, settings_of, springs_of
from model.batch import Stack, Stopped, stack
from model.circuit import Circuit
from model.linear import Bools, Floats, Ints
from model.many import ManyUpdates
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
from model.together import MOST_ROUNDS, Together
from model.updates import MOST_MOVED, Updates

LEAST_ORDERS = 64
"""States that each setting may try, where the order of moving matters, when those before it have
used up what all of them share (`MOST_ORDERS`)."""
FEW = 4
"""Below this many states of a kind they are solved one by one."""
RUN = 128
"""States laid out together, so that both sides of the move fit the cache."""
Pair = tuple[Setting, frozenset[Armature]]
"""A setting, and the armatures that are in before it."""
__all__ = ["MOST_STATES", "States", "Survey", "settings_of"]


class _Row(NamedTuple):
    """One state: what it was asked from, and what came out, at a place of some arrays."""

    setting: Setting
    start: frozenset[Armature]
    pulled: frozenset[Armature]
    supply: str
    found: Stack
    place: int


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
        self._go_on = go_on
        self.circuit = circuit
        self.quick = quick
        self.solver = Solver(circuit)
        self._orders = MOST_ORDERS
        self.restless: list[tuple[Setting, Settled]] = []
        self._rows: list[_Row] = []
        self._last: State | None = None
        asked = settings_of(self.solver, most, quick=quick)
        self.every = asked.every
        self._look(asked.settings[:1], [frozenset()])
        first, rest = self._last, self._rows[0].pulled
        self._look(asked.settings[1:], [rest] * (len(asked.settings) - 1))
        self._gather(rest)
        self._let_go()
        self._arrays()
        if first is not None and self._asked[0][1] == first.pulled:
            self.states.know(0, first)

    def _gather(self, rest: frozenset[Armature]) -> None:
        """Add states in which more is on together, where not every combination was looked at."""
        if self.every or self.quick:
            return
        together, count = Together(self.solver, choices_of(self.solver)), 0
        for _ in range(MOST_ROUNDS):
            rows, count = self._rows[count:], len(self._rows)
            for first, last in _runs(rows):
                some, found = rows[first:last], rows[first].found
                there = slice(some[0].place, some[0].place + len(some))
                settings, supplies = [r.setting for r in some], [r.supply for r in some]
                together.met(settings, supplies, found.volts[there], found.amps[there])
            groups = together.more()
            if not groups:
                return
            for group in groups:
                self._look(group, [rest] * len(group))

    def _let_go(self) -> None:
        """Add what is left when buttons are let go while relays are in."""
        frame = self.solver.network.frame
        springs = frame.fact("springs", lambda: springs_of(self.circuit))
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

        What is far from it, but near the first setting that is, is solved from that one, settled
        singly: every control where it closes most, or what has most on together. A relay whose
        coil is between pull-in and drop-out there may be taken as in.
        """
        if not self._rows:
            return None
        bases = [Updates(self.solver, self._row_state(self._rows[0]))]
        stands = bases[0].stands.rows([s for s, _ in pairs])
        found: list[_Row | None] = [None] * len(pairs)
        far = np.flatnonzero(bases[0].otherwise(stands).sum(axis=1) > FEW)
        if len(far):
            first = int(far[0])
            (row, *_) = self._singly(*pairs[first])
            found[first] = row
            bases.append(Updates(self.solver, self._row_state(row)))
        for base, places in zip(bases, self._nearest(bases, stands), strict=True):
            rows = self._near(base, [pairs[n] for n in places], stands[places])
            for n, near in zip(places, rows, strict=True):
                found[n] = found[n] or near
        return found

    @staticmethod
    def _nearest(bases: Sequence[Updates], stands: Ints) -> list[list[int]]:
        """Return, for each base, the places of the settings that are nearest to it, if near."""
        moved = np.array([base.otherwise(stands).sum(axis=1) for base in bases])
        nearest, fine = moved.argmin(axis=0), moved.min(axis=0) <= MOST_MOVED
        return [np.flatnonzero(fine & (nearest == k)).tolist() for k in range(len(bases))]

    def _near(self, base: Updates, pairs: Sequence[Pair], stands: Ints) -> Iterator[_Row | None]:
        """Yield settings solved by update of a base; None for what must be settled in full."""
        was, rest = base.state, self._rows[0].pulled
        fits = [
            s.moment == was.setting.moment
            and (s.engine, s.supply) == (was.setting.engine, was.setting.supply)
            and start == rest
            for s, start in pairs
        ]
        some = list(compress(pairs, fits))
        near = stands[np.array(fits, np.bool_)]
        starts = _columns_in(self.solver.coils.armatures, [was.pulled] * len(some))
        stacks = ManyUpdates(self.solver, base).settle(near, starts, self._go_on)
        rows = self._rows_of(stacks, some)
        yield from (next(rows) if fit else None for fit in fits)

    def _rows_of(self, stacks: Iterable[Stack], pairs: Sequence[Pair]) -> Iterator[_Row | None]:
        """Yield the rows of stacks, None for what must be settled in full."""
        at = iter(pairs)
        for found in stacks:
            fine = found.done & ~self._follows(found, pairs[0][0].engine)
            pulled = _named(self.solver.coils.armatures, found.pulled)
            for n, good in enumerate(fine.tolist()):
                setting, start = next(at)
                row = _Row(setting, start, pulled[n], setting.supply, found, n)
                yield row if good else None

    def _row_state(self, row: _Row) -> State:
        """Return the state of a row, solved singly."""
        last = self._last
        if last is not None and last.setting is row.setting and last.pulled == row.pulled:
            return last
        return self._solved(row.setting, row.pulled, row.supply)

    def _solved(self, setting: Setting, pulled: frozenset[Armature], supply: str) -> State:
        """Return a state that has settled, solved singly."""
        return self.solver.solve(setting, pulled, setting.engine, supply == "cranking")

    def _singly(self, setting: Setting, start: frozenset[Armature]) -> list[_Row]:
        """Settle one setting and return its outcomes."""
        if not self._go_on():
            raise Stopped("The look at all states was called off.")
        settled = self.solver.settle(setting, Memory(start), self._orders)
        self._orders = max(self._orders - settled.tried, LEAST_ORDERS)
        if settled.settled in (SEVERAL, NONE):
            self.restless.append((setting, settled))
        self._last = settled.state
        return [
            _Row(state.setting, start, state.pulled, state.supply, self._alone(state), 0)
            for state in settled.states
        ]

    def _alone(self, state: State) -> Stack:
        """Return one state as a stack."""
        count, solved = len(self.solver.network.edges), state.solved
        on, amps = solved.on[None, :count], solved.amps[None, :count]
        done = np.ones(1, np.bool_)
        return Stack(solved.volts[None], amps * on, on, np.empty((1, 0), np.bool_), done)

    def _stacked(
        self, pairs: Sequence[tuple[Setting, frozenset[Armature]]]
    ) -> list[_Row | None] | None:
        """Solve settings of one engine and supply stacked; None for those that need more."""
        coils = self.solver.coils
        starts = _columns_in(coils.armatures, [start for _, start in pairs])
        found = stack(self.solver.conductor, coils, [s for s, _ in pairs], starts, self._go_on)
        if found is None:
            return None
        return list(self._rows_of([found], pairs))

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
        """Lay the rows out as arrays, what one edge or node does in all states side by side."""
        self.settings = [r.setting for r in self._rows]
        self.supplies = [r.supply for r in self._rows]
        count, net = len(self._rows), self.solver.network
        volts, amps = np.empty((net.count, count)), np.empty((len(net.edges), count))
        on = np.empty((len(net.edges), count), np.bool_)
        for first, last in _runs(self._rows):
            row = self._rows[first]
            mine, there = slice(first, last), slice(row.place, row.place + last - first)
            volts[:, mine] = row.found.volts[there].T
            amps[:, mine] = row.found.amps[there].T
            on[:, mine] = row.found.on[there].T
        self.volts: Floats = volts.T
        self.amps: Floats = amps.T
        self.on: Bools = on.T
        self._last = None
        self._asked = [(r.setting, r.pulled, r.supply) for r in self._rows]
        del self._rows
        self.states = States(self)

    def state(self, index: int) -> State:
        """Return one state to be asked by part and wire; solved anew, singly."""
        return self._solved(*self._asked[index])

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


def _runs(rows: Sequence[_Row]) -> Iterator[tuple[int, int]]:
    """Yield where rows that follow each other in the same arrays begin and end, in short runs."""
    first = 0
    for n in range(1, len(rows) + 1):
        last = rows[n - 1]
        if (
            n == len(rows)
            or rows[n].found is not last.found
            or rows[n].place != last.place + 1
            or n - first == RUN
        ):
            yield first, n
            first = n


def _named(armatures: Sequence[Armature], pulled: Bools) -> list[frozenset[Armature]]:
    """Return the armatures that are in, for every row."""
    rows, columns = np.nonzero(pulled)
    ends = np.searchsorted(rows, np.arange(len(pulled) + 1)).tolist()
    names = [armatures[c] for c in columns.tolist()]
    return [frozenset(names[a:b]) for a, b in pairwise(ends)]


def _columns_in(armatures: Sequence[Armature], starts: Sequence[frozenset[Armature]]) -> Bools:
    """Return which armatures are in, shape (starts, armatures)."""
    known = {s: np.array([a in s for a in armatures], np.bool_) for s in set(starts)}
    rows = [known[s] for s in starts]
    return np.array(rows, np.bool_).reshape(len(starts), len(armatures))
