"""A segment of a wire dragged aside: the bends it gets are kept."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from PySide6.QtCore import QPointF

from app.acts import kept_route, snapped
from app.gestures.draft import Draft
from app.gestures.gesture import Gesture
from app.gestures.stage import Stage, away_from
from app.scene.stroke import BEND, rounded
from model.layout.geometry import GRID, Point
from model.layout.path import tidy
from model.lookup import label

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
        """Show the wire as it would run, or that it cannot run there."""
        if not self._far(at):
            self.stage.draft()
            return
        bent = self._bent(at)
        blocked = self._blocked(bent)
        word = f"not through {blocked}" if blocked else "bend"
        way = rounded(bent, BEND)
        self.stage.draft(Draft(wire=way, word=word, word_at=at, wrong=bool(blocked)))

    def end(self, at: QPointF) -> None:
        """Keep the new bends."""
        self.stage.draft()
        bent = self._bent(at)
        if not self._far(at) or bent == self.points:
            return
        session = self.stage.session
        if blocked := self._blocked(bent):
            session.noticed.emit(
                f"A wire cannot run through {blocked}; let it go beside the part, or move that."
            )
            return
        shown, bends = self.stage.scene.geometry, bent[1:-1]
        self.stage.do(kept_route(session.circuit, session.sheet, shown, self.wire_id, bends))

    def _far(self, at: QPointF) -> bool:
        return (at - self.start).manhattanLength() >= self.stage.reach(LEAST)

    def _bent(self, at: QPointF) -> tuple[Point, ...]:
        return bent(self.points, self.piece, (snapped(at.x()), snapped(at.y())))

    def _blocked(self, points: tuple[Point, ...]) -> str:
        """Return the part whose card a way would lead through, "" for none."""
        geometry, parts = self.stage.scene.geometry, self.stage.session.circuit.parts
        for key, place in geometry.places.items():
            body = geometry.cards[key].body.moved(place.x, place.y)
            if any(body.crossed_by(a, b) for a, b in pairwise(points)):
                return label(parts[place.part])
        return ""


def nearest_piece(points: Sequence[Point], at: Point) -> int:
    """Return the index of the piece of a wire that lies nearest to a point."""
    away = [away_from((a, b), at) for a, b in pairwise(points)]
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
    """Return the point a stub away from one end of a piece, at most in its middle, on the grid."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = abs(dx) + abs(dy)
    step = min(STUB, max(GRID, length / 2 // GRID * GRID), length / 2)
    return (a[0] + dx / length * step, a[1] + dy / length * step) if length else a


def _across(point: Point, to: Point, level: bool) -> Point:
    return (point[0], to[1]) if level else (to[0], point[1])
