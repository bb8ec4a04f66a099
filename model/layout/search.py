"""The cheapest way of one wire over the field: short, few bends, few crossings, room beside it.

All cells are relaxed at once, direction by direction, with running minima over prefix sums of the
cells' costs; one round adds one bend each way. So the time hardly depends on how many obstacles
there are, and the way found is the cheapest one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from model.layout.field import BLOCK, STEP, Cell, Field

BEND = 45
CROSS = 70
BESIDE = 4
"""What a step beside another wire, one grid line away, costs on top."""

ROUNDS = 7
WINDOW = 22
"""How many grid lines around its ends a wire is first looked for in."""

FAR = 1 << 40
Grid = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Gate:
    """The cell in front of a spot, whether it is left level, and what the spot costs."""

    cell: Cell
    level: bool
    cost: int


def search(
    field: Field, starts: Sequence[Gate], goals: Sequence[Gate], owners: tuple[int, int]
) -> list[Cell] | None:
    """Return the gate it starts at, the corners, and the gate it ends at; None without a way.

    A wire may cross another at a right angle but never turn on it, and never lie on one that
    runs the same way. `owners` are the ports whose reserved cells it may use.
    """
    starts = [g for g in starts if field.holds(g.cell)]
    goals = [g for g in goals if field.holds(g.cell)]
    if not starts or not goals:
        return None
    for margin in (WINDOW, max(field.shape)):
        window = _window(field, [*starts, *goals], margin)
        found = _Relaxed(field, window, owners).way(starts, goals)
        if found is not None:
            return found
    return None


Window = tuple[int, int, int, int]


def _window(field: Field, gates: Sequence[Gate], margin: int) -> Window:
    """Return top, bottom, left, right of the cells looked at."""
    rows = [g.cell[0] for g in gates]
    columns = [g.cell[1] for g in gates]
    return (
        max(0, min(rows) - margin),
        min(field.shape[0], max(rows) + margin + 1),
        max(0, min(columns) - margin),
        min(field.shape[1], max(columns) + margin + 1),
    )


class _Relaxed:
    """Least costs to every cell of a window, arriving level and arriving upright."""

    def __init__(self, field: Field, window: Window, owners: tuple[int, int]) -> None:
        top, bottom, left, right = window
        self.origin = (top, left)
        part = (slice(top, bottom), slice(left, right))
        level, upright = field.level[part] > 0, field.upright[part] > 0
        reserved = field.reserved[part]
        base = field.base[part].copy()
        base[(reserved != 0) & (reserved != owners[0]) & (reserved != owners[1])] = BLOCK
        across = base + CROSS * upright
        across[1:] += BESIDE * level[:-1]
        across[:-1] += BESIDE * level[1:]
        across[level] = BLOCK
        down = base + CROSS * level
        down[:, 1:] += BESIDE * upright[:, :-1]
        down[:, :-1] += BESIDE * upright[:, 1:]
        down[upright] = BLOCK
        self.sum_level: Grid = np.cumsum(across, axis=1)
        self.sum_upright: Grid = np.cumsum(down, axis=0)
        self.before_level = self.sum_level - across
        self.before_upright = self.sum_upright - down
        self.no_level = np.where(level, FAR, BEND)
        self.no_upright = np.where(upright, FAR, BEND)

    def way(self, starts: Sequence[Gate], goals: Sequence[Gate]) -> list[Cell] | None:
        """Return the cheapest way from any start to any goal."""
        self._begin(starts)
        least = min(
            (abs(a.cell[0] - b.cell[0]) + abs(a.cell[1] - b.cell[1])) * STEP
            for a in starts
            for b in goals
        )
        for bends in range(1, ROUNDS + 1):
            before = self.best(goals)[0]
            self._round()
            cost = self.best(goals)[0]
            if cost <= least + bends * BEND or (cost == before < BLOCK and bends > 3):
                break
        cost, goal = self.best(goals)
        return self._back(goal) if cost < BLOCK else None

    def _local(self, cell: Cell) -> Cell:
        return (cell[0] - self.origin[0], cell[1] - self.origin[1])

    def _begin(self, starts: Sequence[Gate]) -> None:
        shape = self.sum_level.shape
        self.first_level: Grid = np.full(shape, FAR, dtype=np.int64)
        self.first_upright: Grid = np.full(shape, FAR, dtype=np.int64)
        for gate in starts:
            first = self.first_level if gate.level else self.first_upright
            first[self._local(gate.cell)] = gate.cost
        self.level = self.first_level
        self.upright = self.first_upright

    def _round(self) -> None:
        """Relax level, then upright, from what the other reached."""
        level = np.minimum(self.first_level, self.upright + self.no_level)
        upright = np.minimum(self.first_upright, self.level + self.no_upright)
        self.level = _run(level, self.sum_level, self.before_level, 1)
        self.upright = _run(upright, self.sum_upright, self.before_upright, 0)

    def best(self, goals: Sequence[Gate]) -> tuple[int, Gate]:
        """Return the cheapest goal and its cost."""
        costs = []
        for i, gate in enumerate(goals):
            cell = self._local(gate.cell)
            straight, other = (
                (self.level[cell], self.upright[cell])
                if gate.level
                else (self.upright[cell], self.level[cell])
            )
            costs.append((int(min(straight, other + BEND)) + gate.cost, i))
        cost, i = min(costs)
        return cost, goals[i]

    def _back(self, goal: Gate) -> list[Cell]:
        """Walk back from the goal, corner by corner."""
        row, column = self._local(goal.cell)
        corners = [(row, column)]
        is_level = goal.level
        if (self.level if is_level else self.upright)[row, column] > (
            self.upright if is_level else self.level
        )[row, column] + BEND:
            is_level = not is_level
        for _ in range(4 * ROUNDS):
            at = column if is_level else row
            line = self._line(row, column, is_level)
            first, sums, before = line
            total = first.copy()
            total[: at + 1] += sums[at] - sums[: at + 1]
            total[at + 1 :] += before[at + 1 :] - before[at]
            to = int(np.argmin(total))
            starts_here = (self.first_level if is_level else self.first_upright)[
                (row, to) if is_level else (to, column)
            ]
            row, column = (row, to) if is_level else (to, column)
            corners.append((row, column))
            if starts_here == first[to]:
                break
            is_level = not is_level
        return [(r + self.origin[0], c + self.origin[1]) for r, c in reversed(corners)]

    def _line(self, row: int, column: int, is_level: bool) -> tuple[Grid, Grid, Grid]:
        """Return the costs to begin a run at each cell of a line, and its prefix sums."""
        if is_level:
            turned = self.upright[row] + self.no_level[row]
            return (
                np.minimum(self.first_level[row], turned),
                self.sum_level[row],
                self.before_level[row],
            )
        turned = self.level[:, column] + self.no_upright[:, column]
        return (
            np.minimum(self.first_upright[:, column], turned),
            self.sum_upright[:, column],
            self.before_upright[:, column],
        )


def _run(first: Grid, sums: Grid, before: Grid, axis: int) -> Grid:
    """Return the least costs to arrive at each cell along an axis, from either side."""
    onward = np.minimum.accumulate(first - sums, axis=axis) + sums
    flipped = np.flip(first + before, axis=axis)
    backward = np.flip(np.minimum.accumulate(flipped, axis=axis), axis=axis) - before
    return np.minimum(onward, backward)
