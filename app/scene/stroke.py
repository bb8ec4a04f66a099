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
AROUND = HIT / 2 + 14
"""How far beside its way a wire is looked for."""
PAINTED = 16.0
"""How far beside its way anything of a wire is painted, and where its way bends."""
BESIDE = 12.0
"""How far beside its way a wire is painted that is not selected and has no marks on it."""
BRANCH = 0.64
"""Where on its longest piece a wire has the handle for a branch, clear of number and badge."""

Line = tuple[float, float, float, float]
"""Both ends of a straight piece."""


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

    `runs` and `lines`, the same for Python and for Qt, and `corners` are the path in pieces that
    lap over each other: level and upright lines are painted many times faster than a path, above
    all in dashes.
    """

    points: Sequence[Point]
    runs: tuple[Line, ...]
    lines: list[QLineF]
    corners: QPainterPath
    bounds: QRectF
    longest: tuple[Point, Point]
    bend: float

    @cached_property
    def path(self) -> QPainterPath:
        """The way as one."""
        return rounded(self.points, self.bend)

    @cached_property
    def badge(self) -> QPointF:
        """Where the badge of a finding stands: in the middle of the longest piece."""
        a, b = self.longest
        return QPointF(a[0] + (b[0] - a[0]) * 0.5, a[1] + (b[1] - a[1]) * 0.5)

    @cached_property
    def branch(self) -> QPointF | None:
        """Where a branch is drawn from: off the middle and the ends of the longest piece.

        None where that is too short for one more handle.
        """
        a, b = self.longest
        if hypot(b[0] - a[0], b[1] - a[1]) < 4 * HANDLE:
            return None
        return QPointF(a[0] + (b[0] - a[0]) * BRANCH, a[1] + (b[1] - a[1]) * BRANCH)

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
    runs, corners = _in_pieces(points, bend)
    lines = [QLineF(*run) for run in runs]
    bounds = _area(points, AROUND)
    return Stroke(points, runs, lines, corners, bounds, _longest(points), bend)


def changed_strips(before: Stroke, now: Stroke, whole: bool) -> list[QRectF]:
    """Return the areas in which a wire looks different after it has taken another way.

    `whole` is for a wire that looks different all along, and broader.
    """
    old, new = before.runs, now.runs
    if whole:
        return [_strip(run, PAINTED) for run in (*old, *new)]
    if len(old) == len(new):
        changed = [r for a, b in zip(old, new, strict=True) if a != b for r in _differing(a, b)]
    else:
        changed = [_strip(r) for r in old if r not in new]
        changed += [_strip(r) for r in new if r not in old]
    if before.longest != now.longest:
        changed += [_strip((*s.badge.toTuple(), *s.badge.toTuple())) for s in (before, now)]
    return changed


def _differing(a: Line, b: Line) -> tuple[QRectF, ...]:
    """Return where two pieces look different: only at the end where they begin alike."""
    if _begin(a) == _begin(b):
        return (_strip((*a[2:], *b[2:])),)
    one, other = _strip(a), _strip(b)
    both = one.united(other)
    return (both,) if _size(both) <= _size(one) + _size(other) else (one, other)


def _size(rect: QRectF) -> float:
    return rect.width() * rect.height()


def _begin(run: Line) -> tuple[float, float, int, int]:
    """Return where a piece begins and which way it runs."""
    x, y, to_x, to_y = run
    return (x, y, (to_x > x) - (to_x < x), (to_y > y) - (to_y < y))


def _strip(run: Line, beside: float = BESIDE) -> QRectF:
    """Return the area of a piece with what is painted beside it and the bends at its ends."""
    ax, ay, bx, by = run
    left, top, wide, high = min(ax, bx), min(ay, by), abs(bx - ax), abs(by - ay)
    dx, dy = (PAINTED, beside) if wide > high else (beside, PAINTED)
    if wide == high == 0.0:
        dx = dy = PAINTED
    return QRectF(left - dx, top - dy, wide + 2 * dx, high + 2 * dy)


def _area(points: Sequence[Point], around: float) -> QRectF:
    """Return the area of points and so much around them."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    left, top = min(xs) - around, min(ys) - around
    return QRectF(left, top, max(xs) + around - left, max(ys) + around - top)


def _handles(path: QPainterPath) -> tuple[QPointF, QPointF]:
    """Return where an end of the wire is taken hold of: on it, a little off the terminal."""
    share = min(HANDLE / max(path.length(), 1.0), 0.5)
    return path.pointAtPercent(share), path.pointAtPercent(1.0 - share)


def rounded(points: Sequence[Point], bend: float) -> QPainterPath:
    """Return a path through the corners with round bends."""
    path = QPainterPath(QPointF(*points[0]))
    for before, corner, after in zip(points, points[1:], points[2:], strict=False):
        path.lineTo(*_toward(corner, before, bend))
        path.quadTo(*corner, *_toward(corner, after, bend))
    path.lineTo(*points[-1])
    return path


def _in_pieces(points: Sequence[Point], bend: float) -> tuple[tuple[Line, ...], QPainterPath]:
    """Return the straight lines of the path of `rounded`, and its bends."""
    corners = QPainterPath()
    stops = [points[0]]
    for before, corner, after in zip(points, points[1:], points[2:], strict=False):
        start, end = _toward(corner, before, bend), _toward(corner, after, bend)
        corners.moveTo(*start)
        corners.quadTo(*corner, *end)
        stops += [start, end]
    stops.append(points[-1])
    ends = len(stops) - 2
    pairs = zip(stops[::2], stops[1::2], strict=True)
    return tuple(_lapping(a, b, i > 0, 2 * i < ends) for i, (a, b) in enumerate(pairs)), corners


def _lapping(a: Point, b: Point, from_bend: bool, to_bend: bool) -> Line:
    """Return a line that laps over the bends at its ends, so that no seam shows."""
    length = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    dx, dy = (b[0] - a[0]) / length * LAP, (b[1] - a[1]) / length * LAP
    return (a[0] - dx * from_bend, a[1] - dy * from_bend, b[0] + dx * to_bend, b[1] + dy * to_bend)


def _toward(corner: Point, other: Point, bend: float) -> Point:
    """Return the point `bend` away from a corner, at most half way to the next one."""
    dx, dy = other[0] - corner[0], other[1] - corner[1]
    length = hypot(dx, dy) or 1.0
    share = min(bend, length / 2) / length
    return (corner[0] + dx * share, corner[1] + dy * share)


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
