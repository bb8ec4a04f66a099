"""The grid that wires are routed on: what is solid, what is reserved, which wires lie where.

Rows and columns are grid lines. Built once for a sheet; wires are laid and lifted.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor

import numpy as np
from numpy.typing import NDArray

from model.circuit import Place, Sheet
from model.layout.geometry import GRID, OUTWARD, Point, Rect, united
from model.layout.shape import Card, Spot

CROSS = 70
"""What crossing another wire costs."""

BESIDE = 4
"""What a step beside another wire, one grid line away, costs on top."""

LARGEST = 3000
"""Most grid lines each way; what lies beyond is not routed around anything."""

MARGIN = 200
"""Free room around all cards, for wires that go round."""

STEP = 10
"""What one grid step costs."""

NEAR_CARD = 5
"""What a step right beside a card costs on top."""

BLOCK = 1 << 17
"""What a step costs that no wire may take; a line of 3,000 of them still fits 32 bits."""

Cell = tuple[int, int]
Costs = NDArray[np.int32]
Part = tuple[slice, slice]


@dataclass(frozen=True, slots=True)
class Leave:
    """What a step costs where a wire may go only for want of another way.

    `along` another wire, onto a cell `kept` for another terminal, and into a `solid` card.
    """

    along: int = BLOCK
    kept: int = BLOCK
    solid: int = BLOCK


STRICT = Leave()


@dataclass(frozen=True, slots=True)
class _Solid:
    """What of a card no wire may enter, the area around it that wires rather avoid, and both."""

    near: Rect
    whole: Rect
    areas: tuple[Rect, ...]


class Field:
    """Grid lines of one sheet.

    Attributes
    ----------
    base
        Cost of a step onto each cell, (rows, columns): cards and their labels are blocked.
    level, upright
        How many wires run along each cell, by direction.
    across, down
        Cost of a level and of an upright step onto each cell, wires and reserved cells included.
    """

    def __init__(self, sheet: Sheet, cards: Mapping[str, Card]) -> None:
        places = [(p, cards[p.id]) for p in sheet.places.values() if p.id in cards]
        frame = united(c.outer.moved(p.x, p.y) for p, c in places).grown(MARGIN)
        self.column0, self.row0 = floor(frame.x / GRID), floor(frame.y / GRID)
        shape = (min(LARGEST, ceil(frame.h / GRID) + 2), min(LARGEST, ceil(frame.w / GRID) + 2))
        self.shape = shape
        self.base: NDArray[np.int32] = np.full(shape, STEP, dtype=np.int32)
        self.level: NDArray[np.int16] = np.zeros(shape, dtype=np.int16)
        self.upright: NDArray[np.int16] = np.zeros(shape, dtype=np.int16)
        self._reserved: dict[tuple[str, str], list[tuple[Cell, bool]]] = {}
        self._kept: NDArray[np.int8] = np.zeros(shape, dtype=np.int8)
        self._solid = [_solid(p, c) for p, c in places]
        self._row = {p.id: i for i, (p, _) in enumerate(places)}
        self._boxes = np.array([_box(s.whole) for s in self._solid]).reshape(-1, 4)
        self._paint((slice(0, shape[0]), slice(0, shape[1])))
        self.across: Costs = self.base.copy()
        self.down: Costs = self.base.copy()

    def cell(self, x: float, y: float) -> Cell:
        """Return row and column of a grid point."""
        return (round(y / GRID) - self.row0, round(x / GRID) - self.column0)

    def point(self, cell: Cell) -> Point:
        """Return the grid point of a cell."""
        return (float((cell[1] + self.column0) * GRID), float((cell[0] + self.row0) * GRID))

    def holds(self, cell: Cell) -> bool:
        """Tell whether a cell lies within the field."""
        return 0 <= cell[0] < self.shape[0] and 0 <= cell[1] < self.shape[1]

    def reserve(self, spots: Iterable[Spot], dx: float, dy: float, key: tuple[str, str]) -> None:
        """Keep the cell in front of every spot for the wires of its port."""
        if key in self._reserved:
            return
        mine = self._reserved[key] = []
        for spot in spots:
            ox, oy = OUTWARD[spot.side]
            cell = self.cell(spot.x + dx + ox * GRID, spot.y + dy + oy * GRID)
            if self.holds(cell) and self.base[cell] < BLOCK:
                mine.append((cell, oy == 0))
                self._keep(cell, 1)

    def release(self, key: tuple[str, str]) -> None:
        """Keep the cells of a port no longer."""
        for cell, _ in self._reserved.pop(key, ()):
            self._keep(cell, -1)

    def _keep(self, cell: Cell, count: int) -> None:
        self._kept[cell] += count
        self.across[cell] += count * BLOCK
        self.down[cell] += count * BLOCK

    def reserved_for(self, keys: Iterable[tuple[str, str]]) -> list[tuple[Cell, bool]]:
        """Return the cells kept for these ports, and whether their wires cross them level."""
        return [c for key in dict.fromkeys(keys) for c in self._reserved.get(key, ())]

    def lay(self, points: Iterable[Point], count: int = 1) -> None:
        """Mark the cells of a wire; a count of -1 lifts it."""
        cells = [self.cell(x, y) for x, y in points]
        for (ra, ca), (rb, cb) in pairwise(cells):
            if ra == rb:
                span = slice(max(0, min(ca, cb)), max(0, max(ca, cb) + 1))
                _add(self.level, self.across, self.down, (ra, span), count)
            else:
                span = slice(max(0, min(ra, rb)), max(0, max(ra, rb) + 1))
                _add(self.upright.T, self.down.T, self.across.T, (ca, span), count)

    def end(self, point: Point, count: int = 1) -> None:
        """Mark the cell where a wire ends in the open: nothing may cross it there."""
        row, column = self.cell(*point)
        if self.holds((row, column)):
            _add(self.level, self.across, self.down, (row, slice(column, column + 1)), count)
            _add(self.upright.T, self.down.T, self.across.T, (column, slice(row, row + 1)), count)

    def stand(self, place: Place, card: Card) -> None:
        """Let a card stand elsewhere: only the cells where it stood and stands are worked out."""
        row = self._row[place.id]
        old, new = self._solid[row], _solid(place, card)
        self._solid[row], self._boxes[row] = new, _box(new.whole)
        for rect in (old.whole, new.whole):
            part = self._cells(rect)
            self._paint(part)
            self.across[part], self.down[part] = self._costs_within(part)

    def covers(self, rect: Rect) -> bool:
        """Tell whether a rectangle lies within the field."""
        rows, columns = self._cells(rect)
        x, y = rect.x / GRID - self.column0, rect.y / GRID - self.row0
        return x >= 0 and y >= 0 and rows.stop < self.shape[0] and columns.stop < self.shape[1]

    def costs(self, part: Part, leave: Leave = STRICT) -> tuple[Costs, Costs]:
        """Return the costs of level and of upright steps.

        Lines right outside of the part count for nothing.
        """
        level, upright = self.level[part].astype(np.int32), self.upright[part].astype(np.int32)
        plain = np.minimum(self.base[part], leave.solid)
        plain = plain + leave.kept * self._kept[part].astype(np.int32)
        across = plain + CROSS * upright + leave.along * level
        down = plain + CROSS * level + leave.along * upright
        across[1:] += BESIDE * level[:-1]
        across[:-1] += BESIDE * level[1:]
        down[:, 1:] += BESIDE * upright[:, :-1]
        down[:, :-1] += BESIDE * upright[:, 1:]
        return across, down

    def _costs_within(self, part: Part) -> tuple[Costs, Costs]:
        """Return the costs of a part, the lines right outside of it counted."""
        (top, bottom), (left, right) = ((s.start, s.stop) for s in part)
        wider = (slice(max(0, top - 1), bottom + 1), slice(max(0, left - 1), right + 1))
        across, down = self.costs(wider)
        dy, dx = top - wider[0].start, left - wider[1].start
        inner = (slice(dy, dy + bottom - top), slice(dx, dx + right - left))
        return across[inner], down[inner]

    def _cells(self, rect: Rect) -> Part:
        """Return the cells in a rectangle, its edge included."""
        left = ceil(rect.x / GRID) - self.column0
        top = ceil(rect.y / GRID) - self.row0
        right = floor(rect.right / GRID) - self.column0 + 1
        bottom = floor(rect.bottom / GRID) - self.row0 + 1
        return (_span(top, bottom, self.shape[0]), _span(left, right, self.shape[1]))

    def _paint(self, part: Part) -> None:
        """Work out which cells of a part are free, near a card, or solid."""
        self.base[part] = STEP
        left, top, right, bottom = _box(self._area(part))
        b = self._boxes
        meet = (b[:, 0] < right) & (b[:, 2] > left) & (b[:, 1] < bottom) & (b[:, 3] > top)
        within = [self._solid[i] for i in np.flatnonzero(meet)]
        for solid in within:
            self.base[_both(self._cells(solid.near), part)] = STEP + NEAR_CARD
        for solid in within:
            for area in solid.areas:
                self.base[_both(self._cells(area), part)] = BLOCK

    def _area(self, part: Part) -> Rect:
        """Return the rectangle of a part, a grid line wider."""
        (top, bottom), (left, right) = ((s.start, s.stop) for s in part)
        x, y = self.point((top, left))
        return Rect(x, y, (right - left) * GRID, (bottom - top) * GRID).grown(GRID)


def _solid(place: Place, card: Card) -> _Solid:
    """Return what a card takes of the field."""
    body = card.body.moved(place.x, place.y)
    labels = [r.moved(place.x, place.y).grown(4) for r in (card.tag, card.name) if r.w]
    near = body.grown(GRID)
    return _Solid(near, united([near, *labels]), (body, *labels))


def _box(rect: Rect) -> tuple[float, float, float, float]:
    return (rect.x, rect.y, rect.right, rect.bottom)


def _span(first: int, last: int, size: int) -> slice:
    start = min(max(0, first), size)
    return slice(start, min(max(start, last), size))


def _both(a: Part, b: Part) -> Part:
    """Return the cells of both parts."""
    starts = [max(p.start, q.start) for p, q in zip(a, b, strict=True)]
    stops = [min(p.stop, q.stop) for p, q in zip(a, b, strict=True)]
    rows, columns = (slice(s, max(s, e)) for s, e in zip(starts, stops, strict=True))
    return rows, columns


def _add(
    count_of: NDArray[np.int16], along: Costs, over: Costs, at: tuple[int, slice], count: int
) -> None:
    """Count a stretch on one line: it bars its own line, is crossed, and is not liked beside."""
    line, span = at
    if 0 <= line < len(along):
        count_of[line, span] += count
        along[line, span] += count * BLOCK
        over[line, span] += count * CROSS
    if 1 <= line < len(along) - 1:
        along[line - 1 : line + 2 : 2, span] += count * BESIDE
        return
    for beside in (line - 1, line + 1):
        if 0 <= beside < len(along):
            along[beside, span] += count * BESIDE
