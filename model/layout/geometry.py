"""Rectangles, sides and grid arithmetic shared by the layout."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil, floor

GRID = 10
"""Cards, ports and wires stand on multiples of this."""

Point = tuple[float, float]
Stretch = tuple[Point, Point]
"""A straight part of a wire, level or upright."""

SIDES = ("top", "right", "bottom", "left")
"""The sides of a card, clockwise."""

OUTWARD: dict[str, tuple[int, int]] = {
    "top": (0, -1),
    "right": (1, 0),
    "bottom": (0, 1),
    "left": (-1, 0),
}
"""The unit vector that leaves a card by each side."""


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle by its left top corner and its size."""

    x: float
    y: float
    w: float
    h: float

    @property
    def right(self) -> float:
        """The right edge."""
        return self.x + self.w

    @property
    def bottom(self) -> float:
        """The lower edge."""
        return self.y + self.h

    @property
    def centre(self) -> Point:
        """The middle."""
        return (self.x + self.w / 2, self.y + self.h / 2)

    def moved(self, dx: float, dy: float) -> Rect:
        """Return the same rectangle elsewhere."""
        return Rect(self.x + dx, self.y + dy, self.w, self.h)

    def grown(self, by: float) -> Rect:
        """Return the rectangle with `by` added on every side."""
        return Rect(self.x - by, self.y - by, self.w + 2 * by, self.h + 2 * by)

    def overlaps(self, other: Rect) -> bool:
        """Tell whether the insides meet; touching edges do not count."""
        return (
            self.x < other.right
            and other.x < self.right
            and self.y < other.bottom
            and other.y < self.bottom
        )

    def contains(self, x: float, y: float) -> bool:
        """Tell whether the point lies inside, not on the edge."""
        return self.x < x < self.right and self.y < y < self.bottom

    def crossed_by(self, a: Point, b: Point) -> bool:
        """Tell whether an upright or level line from `a` to `b` enters the inside."""
        return (
            min(a[0], b[0]) < self.right
            and max(a[0], b[0]) > self.x
            and min(a[1], b[1]) < self.bottom
            and max(a[1], b[1]) > self.y
        )


def united(rects: Iterable[Rect]) -> Rect:
    """Return the smallest rectangle around all of them; an empty one at 0, 0 for none."""
    all_rects = list(rects)
    if not all_rects:
        return Rect(0, 0, 0, 0)
    left = min(r.x for r in all_rects)
    top = min(r.y for r in all_rects)
    right = max(r.right for r in all_rects)
    bottom = max(r.bottom for r in all_rects)
    return Rect(left, top, right - left, bottom - top)


def snap(value: float, step: int = GRID) -> int:
    """Return the nearest multiple of `step`, halves upwards."""
    return floor(value / step + 0.5) * step


def snap_up(value: float, step: int = GRID) -> int:
    """Return the next multiple of `step` that is not below the value."""
    return ceil(value / step - 1e-9) * step


def share(first: Sequence[Stretch], second: Sequence[Stretch]) -> bool:
    """Tell whether two ways run along each other, or one bends or ends on the other."""
    others = [_span(q) for q in second]
    return any(
        _touch(_span(p), q) and not cross(p, second[i]) for p in first for i, q in enumerate(others)
    )


Span = tuple[float, float, float, float]


def _span(stretch: Stretch) -> Span:
    """Return left, top, right and bottom."""
    (ax, ay), (bx, by) = stretch
    return (min(ax, bx), min(ay, by), max(ax, bx), max(ay, by))


def _touch(a: Span, b: Span) -> bool:
    """Tell whether two stretches have a point in common."""
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]


def cross(p: Stretch, q: Stretch) -> bool:
    """Tell whether two stretches cross at a right angle, away from their ends."""
    a, b = _span(p), _span(q)
    level, upright = (a, b) if a[1] == a[3] else (b, a)
    if level[1] != level[3] or upright[0] != upright[2]:
        return False
    return level[0] < upright[0] < level[2] and upright[1] < level[1] < upright[3]
