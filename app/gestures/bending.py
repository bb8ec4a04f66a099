"""A segment of a wire dragged aside: the bends it gets are kept."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainterPath

from app.acts import kept_route, snapped
from app.gestures.gesture import Gesture
from app.gestures.stage import Draft, Stage
from model.layout.geometry import Point
from model.layout.path import tidy

LEAST = 6.0
"""How far the mouse moves before a press on a wire is a drag, in scene units."""
STUB = 20.0
"""What of an end piece stays where it is, so that the wire leaves its terminal straight."""


class SegmentGesture(Gesture):
    """Moves the piece of a wire that was pressed, across its own way, to the grid."""

    def __init__(self, stage: Stage, at: QPointF, wire_id: str) -> None:
        super().__init__(stage, at)
        self.wire_id = wire_id
        self.points = tuple(stage.scene.geometry.wires.get(wire_id, ()))
        self.piece = nearest_piece(self.points, (at.x(), at.y()))

    def move(self, at: QPointF) -> None:
        """Show the wire as it would run."""
        if self._far(at):
            path = QPainterPath()
            path.addPolygon([QPointF(*p) for p in self._bent(at)])
            self.stage.draft(Draft(wire=path))

    def end(self, at: QPointF) -> None:
        """Keep the new bends."""
        self.stage.draft()
        if not self._far(at) or len(self.points) < 2:
            return
        bent = self._bent(at)
        if bent != self.points:
            session, scene = self.stage.session, self.stage.scene
            bends = bent[1:-1]
            session.do(
                kept_route(session.circuit, session.sheet, scene.geometry, self.wire_id, bends)
            )

    def _far(self, at: QPointF) -> bool:
        return (at - self.start).manhattanLength() >= LEAST

    def _bent(self, at: QPointF) -> tuple[Point, ...]:
        return bent(self.points, self.piece, (snapped(at.x()), snapped(at.y())))


def nearest_piece(points: Sequence[Point], at: Point) -> int:
    """Return the index of the piece of a wire that lies nearest to a point."""
    away = [away_from(a, b, at) for a, b in pairwise(points)]
    return away.index(min(away)) if away else 0


def bent(points: Sequence[Point], piece: int, to: Point) -> tuple[Point, ...]:
    """Return the corners of a wire with one piece moved across its way to a point.

    The ends stay where they are: of a piece at an end a stub stays, and the wire steps aside
    behind it.
    """
    if len(points) < 2:
        return tuple(points)
    a, b = points[piece], points[piece + 1]
    level = a[1] == b[1]
    first, last = piece == 0, piece + 1 == len(points) - 1
    start = [a, _along(a, b)] if first else []
    end = [_along(b, a), b] if last else []
    inner_a, inner_b = (start[-1] if first else a), (end[0] if last else b)
    moved = [_across(inner_a, to, level), _across(inner_b, to, level)]
    return tidy((*points[:piece], *start, *moved, *end, *points[piece + 2 :]))


def _along(a: Point, b: Point) -> Point:
    """Return the point a stub away from one end of a piece, at most in its middle."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = abs(dx) + abs(dy)
    step = min(STUB, length / 2)
    return (a[0] + dx / length * step, a[1] + dy / length * step) if length else a


def _across(point: Point, to: Point, level: bool) -> Point:
    return (point[0], to[1]) if level else (to[0], point[1])


def away_from(a: Point, b: Point, at: Point) -> float:
    """Return how far a point is from a level or upright piece."""
    x = min(max(at[0], min(a[0], b[0])), max(a[0], b[0]))
    y = min(max(at[1], min(a[1], b[1])), max(a[1], b[1]))
    return abs(at[0] - x) + abs(at[1] - y)
