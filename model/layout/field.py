"""The grid that wires are routed on: what is solid, what is reserved, which wires lie where.

Cells are grid points, numbered row by row. Built once for a sheet; wires are laid and lifted.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import pairwise
from math import ceil, floor

from model.circuit import Sheet
from model.layout.geometry import GRID, OUTWARD, Point, Rect, united
from model.layout.shape import Card, Spot

MARGIN = 200
"""Free room around all cards, for wires that go round."""

NEAR_CARD = 4
"""What ten units right beside a card cost on top of their length."""


class Field:
    """Grid cells of one sheet."""

    def __init__(self, sheet: Sheet, cards: Mapping[str, Card]) -> None:
        places = [(p, cards[p.id]) for p in sheet.places.values() if p.id in cards]
        frame = united(c.outer.moved(p.x, p.y) for p, c in places).grown(MARGIN)
        self.x0, self.y0 = floor(frame.x / GRID), floor(frame.y / GRID)
        self.wide = ceil(frame.w / GRID) + 2
        self.high = ceil(frame.h / GRID) + 2
        size = self.wide * self.high
        self.solid = bytearray(size)
        self.cost = bytearray(size)
        self.level = [0] * size
        self.upright = [0] * size
        self.reserved: dict[int, tuple[str, str]] = {}
        self._border()
        for place, made in places:
            self._card(made.body.moved(place.x, place.y))
            for label in (made.tag, made.name):
                if label.w:
                    self._fill(self.solid, label.moved(place.x, place.y).grown(4), 1)

    def cell(self, x: float, y: float) -> int:
        """Return the cell at a grid point."""
        return (round(y / GRID) - self.y0) * self.wide + round(x / GRID) - self.x0

    def point(self, cell: int) -> Point:
        """Return the grid point of a cell."""
        row, column = divmod(cell, self.wide)
        return (float((column + self.x0) * GRID), float((row + self.y0) * GRID))

    def holds(self, x: float, y: float) -> bool:
        """Tell whether a point lies within the field."""
        column, row = round(x / GRID) - self.x0, round(y / GRID) - self.y0
        return 0 < column < self.wide - 1 and 0 < row < self.high - 1

    def reserve(self, spots: Iterable[Spot], dx: float, dy: float, owner: tuple[str, str]) -> None:
        """Keep the cell in front of every spot for the wires of its port."""
        for spot in spots:
            ox, oy = OUTWARD[spot.side]
            x, y = spot.x + dx + ox * GRID, spot.y + dy + oy * GRID
            if self.holds(x, y):
                self.reserved.setdefault(self.cell(x, y), owner)

    def lay(self, points: Iterable[Point], number: int) -> None:
        """Mark the cells of a wire; `number` 0 lifts it."""
        corners = list(points)
        for (ax, ay), (bx, by) in pairwise(corners):
            if not (self.holds(ax, ay) and self.holds(bx, by)):
                continue
            a, b = sorted((self.cell(ax, ay), self.cell(bx, by)))
            if ay == by:
                for cell in range(a, b + 1):
                    self.level[cell] = number
            else:
                for cell in range(a, b + 1, self.wide):
                    self.upright[cell] = number

    def _border(self) -> None:
        """Close the outermost cells, so that a search never leaves the grid."""
        for column in range(self.wide):
            self.solid[column] = self.solid[(self.high - 1) * self.wide + column] = 1
        for row in range(self.high):
            self.solid[row * self.wide] = self.solid[(row + 1) * self.wide - 1] = 1

    def _card(self, body: Rect) -> None:
        self._fill(self.cost, body.grown(GRID), NEAR_CARD)
        self._fill(self.solid, body, 1)

    def _fill(self, array: bytearray, rect: Rect, value: int) -> None:
        """Set all cells in a rectangle, its edge included."""
        left = max(0, ceil(rect.x / GRID) - self.x0)
        right = min(self.wide - 1, floor(rect.right / GRID) - self.x0)
        top = max(0, ceil(rect.y / GRID) - self.y0)
        bottom = min(self.high - 1, floor(rect.bottom / GRID) - self.y0)
        if left > right:
            return
        run = bytes([value]) * (right - left + 1)
        for row in range(top, bottom + 1):
            start = row * self.wide + left
            array[start : start + len(run)] = run
