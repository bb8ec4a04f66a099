"""Least costs of getting anywhere in a window of the field.

All cells are relaxed at once, direction by direction, with running minima over prefix sums of the
cells' costs; one round adds one bend each way. So the time hardly depends on how many obstacles
there are, and the way found is the cheapest one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from model.layout.field import BLOCK, STEP, STRICT, Cell, Field, Leave

BEND = 45
"""What a bend costs, in the units of `model.layout.field.STEP`."""

ROUNDS = 7

FAR = 1 << 29
Grid = NDArray[np.int32]
Line = NDArray[np.int_]
PortKey = tuple[str, str]
Window = tuple[int, int, int, int]
"""Top, bottom, left, right of the cells looked at."""


@dataclass(frozen=True, slots=True)
class Gate:
    """The cell in front of a spot, whether it is left level, and what the spot costs."""

    cell: Cell
    level: bool
    cost: int


class Relaxed:
    """Least costs to the cells of a window, arriving level and arriving upright.

    Only some rows and columns are kept: every second one, say, and those of the gates. Sums run
    over all cells between them.
    """

    def __init__(
        self,
        field: Field,
        window: Window,
        gates: Sequence[Gate],
        ports: Sequence[PortKey],
        every: int,
        leave: Leave,
    ) -> None:
        top, bottom, left, right = window
        rows = sorted({*range(top, bottom, every), *(g.cell[0] for g in gates)})
        columns = sorted({*range(left, right, every), *(g.cell[1] for g in gates)})
        self.rows, self.columns = rows, columns
        self.row_at = {r: i for i, r in enumerate(rows)}
        self.column_at = {c: i for i, c in enumerate(columns)}
        part = (slice(top, bottom), slice(left, right))
        if leave == STRICT:
            all_across, all_down = field.across[part], field.down[part]
        else:
            all_across, all_down = field.costs(part, leave)
        ri, ci = np.array(rows) - top, np.array(columns) - left
        across, down = all_across[ri], all_down[:, ci]
        self._open_ports(field, (across, down), (top, left), gates, ports)
        self._sum_up(across, down, ri, ci)
        kept = np.ix_(rows, columns)
        turn, barred = np.int32(BEND), np.int32(leave.along)
        self.no_level: Grid = np.where(field.level[kept] > 0, barred, turn)
        self.no_upright: Grid = np.where(field.upright[kept] > 0, barred, turn)

    def _sum_up(self, across: Grid, down: Grid, ri: Line, ci: Line) -> None:
        """Work out the sums of costs along the kept lines, up to and before every kept cell."""
        sums: Grid = np.cumsum(across, axis=1, dtype=np.int32)
        self.sum_level: Grid = sums[:, ci]
        self.before_level: Grid = self.sum_level - across[:, ci]
        sums = np.cumsum(down, axis=0, dtype=np.int32)
        self.sum_upright: Grid = sums[ri]
        self.before_upright: Grid = self.sum_upright - down[ri]

    def _open_ports(
        self,
        field: Field,
        costs: tuple[Grid, Grid],
        origin: Cell,
        gates: Sequence[Gate],
        ports: Sequence[PortKey],
    ) -> None:
        """Let the wire use the cells kept for its ports, and its gates at the edge of a card."""
        across, down = costs
        for cell, level in field.reserved_for(ports):
            if not (field.level[cell] or field.upright[cell]):
                self._open(field.base, cell, level, costs, origin)
        for cell in (g.cell for g in gates if field.base[g.cell] >= BLOCK):
            if not (field.level[cell] or field.upright[cell]):  # at the edge of another card
                across[self.row_at[cell[0]], cell[1] - origin[1]] = STEP
                down[cell[0] - origin[0], self.column_at[cell[1]]] = STEP

    def _open(
        self, base: Grid, cell: Cell, level: bool, costs: tuple[Grid, Grid], origin: Cell
    ) -> None:
        """Let the wire use a cell kept for its port, straight out of the port."""
        across, down = costs
        row, column = cell[0] - origin[0], cell[1] - origin[1]
        if level and cell[0] in self.row_at and 0 <= column < across.shape[1]:
            across[self.row_at[cell[0]], column] = base[cell]
        if not level and cell[1] in self.column_at and 0 <= row < down.shape[0]:
            down[row, self.column_at[cell[1]]] = base[cell]

    def way(
        self, starts: Sequence[Gate], goals: Sequence[Gate], least: int
    ) -> tuple[int, list[Cell] | None]:
        """Return the cheapest way from any start to any goal, and its cost."""
        self._begin(starts)
        before = FAR
        for bends in range(1, ROUNDS + 1):
            self._round()
            cost = self.best(goals)[0]
            if cost <= least + bends * BEND or (cost == before < BLOCK and bends > 3):
                break
            before = cost
        cost, goal = self.best(goals)
        return cost, self._back(goal) if cost < BLOCK else None

    def leaves(self, starts: Sequence[Gate]) -> bool:
        """Tell whether any way from the starts comes to the edge of the window."""
        self._begin(starts)
        for _ in range(ROUNDS):
            self._round()
        edges = (np.s_[0], np.s_[-1], np.s_[:, 0], np.s_[:, -1])
        return any(
            int(costs[e].min()) < BLOCK for costs in (self.level, self.upright) for e in edges
        )

    def _local(self, cell: Cell) -> Cell:
        return (self.row_at[cell[0]], self.column_at[cell[1]])

    def _begin(self, starts: Sequence[Gate]) -> None:
        shape = self.sum_level.shape
        self.first_level: Grid = np.full(shape, FAR, dtype=np.int32)
        self.first_upright: Grid = np.full(shape, FAR, dtype=np.int32)
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
        return [(self.rows[r], self.columns[c]) for r, c in reversed(corners)]

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
    turned = (first + before)[:, ::-1] if axis else (first + before)[::-1]
    back = np.minimum.accumulate(turned, axis=axis)
    backward = (back[:, ::-1] if axis else back[::-1]) - before
    return np.minimum(onward, backward)
