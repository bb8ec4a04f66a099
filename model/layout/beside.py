"""Where the label of a wire may stand, and what each place costs: the best is beside the middle of
the longest straight stretch. That of a wire with an open end may also stand beyond that end.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import floor

from model.circuit import Wire
from model.layout.geometry import Point, Rect, Stretch
from model.layout.path import Path

STRIDE = 20.0
FINE = 5.0
"""How far apart places along a wire are, and how far where no room was found so."""
MOST_OFFSETS = 30
ON_WIRE = 25.0
END_ROOM = 10
ASIDE = (0, -10, 10, -15, 15)
"""How far aside of its wire's line a label beyond an open end may stand."""
FARTHER = (10, 20, 30)
"""How far beyond it."""

Size = tuple[float, float]
"""Width and height."""

Spot = tuple[float, Rect, bool]
"""What a place costs, the place, and whether it lies on the wire itself."""


@dataclass(frozen=True, slots=True)
class Line:
    """A wire's way, and its last stretch towards an open end, if it has one."""

    path: Path
    tip: Stretch | None = None

    @staticmethod
    def of(wire: Wire, path: Path) -> Line:
        """Return the line of a wire that runs this way."""
        if wire.first is not None and wire.second is not None:
            return Line(path)
        points = path.points if wire.second is None else path.points[::-1]
        return Line(path, (points[-2], points[-1]))

    def places(self, size: Size, beside: float, finely: bool) -> Iterator[Spot]:
        """Yield the places for a label of this size, with what each costs.

        `beside` is how far a label's edge stands off the wire; places lie closer to each other
        where they are looked for `finely`.
        """
        yield from _along(self.path, size, beside, finely)
        if self.tip is not None:
            yield from _beyond(self.tip, size, FARTHER if finely else FARTHER[:1])


def _along(path: Path, size: Size, beside: float, finely: bool) -> Iterator[Spot]:
    """Yield the places along a way."""
    width, height = size
    stride, spare = (FINE, 0) if finely else (STRIDE, 2 * END_ROOM)
    stretches = sorted(pairwise(path.points), key=lambda s: -_length(s))
    for rank, (a, b) in enumerate(stretches):
        level = a[1] == b[1]
        room = _length((a, b)) - (width if level else height) - spare
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        for off in _offsets(max(0.0, room) / 2, stride):
            base = rank * 6 + abs(off) / 25
            at = (middle[0] + off, middle[1]) if level else (middle[0], middle[1] + off)
            found = _beside_level(at, size, beside) if level else _beside_upright(at, size, beside)
            for cost, rect, own in found:
                if not own or room >= 0:
                    yield base + cost, rect, own


def _beyond(tip: Stretch, size: Size, distances: tuple[int, ...]) -> Iterator[Spot]:
    """Yield the places beyond an open end: in line with it, then a little to either side."""
    (ax, ay), (bx, by) = tip
    w, h = size
    for far in distances:
        left = bx - w / 2 if ax == bx else bx + far if bx > ax else bx - far - w
        top = by - h / 2 if ay == by else by + far if by > ay else by - far - h
        for aside in ASIDE:
            dx, dy = (aside, 0) if ax == bx else (0, aside)
            yield far + abs(aside), Rect(left + dx, top + dy, w, h), False


def _length(stretch: Stretch) -> float:
    return abs(stretch[0][0] - stretch[1][0]) + abs(stretch[0][1] - stretch[1][1])


def _offsets(reach: float, stride: float) -> Iterator[float]:
    """Yield offsets from the middle, nearest first; wider apart on very long stretches."""
    yield 0.0
    stride = max(stride, reach / MOST_OFFSETS)
    for i in range(1, floor(reach / stride) + 1):
        yield i * stride
        yield -i * stride


def _beside_level(at: Point, size: Size, beside: float) -> Iterator[Spot]:
    """Yield the places above, below and on a level stretch, with what each costs."""
    (x, y), (w, h) = at, size
    yield 0, Rect(x - w / 2, y - beside - h, w, h), False
    yield 3, Rect(x - w / 2, y + beside, w, h), False
    yield ON_WIRE, Rect(x - w / 2, y - h / 2, w, h), True


def _beside_upright(at: Point, size: Size, beside: float) -> Iterator[Spot]:
    """Yield the places right of, left of and on an upright stretch, with what each costs."""
    (x, y), (w, h) = at, size
    yield 0, Rect(x + beside, y - h / 2, w, h), False
    yield 2, Rect(x - beside - w, y - h / 2, w, h), False
    yield ON_WIRE, Rect(x - w / 2, y - h / 2, w, h), True
