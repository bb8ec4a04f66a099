"""Solves many settings of a circuit: stacked, by updates of a near state, or one by one."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import compress

import numpy as np

from model.batch import Stack, Stopped, stack
from model.linear import Bools, Ints
from model.many import ManyUpdates
from model.rows import Row, columns_in, named
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
from model.updates import MOST_MOVED, Updates

LEAST_ORDERS = 64
"""States that each setting may try, where the order of moving matters, when those before it have
used up what all of them share (`MOST_ORDERS`)."""
FEW = 4
"""Below this many states of a kind they are solved one by one."""
Pair = tuple[Setting, frozenset[Armature]]
"""A setting, and the armatures that are in before it."""


def solved(solver: Solver, setting: Setting, pulled: frozenset[Armature], supply: str) -> State:
    """Return a state that has settled, solved singly."""
    return solver.solve(setting, pulled, setting.engine, supply == "cranking")


class Looking:
    """Looks at settings of a circuit, the rest state first.

    Parameters
    ----------
    solver
        The circuit's solver.
    go_on
        Asked now and then; `Stopped` is raised when it says no.

    Attributes
    ----------
    rows
        The states found so far.
    restless
        Settings that gave several outcomes or none, with how they came out.
    last
        The state that was settled singly last.
    """

    def __init__(self, solver: Solver, go_on: Callable[[], bool]) -> None:
        self.solver = solver
        self.rows: list[Row] = []
        self.restless: list[tuple[Setting, Settled]] = []
        self.last: State | None = None
        self._go_on = go_on
        self._orders = MOST_ORDERS

    def look(self, settings: Sequence[Setting], starts: Sequence[frozenset[Armature]]) -> None:
        """Solve settings, stacked where that pays, one by one where it does not."""
        pairs = list(zip(settings, starts, strict=True))
        rows: list[list[Row]] = [[] for _ in pairs]
        groups: dict[tuple[str, str], list[int]] = {}
        for k, (setting, _) in enumerate(pairs):
            groups.setdefault((setting.engine, setting.supply), []).append(k)
        for group in groups.values():
            found = self._together([pairs[k] for k in group])
            for n, k in enumerate(group):
                row = found[n] if found else None
                rows[k] = [row] if row else self._singly(*pairs[k])
        self.rows += [row for several in rows for row in several]

    def _together(self, pairs: Sequence[Pair]) -> list[Row | None] | None:
        """Solve settings of one engine and supply together; None for those that need more."""
        if len(pairs) < FEW:
            return None
        return self._stacked(pairs) or self._updated(pairs)

    def _updated(self, pairs: Sequence[Pair]) -> list[Row | None] | None:
        """Solve settings by updates of the rest state; None for those that are not near it.

        What is far from it, but near the first setting that is, is solved from that one, settled
        singly: every control where it closes most, or what has most on together. A relay whose
        coil is between pull-in and drop-out there may be taken as in.
        """
        if not self.rows:
            return None
        bases = [Updates(self.solver, self._row_state(self.rows[0]))]
        stands = bases[0].stands.rows([s for s, _ in pairs])
        found: list[Row | None] = [None] * len(pairs)
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

    def _near(self, base: Updates, pairs: Sequence[Pair], stands: Ints) -> Iterator[Row | None]:
        """Yield settings solved by update of a base; None for what must be settled in full."""
        was, rest = base.state, self.rows[0].pulled
        fits = [
            s.moment == was.setting.moment
            and (s.engine, s.supply) == (was.setting.engine, was.setting.supply)
            and start == rest
            for s, start in pairs
        ]
        some = list(compress(pairs, fits))
        near = stands[np.array(fits, np.bool_)]
        starts = columns_in(self.solver.coils.armatures, [was.pulled] * len(some))
        stacks = ManyUpdates(self.solver, base).settle(near, starts, self._go_on)
        rows = self._rows_of(stacks, some)
        yield from (next(rows) if fit else None for fit in fits)

    def _rows_of(self, stacks: Iterable[Stack], pairs: Sequence[Pair]) -> Iterator[Row | None]:
        """Yield the rows of stacks, None for what must be settled in full."""
        at = iter(pairs)
        for found in stacks:
            fine = found.done & ~self._follows(found, pairs[0][0].engine)
            pulled = named(self.solver.coils.armatures, found.pulled)
            for n, good in enumerate(fine.tolist()):
                setting, start = next(at)
                row = Row(setting, start, pulled[n], setting.supply, found, n)
                yield row if good else None

    def _row_state(self, row: Row) -> State:
        """Return the state of a row, solved singly."""
        last = self.last
        if last is not None and last.setting is row.setting and last.pulled == row.pulled:
            return last
        return solved(self.solver, row.setting, row.pulled, row.supply)

    def _singly(self, setting: Setting, start: frozenset[Armature]) -> list[Row]:
        """Settle one setting and return its outcomes."""
        if not self._go_on():
            raise Stopped("The look at all states was called off.")
        settled = self.solver.settle(setting, Memory(start), self._orders)
        self._orders = max(self._orders - settled.tried, LEAST_ORDERS)
        if settled.settled in (SEVERAL, NONE):
            self.restless.append((setting, settled))
        self.last = settled.state
        return [
            Row(state.setting, start, state.pulled, state.supply, self._alone(state), 0)
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
    ) -> list[Row | None] | None:
        """Solve settings of one engine and supply stacked; None for those that need more."""
        coils = self.solver.coils
        starts = columns_in(coils.armatures, [start for _, start in pairs])
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
