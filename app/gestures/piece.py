"""A piece of a wire moved by arrow keys; repeats of a held key belong to one gesture."""

from __future__ import annotations

from itertools import pairwise

from PySide6.QtCore import QPointF

from app.gestures.bending import SegmentGesture, nearest_piece
from app.gestures.stage import Stage
from model.layout.geometry import Point


class PieceGesture(SegmentGesture):
    """Moves one piece of a wire across its way, step by step."""

    def __init__(self, stage: Stage, wire_id: str, piece: int) -> None:
        points = stage.scene.geometry.wires[wire_id]
        super().__init__(stage, QPointF(*middle(points, piece)), wire_id)
        self.piece = piece
        self.by = (0.0, 0.0)

    @property
    def is_blocked(self) -> bool:
        """Whether the piece cannot be where it was moved to: a card is in its way."""
        return bool(self._blocked(self._bent(self._there())))

    def nudge(self, dx: float, dy: float) -> None:
        """Move one step further."""
        self.by = (self.by[0] + dx, self.by[1] + dy)
        self.move(self._there())

    def finish(self) -> None:
        """Make the steps one change."""
        self.end(self._there())

    def piece_after(self) -> int:
        """Return which piece of the wire as it is now drawn is the one that was moved."""
        there = self._there()
        points = self.stage.scene.geometry.wires.get(self.wire_id, ())
        return nearest_piece(points, (there.x(), there.y()))

    def _there(self) -> QPointF:
        return self.start + QPointF(*self.by)

    def _far(self, at: QPointF) -> bool:
        return (at - self.start).manhattanLength() > 0.0


def middle(points: tuple[Point, ...], piece: int) -> Point:
    """Return the middle of a piece of a wire."""
    (ax, ay), (bx, by) = points[piece], points[piece + 1]
    return ((ax + bx) / 2, (ay + by) / 2)


def is_level(points: tuple[Point, ...], piece: int) -> bool:
    """Tell whether a piece runs from left to right."""
    a, b = list(pairwise(points))[piece]
    return a[1] == b[1]
