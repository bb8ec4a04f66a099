"""Places for the labels of wires: never over a bend, a terminal, a card or another label.

A label stands beside a straight stretch of its wire, or on it where there is no room beside.
Every wire gets its number first; then labels grow by as many values as fit.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor

import numpy as np
from numpy.typing import NDArray

from model.circuit import Circuit, Sheet
from model.layout.geometry import Point, Rect, united
from model.layout.path import Path
from model.layout.shape import Card
from model.layout.sizes import ORDINARY, Sizes
from model.lookup import wire_label

CELL = 5
LARGEST = 3000
"""Most cells each way; there are no labels beyond."""
STRIDE = 20.0
MOST_OFFSETS = 30
MARGIN = 60
OVER_WIRE = 40.0
ON_WIRE = 25.0
END_ROOM = 10


Size = tuple[float, float]
"""Width and height."""


@dataclass(frozen=True, slots=True)
class Label:
    """A label's text and where it stands."""

    text: str
    rect: Rect


def place_labels(
    circuit: Circuit,
    sheet: Sheet,
    paths: Mapping[str, Path],
    cards: Mapping[str, Card],
    texts: Mapping[str, Sequence[str]] | None = None,
    sizes: Sizes = ORDINARY,
    held: Mapping[str, Label] | None = None,
) -> dict[str, Label | None]:
    """Return the label of every wire, None where no room was found.

    Parameters
    ----------
    texts
        What each label may say, shortest first; by default the wire's number alone.
    sizes
        How large labels are.
    held
        Labels placed before, which stay as they are where nothing has come in their way.
    """
    board = _Board(sheet, cards, paths, sizes)
    said = texts or {w: (wire_label(circuit.wires[w]),) for w in paths if circuit.wires[w].number}
    found: dict[str, Label | None] = {
        w: label for w, label in (held or {}).items() if w in paths and board.hold(label.rect)
    }
    wanted = (w for w in paths if said.get(w) and w not in found)
    order = sorted(wanted, key=lambda w: (paths[w].length, w))
    for wire in order:
        found[wire] = board.put(paths[wire], said[wire][0])
    for wire in order:
        for text in reversed(said[wire][1:]):
            old = found[wire]
            if old is None:
                break
            board.mark(old.rect, -1)
            new = board.put(paths[wire], text)
            if new is not None:
                found[wire] = new
                break
            board.mark(old.rect, 1)
    return {w: found.get(w) for w in paths}


class _Board:
    """What is taken on a sheet, in cells of five units: hard things and wires."""

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

    def put(self, path: Path, text: str) -> Label | None:
        """Place a label where it disturbs least and mark it; None when nothing is free."""
        size = self.sizes.label_area(text)
        best: tuple[float, Rect] | None = None
        self._line(path, -1)
        for cost, rect in _candidates(path, size, self.sizes.beside):
            if best is not None and cost >= best[0]:
                continue
            rows, columns = self._cells(rect)
            if not self._within(rect) or self.hard[rows, columns].any():
                continue
            covered = int(np.count_nonzero(self.wires[rows, columns]))
            total = cost + (OVER_WIRE + covered if covered else 0)
            if best is None or total < best[0]:
                best = (total, rect)
        self._line(path, 1)
        if best is None:
            return None
        self.mark(best[1], 1)
        return Label(text, best[1])

    def hold(self, rect: Rect) -> bool:
        """Mark a rectangle if it is free; tell whether it was."""
        is_free = self._within(rect) and not self.hard[self._cells(rect)].any()
        if is_free:
            self.mark(rect, 1)
        return is_free

    def mark(self, rect: Rect, count: int) -> None:
        """Take (1) or free (-1) the cells of a rectangle."""
        self.hard[self._cells(rect)] += count

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
        for bx, by in path.bends:
            self.mark(Rect(bx - 6, by - 6, 12, 12), 1)
        self._line(path, 1)

    def _line(self, path: Path, count: int) -> None:
        """Mark (1) or clear (-1) the cells of a wire's line."""
        for (ax, ay), (bx, by) in pairwise(path.points):
            rect = Rect(min(ax, bx), min(ay, by), abs(ax - bx), abs(ay - by)).grown(3)
            self.wires[self._cells(rect)] += count


def _candidates(path: Path, size: Size, beside: float) -> Iterator[tuple[float, Rect]]:
    """Yield places along a path with what they cost: the middle of the longest stretch is best."""
    width, height = size
    stretches = sorted(pairwise(path.points), key=lambda s: -_length(s))
    for rank, (a, b) in enumerate(stretches):
        level = a[1] == b[1]
        room = _length((a, b)) - (width if level else height) - 2 * END_ROOM
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        for off in _offsets(max(0.0, room) / 2):
            base = rank * 6 + abs(off) / 25
            at = (middle[0] + off, middle[1]) if level else (middle[0], middle[1] + off)
            found = _beside_level(at, size, beside) if level else _beside_upright(at, size, beside)
            for cost, rect in found:
                if cost < ON_WIRE or room >= 0:
                    yield base + cost, rect


def _length(stretch: tuple[Point, Point]) -> float:
    return abs(stretch[0][0] - stretch[1][0]) + abs(stretch[0][1] - stretch[1][1])


def _offsets(reach: float) -> Iterator[float]:
    """Yield offsets from the middle, nearest first; wider apart on very long stretches."""
    yield 0.0
    stride = max(STRIDE, reach / MOST_OFFSETS)
    for i in range(1, floor(reach / stride) + 1):
        yield i * stride
        yield -i * stride


def _beside_level(at: Point, size: Size, beside: float) -> Iterator[tuple[float, Rect]]:
    """Yield the places above, below and on a level stretch, with what each costs."""
    (x, y), (w, h) = at, size
    yield 0, Rect(x - w / 2, y - beside - h, w, h)
    yield 3, Rect(x - w / 2, y + beside, w, h)
    yield ON_WIRE, Rect(x - w / 2, y - h / 2, w, h)


def _beside_upright(at: Point, size: Size, beside: float) -> Iterator[tuple[float, Rect]]:
    """Yield the places right of, left of and on an upright stretch, with what each costs."""
    (x, y), (w, h) = at, size
    yield 0, Rect(x + beside, y - h / 2, w, h)
    yield 2, Rect(x - beside - w, y - h / 2, w, h)
    yield ON_WIRE, Rect(x - w / 2, y - h / 2, w, h)
