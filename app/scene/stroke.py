"""Shapes of a wire, made once when its route changes: its path, tracer, marks, label spot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import hypot

from PySide6.QtCore import QLineF, QPointF, QRectF
from PySide6.QtGui import QPainterPath, QPainterPathStroker

from model.layout.geometry import Point, Rect

BEND = 10.0
LAP = 0.6
MARK_EVERY = 150.0
MARK_MIN = 46.0
HIT = 16.0
HANDLE = 24.0
BRANCH = 0.64
"""Where on its longest piece a wire has the handle for a branch, clear of number and badge."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A place for a direction mark: where, and which way the wire runs there (unit vector)."""

    x: float
    y: float
    dx: float
    dy: float


@dataclass(frozen=True)
class Stroke:
    """All shapes of one wire; those that not every picture needs are made when one does.

    `lines` and `corners` are the path in pieces that lap over each other: level and upright lines
    are painted many times faster than a path, above all in dashes.
    """

    points: Sequence[Point]
    path: QPainterPath
    lines: list[QLineF]
    corners: QPainterPath
    bounds: QRectF
    middle: QPointF
    badge: QPointF
    branch: QPointF | None = None

    @cached_property
    def marks(self) -> tuple[Mark, ...]:
        """Where direction marks stand."""
        return _marks(self.points)

    @cached_property
    def hit(self) -> QPainterPath:
        """The area in which a click means the wire."""
        stroker = QPainterPathStroker()
        stroker.setWidth(HIT)
        return stroker.createStroke(self.path)

    @cached_property
    def handles(self) -> tuple[QPointF, QPointF]:
        """Where the ends are taken hold of."""
        return _handles(self.path)


def stroke_of(points: Sequence[Point], bend: float = BEND) -> Stroke:
    """Return the shapes of a wire through these corners.

    Of cards that touch, two terminals can stand at one point: their wire is drawn as a dot.
    """
    if len(points) == 1:
        points = (points[0], (points[0][0] + 1.0, points[0][1]))
    path, lines, corners = _in_pieces(points, bend)
    around = HIT / 2 + 14
    bounds = path.controlPointRect().adjusted(-around, -around, around, around)
    a, b = _longest(points)
    middle = QPointF((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    badge = QPointF(a[0] + (b[0] - a[0]) * 0.5, a[1] + (b[1] - a[1]) * 0.5)
    return Stroke(points, path, lines, corners, bounds, middle, badge, _branch(a, b))


def _handles(path: QPainterPath) -> tuple[QPointF, QPointF]:
    """Return where an end of the wire is taken hold of: on it, a little off the terminal."""
    share = min(HANDLE / max(path.length(), 1.0), 0.5)
    return path.pointAtPercent(share), path.pointAtPercent(1.0 - share)


def _branch(a: Point, b: Point) -> QPointF | None:
    """Return where a branch is drawn from: off the middle and the ends of the longest piece.

    None where that is too short for one more handle.
    """
    if hypot(b[0] - a[0], b[1] - a[1]) < 4 * HANDLE:
        return None
    return QPointF(a[0] + (b[0] - a[0]) * BRANCH, a[1] + (b[1] - a[1]) * BRANCH)


def rounded(points: Sequence[Point], bend: float) -> QPainterPath:
    """Return a path through the corners with round bends."""
    path = QPainterPath(QPointF(*points[0]))
    for before, corner, after in zip(points, points[1:], points[2:], strict=False):
        start = _toward(corner, before, bend)
        end = _toward(corner, after, bend)
        path.lineTo(start)
        path.quadTo(QPointF(*corner), end)
    path.lineTo(QPointF(*points[-1]))
    return path


def _in_pieces(
    points: Sequence[Point], bend: float
) -> tuple[QPainterPath, list[QLineF], QPainterPath]:
    """Return the path of `rounded`, its straight lines, and its bends."""
    path, corners = QPainterPath(QPointF(*points[0])), QPainterPath()
    stops = [points[0]]
    for before, corner, after in zip(points, points[1:], points[2:], strict=False):
        start, middle = _toward(corner, before, bend), QPointF(*corner)
        end = _toward(corner, after, bend)
        path.lineTo(start)
        path.quadTo(middle, end)
        corners.moveTo(start)
        corners.quadTo(middle, end)
        stops += [start.toTuple(), end.toTuple()]
    path.lineTo(QPointF(*points[-1]))
    stops.append(points[-1])
    ends = len(stops) - 2
    pairs = zip(stops[::2], stops[1::2], strict=True)
    lines = [_lapping(a, b, i > 0, 2 * i < ends) for i, (a, b) in enumerate(pairs)]
    return path, lines, corners


def _lapping(a: Point, b: Point, from_bend: bool, to_bend: bool) -> QLineF:
    """Return a line that laps over the bends at its ends, so that no seam shows."""
    length = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    dx, dy = (b[0] - a[0]) / length * LAP, (b[1] - a[1]) / length * LAP
    return QLineF(
        a[0] - dx * from_bend, a[1] - dy * from_bend, b[0] + dx * to_bend, b[1] + dy * to_bend
    )


def _toward(corner: Point, other: Point, bend: float) -> QPointF:
    """Return the point `bend` away from a corner, at most half way to the next one."""
    length = hypot(other[0] - corner[0], other[1] - corner[1]) or 1.0
    share = min(bend, length / 2) / length
    return QPointF(
        corner[0] + (other[0] - corner[0]) * share, corner[1] + (other[1] - corner[1]) * share
    )


def shifted(points: Sequence[Point], by: float) -> tuple[Point, ...]:
    """Return the corners of a line that runs beside an upright and level one, to its right."""
    if len(points) < 2:
        return tuple(points)
    normals = [_normal(a, b) for a, b in pairwise(points)]
    moved = []
    for i, (x, y) in enumerate(points):
        before = normals[max(0, i - 1)]
        after = normals[min(i, len(normals) - 1)]
        nx = before[0] if abs(before[0]) > abs(after[0]) else after[0]
        ny = before[1] if abs(before[1]) > abs(after[1]) else after[1]
        moved.append((x + nx * by, y + ny * by))
    return tuple(moved)


def _normal(a: Point, b: Point) -> Point:
    length = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    return (-(b[1] - a[1]) / length, (b[0] - a[0]) / length)


def _longest(points: Sequence[Point]) -> tuple[Point, Point]:
    """Return the ends of the longest straight piece."""
    pairs = list(pairwise(points))
    return max(pairs, key=lambda p: hypot(p[1][0] - p[0][0], p[1][1] - p[0][1]))


def _marks(points: Sequence[Point]) -> tuple[Mark, ...]:
    """Return where direction marks stand: off the bends, apart from each other."""
    marks = []
    for (ax, ay), (bx, by) in pairwise(points):
        length = hypot(bx - ax, by - ay)
        if length < MARK_MIN:
            continue
        count = max(1, round(length / MARK_EVERY))
        for i in range(count):
            share = (i + 1) / (count + 1) if count > 1 else 0.5
            dx, dy = (bx - ax) / length, (by - ay) / length
            marks.append(Mark(ax + (bx - ax) * share, ay + (by - ay) * share, dx, dy))
    return tuple(marks)


def toward(points: Sequence[Point], area: Rect) -> str:
    """Return the side of an area at which its wire runs: left, right, or centre."""
    middle = area.y + area.h / 2
    for (ax, ay), (bx, by) in pairwise(points):
        if ax != bx or not min(ay, by) <= middle <= max(ay, by):
            continue
        if 0 <= area.x - ax < 16:
            return "left"
        if 0 <= ax - area.right < 16:
            return "right"
    return "centre"
