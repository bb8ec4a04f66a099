"""A quick way of one wire while a part is dragged: the best of a few shapes with few bends.

The shapes are one straight piece or two with a piece across between them, an L, and those with
one more piece to go round something. All places of the piece across are tried at once.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from model.layout.field import BLOCK, Cell, Costs, Field
from model.layout.relaxed import BEND

REACH = 30
"""How many grid lines beyond the two ends are looked at."""
OUT = (1, 3, 5, 9)
"""How many grid lines in front of an end a detour may turn."""


@dataclass(frozen=True, slots=True)
class Gate:
    """The cell in front of a spot, and the step (rows, columns) by which a wire leaves it."""

    cell: Cell
    step: tuple[int, int]

    @property
    def level(self) -> bool:
        """Whether wires leave it level."""
        return self.step[0] == 0

    def turned(self) -> Gate:
        """Return the same with rows and columns exchanged."""
        return Gate((self.cell[1], self.cell[0]), (self.step[1], self.step[0]))

    def ahead(self, count: int) -> Cell:
        """Return the cell so many steps in front."""
        return (self.cell[0] + count * self.step[0], self.cell[1] + count * self.step[1])


@dataclass(frozen=True, slots=True)
class Sketch:
    """A way's corners from gate to gate, and what it costs."""

    cost: int
    cells: tuple[Cell, ...]

    @property
    def is_clear(self) -> bool:
        """Whether it runs through no card and along no wire."""
        return self.cost < BLOCK

    def turned(self) -> Sketch:
        """Return the same with rows and columns exchanged."""
        return Sketch(self.cost, tuple((c, r) for r, c in self.cells))


def sketch(field: Field, a: Gate, b: Gate) -> Sketch | None:
    """Return the cheapest of the shapes between two gates; None when one is outside the field.

    It may run through something when no shape is clear: then it is not `is_clear`.
    """
    if not field.holds(a.cell) or not field.holds(b.cell):
        return None
    plane, upright = _Plane(field.across, field.down), _Plane(field.down.T, field.across.T)
    if a.level and b.level:
        return _best(plane.shapes(a, b))
    if not a.level and not b.level:
        return _best(upright.shapes(a.turned(), b.turned())).turned()
    if not a.level:
        found = _best(upright.corner(a.turned(), b.turned())).turned()
    else:
        found = _best(plane.corner(a, b))
    return found


def _best(shapes: Iterator[Callable[[], Sketch | None]]) -> Sketch:
    """Return the first clear shape, else the one that costs least."""
    found: list[Sketch] = []
    for shape in shapes:
        made = shape()
        if made is not None:
            found.append(made)
        if found[-1].is_clear:
            break
    return min(found, key=lambda s: s.cost)


class _Plane:
    """Costs of steps along rows and along columns; `a` is always left along its row."""

    def __init__(self, along: Costs, over: Costs) -> None:
        self.along = along
        self.over = over
        self.rows, self.columns = along.shape

    def shapes(self, a: Gate, b: Gate) -> Iterator[Callable[[], Sketch | None]]:
        """Yield the shapes between two gates that are both left along their rows."""
        yield lambda: self.zigzag(a.cell, b.cell)
        yield lambda: self.detour(a, b)

    def corner(self, a: Gate, b: Gate) -> Iterator[Callable[[], Sketch | None]]:
        """Yield the shapes from one left along its row to one left along its column."""
        yield lambda: self._bend(a.cell, b.cell)
        for count in OUT:
            yield lambda count=count: self._onto(a, b, count)  # type: ignore[misc]

    def zigzag(self, a: Cell, b: Cell) -> Sketch:
        """Return the cheapest way along a's row, over, and along b's row."""
        low = max(0, min(a[1], b[1]) - REACH)
        high = min(self.columns, max(a[1], b[1]) + REACH + 1)
        total = self._from(a, low, high) + self._from(b, low, high)
        if a[0] == b[0]:
            straight = int(self._from(a, low, high)[b[1] - low])
            return Sketch(straight - self._at(b), (a, b))
        over = self.over[min(a[0], b[0]) : max(a[0], b[0]) + 1, low:high].sum(axis=0)
        for cell in (a, b):
            over[cell[1] - low] -= self.over[cell]
        total = total + over
        best = int(total.argmin())
        column = low + best
        return Sketch(int(total[best]) + 2 * BEND, (a, (a[0], column), (b[0], column), b))

    def detour(self, a: Gate, b: Gate) -> Sketch | None:
        """Return the cheapest way with a piece along some row between two pieces across.

        None where there is no room in front of an end to turn.
        """
        low = max(0, min(a.cell[0], b.cell[0]) - REACH)
        high = min(self.rows, max(a.cell[0], b.cell[0]) + REACH + 1)
        best: Sketch | None = None
        from_b = {n: self._across_from(b.cell, n, low, high) for n in self._turns(b)}
        for m in self._turns(a):
            first = self._across_from(a.cell, m, low, high)
            for n, last in from_b.items():
                between = self.along[low:high, min(m, n) : max(m, n) + 1].sum(axis=1)
                total = first + last + between
                at = int(total.argmin())
                if best is None or total[at] + 4 * BEND < best.cost:
                    row, (ra, ca), (rb, cb) = low + at, a.cell, b.cell
                    cells = ((ra, ca), (ra, m), (row, m), (row, n), (rb, n), (rb, cb))
                    best = Sketch(int(total[at]) + 4 * BEND, cells)
        return best

    def _turns(self, gate: Gate) -> list[int]:
        """Return the columns in front of a gate where a detour turns: the first free ones."""
        found = []
        for count in OUT:
            row, column = gate.ahead(count)
            if not 0 <= column < self.columns or self.along[row, column] >= BLOCK:
                break
            if self.over[row, column] < BLOCK:
                found.append(column)
        return found[::2][:2]

    def _bend(self, a: Cell, b: Cell) -> Sketch:
        """Return the way with one corner, at a's row and b's column."""
        low, high = min(a[1], b[1]), max(a[1], b[1]) + 1
        top, bottom = min(a[0], b[0]), max(a[0], b[0]) + 1
        cost = int(self.along[a[0], low:high].sum()) - self._at(a)
        cost += int(self.over[top:bottom, b[1]].sum()) - int(self.over[b])
        return Sketch(cost + BEND, (a, (a[0], b[1]), b))

    def _onto(self, a: Gate, b: Gate, count: int) -> Sketch:
        """Return the way that comes to b's column some steps in front of it."""
        row, column = b.ahead(count)
        if not 0 <= row < self.rows:
            return Sketch(2 * BLOCK, (a.cell, (a.cell[0], column), b.cell))
        found = self.zigzag(a.cell, (row, column))
        top, bottom = min(row, b.cell[0]), max(row, b.cell[0]) + 1
        cost = int(self.over[top:bottom, column].sum()) - int(self.over[b.cell])
        return Sketch(found.cost + cost + BEND, (*found.cells, b.cell))

    def _at(self, cell: Cell) -> int:
        return int(self.along[cell])

    def _from(self, cell: Cell, low: int, high: int) -> NDArray[np.int64]:
        """Return what it costs to run along a cell's row to every column, the cell not counted."""
        return _outward(self.along[cell[0], low:high], cell[1] - low) - self._at(cell)

    def _across_from(self, cell: Cell, column: int, low: int, high: int) -> NDArray[np.int64]:
        """Return what it costs to run to a column, then over to every row."""
        here = self.along[cell[0], min(cell[1], column) : max(cell[1], column) + 1].sum()
        line = self.over[low:high, column]
        return _outward(line, cell[0] - low) + (int(here) - self._at(cell))


def _outward(line: Costs, start: int) -> NDArray[np.int64]:
    """Return the sums from a start to every cell of a line, both included."""
    made: NDArray[np.int64] = np.empty(len(line), np.int64)
    np.add.accumulate(line[start:], dtype=np.int64, out=made[start:])
    np.add.accumulate(line[start::-1], dtype=np.int64, out=made[start::-1])
    return made
