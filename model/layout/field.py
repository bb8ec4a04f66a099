"""The grid that wires are routed on: what is solid, what is reserved, which wires lie where.

Rows and columns are grid lines. Built once for a sheet; wires are laid and lifted.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import pairwise
from math import ceil, floor

import numpy as np
from numpy.typing import NDArray

from model.circuit import Sheet
from model.layout.geometry import GRID, OUTWARD, Point, Rect, united
from model.layout.shape import Card, Spot

CROSS = 70
"""What crossing another wire costs."""

BESIDE = 4
"""What a step beside another wire, one grid line away, costs on top."""

LARGEST = 1500
"""Most grid lines each way; what lies beyond is not routed around anything."""

MARGIN = 200
"""Free room around all cards, for wires that go round."""

STEP = 10
"""What one grid step costs."""

NEAR_CARD = 5
"""What a step right beside a card costs on top."""

BLOCK = 1 << 18
"""What a step costs that no wire may take; a line of 2,000 of them still fits 32 bits."""

Cell = tuple[int, int]
Costs = NDArray[np.int32]
Part = tuple[slice, slice]


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
        self._kept: NDArray[np.bool_] = np.zeros(shape, dtype=np.bool_)
        for place, made in places:
            self._fill(made.body.moved(place.x, place.y).grown(GRID), STEP + NEAR_CARD)
        for place, made in places:
            self._fill(made.body.moved(place.x, place.y), BLOCK)
            for label in (made.tag, made.name):
                if label.w:
                    self._fill(label.moved(place.x, place.y).grown(4), BLOCK)
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
        mine = self._reserved.setdefault(key, [])
        for spot in spots:
            ox, oy = OUTWARD[spot.side]
            cell = self.cell(spot.x + dx + ox * GRID, spot.y + dy + oy * GRID)
            if self.holds(cell) and self.base[cell] < BLOCK:
                mine.append((cell, oy == 0))
                self._kept[cell] = True
                self.across[cell] = self.down[cell] = BLOCK

    def reserved_for(self, keys: Iterable[tuple[str, str]]) -> list[tuple[Cell, bool]]:
        """Return the cells kept for these ports, and whether their wires cross them level."""
        return [c for key in dict.fromkeys(keys) for c in self._reserved.get(key, ())]

    def lay(self, points: Iterable[Point], count: int = 1) -> None:
        """Mark the cells of a wire; a count of -1 lifts it."""
        for a, b in pairwise(points):
            (ra, ca), (rb, cb) = self.cell(*a), self.cell(*b)
            top, left = max(0, min(ra, rb)), max(0, min(ca, cb))
            bottom, right = max(ra, rb) + 1, max(ca, cb) + 1
            if bottom <= 0 or right <= 0 or top >= self.shape[0] or left >= self.shape[1]:
                continue
            array = self.level if ra == rb else self.upright
            array[top:bottom, left:right] += count
            rows = slice(max(0, top - 1), min(self.shape[0], bottom + 1))
            self._refresh((rows, slice(max(0, left - 1), min(self.shape[1], right + 1))))

    def costs(self, part: Part, block: int = BLOCK) -> tuple[Costs, Costs]:
        """Return the costs of level and of upright steps, `block` along another wire."""
        level, upright = self.level[part] > 0, self.upright[part] > 0
        across = self.base[part] + CROSS * upright.astype(np.int32)
        down = self.base[part] + CROSS * level.astype(np.int32)
        near = BESIDE * level.astype(np.int32)
        across[1:] += near[:-1]
        across[:-1] += near[1:]
        near = BESIDE * upright.astype(np.int32)
        down[:, 1:] += near[:, :-1]
        down[:, :-1] += near[:, 1:]
        across[level] = block
        down[upright] = block
        kept = self._kept[part]
        across[kept] = down[kept] = BLOCK
        return across, down

    def _refresh(self, part: Part) -> None:
        """Work out the costs of a part of the field anew."""
        (top, bottom), (left, right) = ((s.start, s.stop) for s in part)
        wider = (slice(max(0, top - 1), bottom + 1), slice(max(0, left - 1), right + 1))
        across, down = self.costs(wider)
        dy, dx = top - wider[0].start, left - wider[1].start
        inner = (slice(dy, dy + bottom - top), slice(dx, dx + right - left))
        self.across[part], self.down[part] = across[inner], down[inner]

    def _fill(self, rect: Rect, cost: int) -> None:
        """Set the cost of all cells in a rectangle, its edge included."""
        left = max(0, ceil(rect.x / GRID) - self.column0)
        top = max(0, ceil(rect.y / GRID) - self.row0)
        right = floor(rect.right / GRID) - self.column0 + 1
        bottom = floor(rect.bottom / GRID) - self.row0 + 1
        self.base[top : max(top, bottom), left : max(left, right)] = cost
