"""What is taken on a sheet when labels are placed: cards, terminals, bends, labels and wires."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import pairwise
from math import ceil, floor, inf

import numpy as np
from numpy.typing import NDArray

from model.circuit import Sheet
from model.layout.beside import Line, Spot
from model.layout.geometry import Rect, united
from model.layout.path import Path
from model.layout.shape import Card
from model.layout.sizes import Sizes

CELL = 5
LARGEST = 3000
"""Most cells each way; there are no labels beyond."""
MARGIN = 60
OVER_WIRE = 40.0
HARD = 100
"""What counts as taken where places are looked for finely; less is what lies close to a bend."""


class Board:
    """What is taken on a sheet, in cells of five units: hard things and wires.

    A label keeps off the surroundings of bends, too, unless its place is looked for finely.
    """

    def __init__(
        self, sheet: Sheet, cards: Mapping[str, Card], paths: Mapping[str, Path], sizes: Sizes
    ) -> None:
        self.sizes = sizes
        places = [(p, cards[p.id]) for p in sheet.places.values() if p.id in cards]
        points = [Rect(x, y, 0, 0) for p in paths.values() for x, y in p.points]
        frame = united([*(c.outer.moved(p.x, p.y) for p, c in places), *points]).grown(MARGIN)
        self.x0, self.y0 = frame.x, frame.y
        shape = (min(LARGEST, ceil(frame.h / CELL) + 1), min(LARGEST, ceil(frame.w / CELL) + 1))
        self.hard: NDArray[np.int16] = np.zeros(shape, dtype=np.int16)
        self.wires: NDArray[np.int16] = np.zeros(shape, dtype=np.int16)
        for place, card in places:
            self._card(card, place.x, place.y)
        for path in paths.values():
            self._wire(path)

    def put(self, line: Line, text: str, *, finely: bool = False, most: float = inf) -> Rect | None:
        """Take the place where a label disturbs least; None when none costs less than `most`."""
        self._line(line.path, -1)
        places = line.places(self.sizes.label_area(text), self.sizes.beside, finely)
        best = self._least(places, most, HARD if finely else 1)
        self._line(line.path, 1)
        if best is not None:
            self.mark(best, 1)
        return best

    def _least(self, places: Iterable[Spot], most: float, taken: int) -> Rect | None:
        """Return the free place that costs least, other wires under it counted.

        A label beside its wire that covers another would be read as that one's.
        """
        best: Rect | None = None
        for cost, rect, own in places:
            if cost >= most:
                continue
            rows, columns = self._cells(rect)
            if not self._within(rect) or (self.hard[rows, columns] >= taken).any():
                continue
            covered = int(np.count_nonzero(self.wires[rows, columns]))
            total = cost + covered + (OVER_WIRE if covered and not own else 0)
            if total < most:
                best, most = rect, total
        return best

    def hold(self, rect: Rect) -> bool:
        """Mark a rectangle if it is free; tell whether it was."""
        is_free = self._within(rect) and not self.hard[self._cells(rect)].any()
        if is_free:
            self.mark(rect, 1)
        return is_free

    def mark(self, rect: Rect, count: int) -> None:
        """Take (1) or free (-1) the cells of a rectangle."""
        self.hard[self._cells(rect)] += count * HARD

    def _within(self, rect: Rect) -> bool:
        """Tell whether a rectangle lies on the board."""
        rows, columns = self.hard.shape
        right, bottom = self.x0 + columns * CELL, self.y0 + rows * CELL
        return (
            rect.x >= self.x0
            and rect.y >= self.y0
            and rect.right <= right
            and rect.bottom <= bottom
        )

    def _cells(self, rect: Rect) -> tuple[slice, slice]:
        top = max(0, floor((rect.y - self.y0) / CELL))
        left = max(0, floor((rect.x - self.x0) / CELL))
        return (
            slice(top, max(top, ceil((rect.bottom - self.y0) / CELL))),
            slice(left, max(left, ceil((rect.right - self.x0) / CELL))),
        )

    def _card(self, card: Card, x: float, y: float) -> None:
        for rect in (card.body, card.tag, card.name):
            if rect.w:
                self.mark(rect.moved(x, y).grown(2), 1)
        for port in card.ports.values():
            for spot in port.spots:
                self.mark(Rect(x + spot.x - 8, y + spot.y - 8, 16, 16), 1)

    def _wire(self, path: Path) -> None:
        for bx, by in path.points:
            self.mark(Rect(bx - 1, by - 1, 2, 2), 1)
            self.hard[self._cells(Rect(bx - 6, by - 6, 12, 12))] += 1
        self._line(path, 1)

    def _line(self, path: Path, count: int) -> None:
        """Mark (1) or clear (-1) the cells of a wire's line."""
        for (ax, ay), (bx, by) in pairwise(path.points):
            rect = Rect(min(ax, bx), min(ay, by), abs(ax - bx), abs(ay - by)).grown(3)
            self.wires[self._cells(rect)] += count
