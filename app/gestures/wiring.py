"""Gestures that draw and join wires: from terminal to terminal, or spliced onto another wire."""

from __future__ import annotations

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QGuiApplication, QPainterPath

from app.acts import rejoined, wired
from app.attempt import attempt
from app.gestures.gesture import Gesture
from app.gestures.stage import Draft, Stage
from model.circuit import End
from model.editing import rejoin, splice_end, splice_from

REACH = 22.0
"""How near to a terminal a wire snaps to it, in scene units."""


class WireGesture(Gesture):
    """Draws a wire from a terminal to another, which lights up when it is near, or to a wire."""

    def __init__(self, stage: Stage, at: QPointF, first: End) -> None:
        super().__init__(stage, at)
        self.first = first
        where = stage.scene.geometry.terminal(first)
        self.origin = QPointF(*where) if where else at

    def move(self, at: QPointF) -> None:
        """Show the wire as it would run, and what it would join."""
        target, onto = self._target(at), self._onto(at)
        where = self.stage.scene.geometry.terminal(target)
        tip = QPointF(*where) if where else at
        lit = self.stage.path_of(onto) if onto else None
        self.stage.draft(
            Draft(
                wire=elbow(self.origin, tip),
                target=tip if target else None,
                lit=lit,
                word=self._word(target, onto),
                word_at=at,
            )
        )

    def end(self, at: QPointF) -> None:
        """Join the two terminals, or splice; let go over nothing, nothing happens."""
        self.stage.draft()
        session, onto = self.stage.session, self._onto(at)
        if onto:
            spot = self.stage.spot(onto, at)
            shown = self.stage.shown()
            attempt(session, splice_from, session.circuit, self.first, onto, shown, spot)
            return
        change, wire_id = wired(session.circuit, self.first, self._target(at))
        if session.do(change):
            session.select(frozenset({wire_id}))

    def _target(self, at: QPointF) -> End | None:
        end = self.stage.scene.end_at(at, REACH)
        return None if end == self.first else end

    def _onto(self, at: QPointF) -> str:
        """Return the wire that a splice would be made in here, "" for none."""
        if self.stage.scene.end_at(at, REACH) is not None or self._near_start(at):
            return ""
        return self.stage.scene.wire_at(at)

    def _near_start(self, at: QPointF) -> bool:
        return (at - self.origin).manhattanLength() <= REACH

    def _word(self, target: End | None, onto: str) -> str:
        return "join" if target else "splice" if onto else ""


class EndGesture(WireGesture):
    """Takes an end of a wire to another terminal, onto another wire, or with Alt off everything."""

    def __init__(self, stage: Stage, at: QPointF, wire_id: str, second: bool) -> None:
        wire = stage.session.circuit.wires[wire_id]
        other = wire.first if second else wire.second
        super().__init__(stage, at, other or End("", ""))
        self.wire_id, self.second = wire_id, second

    def end(self, at: QPointF) -> None:
        """Join the wire's end to the terminal or wire."""
        self.stage.draft()
        session, target, onto = self.stage.session, self._target(at), self._onto(at)
        which = "second" if self.second else "first"
        if target is not None:
            session.do(rejoined(session.circuit, self.wire_id, self.second, target))
        elif onto:
            shown, spot = self.stage.shown(), self.stage.spot(onto, at)
            attempt(session, splice_end, session.circuit, self.wire_id, which, onto, shown, spot)
        elif _alt() and not self._near_grip(at):
            attempt(session, rejoin, session.circuit, self.wire_id, which, None)

    def _onto(self, at: QPointF) -> str:
        found = super()._onto(at)
        return "" if found == self.wire_id else found

    def _near_grip(self, at: QPointF) -> bool:
        return (at - self.start).manhattanLength() <= REACH

    def _word(self, target: End | None, onto: str) -> str:
        return super()._word(target, onto) or ("leave open" if _alt() else "")


class BranchGesture(Gesture):
    """Draws a new wire from a splice in a wire to a terminal; without a drag it is a click."""

    def __init__(self, stage: Stage, at: QPointF, wire_id: str) -> None:
        super().__init__(stage, at)
        self.wire_id = wire_id
        self.before = stage.session.selection

    def move(self, at: QPointF) -> None:
        """Show the branch, and the terminal it would join."""
        target = self._target(at)
        where = self.stage.scene.geometry.terminal(target)
        tip = QPointF(*where) if where else at
        if not self._is_click(at):
            self.stage.draft(
                Draft(
                    wire=elbow(self.start, tip),
                    target=tip if target else None,
                    lit=self.stage.path_of(self.wire_id),
                    word="branch" if target else "",
                    word_at=at,
                )
            )

    def end(self, at: QPointF) -> None:
        """Splice the branch in, or take the click as one that adds to the selection."""
        self.stage.draft()
        session, target = self.stage.session, self._target(at)
        if self._is_click(at):
            session.select(self.before ^ {self.wire_id})
        elif target is not None:
            spot, shown = self.stage.spot(self.wire_id, self.start), self.stage.shown()
            attempt(session, splice_from, session.circuit, target, self.wire_id, shown, spot)

    def _target(self, at: QPointF) -> End | None:
        return self.stage.scene.end_at(at, REACH)

    def _is_click(self, at: QPointF) -> bool:
        return (at - self.start).manhattanLength() < REACH / 2


def _alt() -> bool:
    """Tell whether Alt is held down."""
    return bool(QGuiApplication.keyboardModifiers() & Qt.KeyboardModifier.AltModifier)


def elbow(start: QPointF, tip: QPointF) -> QPainterPath:
    """Return a line of two upright and level pieces."""
    path = QPainterPath(start)
    path.lineTo(QPointF(tip.x(), start.y()))
    path.lineTo(tip)
    return path
