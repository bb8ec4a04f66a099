"""Gestures that change the circuit: moving parts, wiring, dropping a new part."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainterPath

from app.acts import find_kind, moved, placed, rejoined, snapped, wired
from app.gestures.gesture import Gesture
from app.gestures.stage import Draft, Stage
from model.changes import Change
from model.circuit import End

REACH = 22.0
"""How near to a terminal a wire snaps to it, in scene units."""


class MoveGesture(Gesture):
    """Moves the selected parts; the wires follow, and the whole is one change."""

    def __init__(self, stage: Stage, at: QPointF) -> None:
        super().__init__(stage, at)
        self.parts = stage.cards_selected()
        self.geometry = stage.scene.geometry
        self._last = (0.0, 0.0)
        stage.session.schedule.dragging = True

    def move(self, at: QPointF) -> None:
        """Show the parts where they would be."""
        by = (snapped(at.x() - self.start.x()), snapped(at.y() - self.start.y()))
        if by != self._last:
            self._last = by
            self.stage.preview(self._change())

    def end(self, at: QPointF) -> None:
        """Make the move one change."""
        self.move(at)
        self.stage.session.schedule.dragging = False
        if not self.stage.session.do(self._change()):
            self.stage.preview(None)

    def cancel(self) -> None:
        """Put the parts back."""
        self.stage.session.schedule.dragging = False
        self.stage.preview(None)
        super().cancel()

    def _change(self) -> Change | None:
        session = self.stage.session
        return moved(session.circuit, session.sheet, self.geometry, self.parts, self._last)


class NudgeGesture(MoveGesture):
    """Moves the selected parts by arrow keys; repeats of a held key belong to one gesture."""

    def nudge(self, dx: float, dy: float) -> None:
        """Move one step further."""
        self.move(QPointF(self._last[0] + dx, self._last[1] + dy) + self.start)

    def finish(self) -> None:
        """Make the steps one change."""
        self.end(QPointF(*self._last) + self.start)


class WireGesture(Gesture):
    """Draws a wire from a terminal to another, which lights up when it is near."""

    def __init__(self, stage: Stage, at: QPointF, first: End) -> None:
        super().__init__(stage, at)
        self.first = first
        where = stage.scene.geometry.terminal(first)
        self.origin = QPointF(*where) if where else at

    def move(self, at: QPointF) -> None:
        """Show the wire as it would run."""
        target = self._target(at)
        where = self.stage.scene.geometry.terminal(target)
        tip = QPointF(*where) if where else at
        self.stage.draft(Draft(wire=elbow(self.origin, tip), target=tip if target else None))

    def end(self, at: QPointF) -> None:
        """Join the two terminals; let go over nothing, nothing happens."""
        self.stage.draft()
        session = self.stage.session
        change, wire_id = wired(session.circuit, self.first, self._target(at))
        if session.do(change):
            session.select(frozenset({wire_id}))

    def _target(self, at: QPointF) -> End | None:
        end = self.stage.scene.end_at(at, REACH)
        return None if end == self.first else end


class EndGesture(WireGesture):
    """Takes an end of a wire to another terminal."""

    def __init__(self, stage: Stage, at: QPointF, wire_id: str, second: bool) -> None:
        wire = stage.session.circuit.wires[wire_id]
        other = wire.first if second else wire.second
        super().__init__(stage, at, other or End("", ""))
        self.wire_id, self.second = wire_id, second

    def end(self, at: QPointF) -> None:
        """Join the wire's end to the terminal."""
        self.stage.draft()
        session, target = self.stage.session, self._target(at)
        if target is not None:
            session.do(rejoined(session.circuit, self.wire_id, self.second, target))


class DropGesture(Gesture):
    """Carries a new part from the Tray over the sheet."""

    def __init__(self, stage: Stage, at: QPointF, kind_key: str) -> None:
        super().__init__(stage, at)
        self.kind = find_kind(stage.session.circuit, kind_key)
        self.move(at)

    def move(self, at: QPointF) -> None:
        """Show where the card would be."""
        x, y = snapped(at.x()), snapped(at.y())
        self.stage.draft(Draft(ghosts=[QRectF(x - 60, y - 45, 120, 90)]))

    def end(self, at: QPointF) -> None:
        """Place the part."""
        self.stage.draft()
        session = self.stage.session
        if self.kind is None:
            return
        change, part_id = placed(session.circuit, session.sheet, self.kind, (at.x(), at.y()))
        if session.do(change):
            session.select(frozenset({part_id}))


def elbow(start: QPointF, tip: QPointF) -> QPainterPath:
    """Return a line of two upright and level pieces."""
    path = QPainterPath(start)
    path.lineTo(QPointF(tip.x(), start.y()))
    path.lineTo(tip)
    return path
