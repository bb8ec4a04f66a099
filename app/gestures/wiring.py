"""Gestures that draw and join wires: from terminal to terminal, or spliced onto another wire."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QGuiApplication, QPainterPath

from app.acts import wired
from app.gestures.draft import Draft
from app.gestures.gesture import Gesture
from app.gestures.stage import Stage
from model.circuit import End
from model.editing import Spot, rejoin, splice_end, splice_from
from model.editing.facing import foot
from model.editing.splitting import nearest
from model.layout.geometry import GRID, Point

REACH = 22.0
"""How near to a terminal a wire snaps to it, in scene units."""
ENDS = ("first", "second")
ALIGNED = 15.0
"""How far a splice is moved along its wire so that the other wire comes to it straight."""
ROOM = 20.0
"""What is left of a piece at either end of it when a splice is moved."""


FAR = 40.0
"""Scene units from where a wire began at which letting go was no slip of the hand."""
NOWHERE = "Let go on a terminal to join the wire there, or on another wire to splice it."


class WireGesture(Gesture):
    """Draws a wire from a terminal to another, which lights up when it is near, or to a wire."""

    def __init__(self, stage: Stage, at: QPointF, first: End | None) -> None:
        super().__init__(stage, at)
        self.first = first
        where = stage.scene.geometry.terminal(first)
        self.origin = QPointF(*where) if where else at
        self.level = stage.leaves_level(first) if first else True

    def move(self, at: QPointF) -> None:
        """Show the wire as it would run, and what it would join."""
        target, onto = self._target(at), self._onto(at)
        tip = self._tip(at, target, onto)
        self.stage.draft(
            Draft(
                wire=elbow(self.origin, tip, self.level),
                target=tip if target or onto else None,
                lit=self.stage.path_of(onto) if onto else None,
                word=self._word(at, target, onto),
                word_at=at,
            )
        )

    def end(self, at: QPointF) -> None:
        """Join the two terminals, or splice; let go over nothing, nothing happens."""
        self.stage.draft()
        session, onto = self.stage.session, self._onto(at)
        if self.first is None:
            return
        if onto:
            spot, shown = self._spot(onto, at), self.stage.shown()
            self.stage.attempt(splice_from, self.first, onto, shown, spot)
            return
        change, wire_id = wired(session.circuit, self.first, self._target(at))
        if self.stage.do(change):
            session.select(frozenset({wire_id}))
        elif (at - self.origin).manhattanLength() > FAR:
            session.noticed.emit(NOWHERE)

    def _tip(self, at: QPointF, target: End | None, onto: str) -> QPointF:
        """Return where the wire would end: at a terminal, on a wire, at the mouse."""
        where = self.stage.scene.geometry.terminal(target)
        if where is not None:
            return QPointF(*where)
        return QPointF(*foot(self._spot(onto, at))) if onto else at

    def _spot(self, onto: str, at: QPointF) -> Spot:
        """Return where a splice would be made: straight across from the start if it is near."""
        return in_line_with(self.stage.spot(onto, at), self.origin, ALIGNED)

    def _target(self, at: QPointF) -> End | None:
        end = self.stage.scene.end_at(at, self.stage.reach(REACH))
        return None if end == self.first else end

    def _onto(self, at: QPointF) -> str:
        """Return the wire that a splice would be made in here, "" for none."""
        near = self.stage.scene.end_at(at, self.stage.reach(REACH)) is not None
        return "" if near else self.stage.wire_at(at)

    def _word(self, at: QPointF, target: End | None, onto: str) -> str:
        return "join" if target else "splice" if onto else ""


class EndGesture(WireGesture):
    """Takes an end of a wire to another terminal, onto another wire, or with Alt off everything."""

    def __init__(self, stage: Stage, at: QPointF, wire_id: str, second: bool) -> None:
        wire = stage.session.circuit.wires[wire_id]
        super().__init__(stage, at, wire.first if second else wire.second)
        self.wire_id, self.second = wire_id, second
        points = stage.scene.geometry.wires.get(wire_id, ())
        if self.first is None and points:
            self.origin = QPointF(*points[0 if second else -1])

    def end(self, at: QPointF) -> None:
        """Join the wire's end to the terminal or wire; let go over nothing, it stays."""
        self.stage.draft()
        target, onto, which = self._target(at), self._onto(at), ENDS[self.second]
        if target is not None:
            self.stage.attempt(rejoin, self.wire_id, which, target)
        elif onto:
            shown, spot = self.stage.shown(), self._spot(onto, at)
            self.stage.attempt(splice_end, self.wire_id, which, onto, shown, spot)
        elif alt_held() and self._is_off(at):
            self.stage.attempt(rejoin, self.wire_id, which, None)

    def _onto(self, at: QPointF) -> str:
        found = super()._onto(at)
        return "" if found == self.wire_id else found

    def _is_off(self, at: QPointF) -> bool:
        return (at - self.start).manhattanLength() > self.stage.reach(REACH)

    def _word(self, at: QPointF, target: End | None, onto: str) -> str:
        if target or onto or not self._is_off(at):
            return super()._word(at, target, onto)
        return "leave open" if alt_held() else "Alt: leave open"


class BranchGesture(Gesture):
    """Draws a new wire from a splice in a wire to a terminal; without a drag it is a click.

    With Ctrl the splice is made where the wire was pressed, and a click adds the wire to the
    selection or takes it out. From the handle of a selected wire the splice is made straight
    across from the terminal, if that piece of the wire goes there.
    """

    def __init__(self, stage: Stage, at: QPointF, wire_id: str, handle: bool = False) -> None:
        super().__init__(stage, at)
        self.wire_id, self.handle = wire_id, handle
        self.points = tuple(stage.scene.geometry.wires.get(wire_id, ()))

    def move(self, at: QPointF) -> None:
        """Show the branch, and the terminal it would join."""
        if self._is_click(at):
            self.stage.draft()
            return
        target = self._target(at)
        where = self.stage.scene.geometry.terminal(target)
        tip = QPointF(*where) if where else at
        origin = QPointF(*foot(self._spot(tip)))
        self.stage.draft(
            Draft(
                wire=elbow(origin, tip, not is_level(self.points, origin)),
                target=tip if target else None,
                lit=self.stage.path_of(self.wire_id),
                word="splice and join" if target else "branch",
                word_at=at,
            )
        )

    def end(self, at: QPointF) -> None:
        """Splice the branch in, or take the click as one that adds to the selection."""
        self.stage.draft()
        session, target = self.stage.session, self._target(at)
        where = self.stage.scene.geometry.terminal(target)
        if self._is_click(at):
            if not self.handle:
                session.select(session.selection ^ {self.wire_id})
        elif target is not None and where is not None:
            spot, shown = self._spot(QPointF(*where)), self.stage.shown()
            self.stage.attempt(splice_from, target, self.wire_id, shown, spot)

    def _spot(self, tip: QPointF) -> Spot:
        """Return where the splice would be made for a branch to a point."""
        spot = self.stage.spot(self.wire_id, self.start)
        return in_line_with(spot, tip, 1e6 if self.handle else ALIGNED)

    def _target(self, at: QPointF) -> End | None:
        return self.stage.scene.end_at(at, self.stage.reach(REACH))

    def _is_click(self, at: QPointF) -> bool:
        return (at - self.start).manhattanLength() < self.stage.reach(GRID)


def in_line_with(spot: Spot, other: QPointF, within: float) -> Spot:
    """Return the spot moved along its piece of the wire to lie straight across from a point.

    Only as far as `within`, and not to the ends of the piece; else the spot as it is.
    """
    if spot.at is None or len(spot.path) < 2:
        return spot
    index = nearest(spot.path, spot.at)[0]
    a, b = spot.path[index], spot.path[index + 1]
    axis = 0 if a[1] == b[1] else 1
    wish = (other.x(), other.y())[axis]
    low, high = min(a[axis], b[axis]) + ROOM, max(a[axis], b[axis]) - ROOM
    if not low <= wish <= high or abs(wish - spot.at[axis]) > within:
        return spot
    return replace(spot, at=(wish, a[1]) if axis == 0 else (a[0], wish))


def alt_held() -> bool:
    """Tell whether Alt is held down."""
    return bool(QGuiApplication.keyboardModifiers() & Qt.KeyboardModifier.AltModifier)


def is_level(points: Sequence[Point], at: QPointF) -> bool:
    """Tell whether the piece of a wire at a point is level."""
    if len(points) < 2:
        return True
    index = nearest(points, (at.x(), at.y()))[0]
    return points[index][1] == points[index + 1][1]


def elbow(start: QPointF, tip: QPointF, level: bool = True) -> QPainterPath:
    """Return a line of two pieces, the first level or upright."""
    path = QPainterPath(start)
    path.lineTo(QPointF(tip.x(), start.y()) if level else QPointF(start.x(), tip.y()))
    path.lineTo(tip)
    return path
