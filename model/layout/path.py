"""The way of a wire on a sheet."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from model.layout.geometry import Point, Rect


@dataclass(frozen=True, slots=True)
class Path:
    """The way of a wire: its two ends and the bends between them, in scene units."""

    points: tuple[Point, ...]

    @property
    def bends(self) -> tuple[Point, ...]:
        """The corners."""
        return self.points[1:-1]

    @property
    def length(self) -> float:
        """How long it is, in scene units."""
        pairs = pairwise(self.points)
        return sum(abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in pairs)

    @property
    def box(self) -> Rect:
        """The smallest rectangle around it."""
        xs, ys = [x for x, _ in self.points], [y for _, y in self.points]
        return Rect(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))


def off(a: Point, b: Point) -> float:
    """Return how far two points are from being level or upright to each other."""
    return min(abs(a[0] - b[0]), abs(a[1] - b[1]))


def tidy(points: Iterable[Point]) -> tuple[Point, ...]:
    """Return the points without doubles and without those in the middle of a straight line."""
    kept: list[Point] = []
    for point in points:
        if kept and kept[-1] == point:
            continue
        while len(kept) > 1 and (
            kept[-2][0] == kept[-1][0] == point[0] or kept[-2][1] == kept[-1][1] == point[1]
        ):
            kept.pop()
        kept.append(point)
    return tuple(kept)


def squared(points: Iterable[Point]) -> list[Point]:
    """Return the points with a corner wherever two are neither level nor upright to each other."""
    made: list[Point] = []
    for point in points:
        if made and made[-1][0] != point[0] and made[-1][1] != point[1]:
            made.append((point[0], made[-1][1]))
        made.append(point)
    return made
