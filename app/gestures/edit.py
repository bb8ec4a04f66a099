"""Gestures that place parts: moving them, dropping a new one, on a wire too."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainterPath

from app.acts import find_kind, moved, placed, snapped
from app.attempt import attempt
from app.gestures.bending import away_from
from app.gestures.gesture import Gesture
from app.gestures.stage import Draft, Stage
from model.changes import Change
from model.circuit import Circuit, Part
from model.editing import EditError, insert_part
from model.editing.inline import pair
from model.kinds import Kind
from model.layout.geometry import Point
from model.lookup import fresh_id, next_reference, wires_at

REACH = 10.0
"""How near to a wire a part is held over it, in scene units."""


class MoveGesture(Gesture):
    """Moves the selected parts; the wires follow, and the whole is one change."""

    def __init__(self, stage: Stage, at: QPointF) -> None:
        super().__init__(stage, at)
        self.parts = stage.cards_selected()
        self.geometry = stage.scene.geometry
        self._last = (0.0, 0.0)
        self.lone = self._lone()
        stage.session.schedule.dragging = True

    def move(self, at: QPointF) -> None:
        """Show the parts where they would be."""
        by = (snapped(at.x() - self.start.x()), snapped(at.y() - self.start.y()))
        if by != self._last:
            self._last = by
            self.stage.preview(self._change())
            self._show_onto(at)

    def end(self, at: QPointF) -> None:
        """Make the move one change; a part without wires let go on a wire is put in line."""
        self.move(at)
        self.stage.session.schedule.dragging = False
        self.stage.draft()
        onto = self._onto(at)
        if self.lone is not None and onto:
            self.stage.preview(None)
            put_in_line(self.stage, self.lone, onto, at)
            return
        if not self.stage.session.do(self._change()):
            self.stage.preview(None)

    def cancel(self) -> None:
        """Put the parts back."""
        self.stage.draft()
        self.stage.session.schedule.dragging = False
        self.stage.preview(None)
        super().cancel()

    def _onto(self, at: QPointF) -> str:
        """Return the wire, as it ran before, that a part without wires is held over."""
        held = self.lone is not None and self._last != (0.0, 0.0)
        return wire_under(self.geometry.wires, at) if held else ""

    def _show_onto(self, at: QPointF) -> None:
        """Light up the wire that the part would be put in line with."""
        onto = self._onto(at)
        if self.lone is None:
            return
        path = QPainterPath()
        path.addPolygon([QPointF(*p) for p in self.geometry.wires.get(onto, ())])
        self.stage.draft(
            Draft(lit=path if onto else None, word="insert" if onto else "", word_at=at)
        )

    def _lone(self) -> Part | None:
        """Return the part that is moved if it is one, without a wire, and can stand in line."""
        circuit = self.stage.session.circuit
        if len(self.parts) != 1 or any(wires_at(circuit, self.parts[0])):
            return None
        part = circuit.parts[self.parts[0]]
        return part if can_stand_in_line(circuit, part) else None

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


class DropGesture(Gesture):
    """Carries a new part from the Tray over the sheet."""

    def __init__(self, stage: Stage, at: QPointF, kind_key: str) -> None:
        super().__init__(stage, at)
        circuit = stage.session.circuit
        self.kind = find_kind(circuit, kind_key)
        self.part = new_part(circuit, self.kind) if self.kind else None
        self.fits = self.part is not None and can_stand_in_line(circuit, self.part)
        self.move(at)

    def move(self, at: QPointF) -> None:
        """Show where the card would be, and the wire it would be put in line with."""
        x, y = snapped(at.x()), snapped(at.y())
        onto = self._onto(at)
        lit = self.stage.path_of(onto) if onto else None
        ghost = QRectF(x - 60, y - 45, 120, 90)
        word = "insert" if onto else ""
        self.stage.draft(Draft(ghosts=[ghost], lit=lit, word=word, word_at=at))

    def end(self, at: QPointF) -> None:
        """Place the part, in line with the wire it is let go on."""
        self.stage.draft()
        session, onto = self.stage.session, self._onto(at)
        if self.kind is None or self.part is None:
            return
        if onto:
            put_in_line(self.stage, self.part, onto, at)
            return
        where, shown = (at.x(), at.y()), self.stage.scene.geometry
        change, part_id = placed(session.circuit, session.sheet, self.kind, where, shown)
        if session.do(change):
            session.select(frozenset({part_id}))

    def _onto(self, at: QPointF) -> str:
        return self.stage.scene.wire_at(at) if self.fits else ""


def wire_under(wires: Mapping[str, Sequence[Point]], at: QPointF) -> str:
    """Return the wire that runs within reach of a point, "" for none."""
    here = (at.x(), at.y())
    away = {k: min(away_from(a, b, here) for a, b in pairwise(p)) for k, p in wires.items()}
    nearest = min(away, key=lambda k: away[k], default="")
    return nearest if nearest and away[nearest] <= REACH else ""


def new_part(circuit: Circuit, kind: Kind) -> Part:
    """Return a new part of a kind with the next reference."""
    part_id = fresh_id(circuit.parts, "p", circuit.wires)
    return Part(part_id, kind.key, next_reference(circuit, kind.letter))


def can_stand_in_line(circuit: Circuit, part: Part) -> bool:
    """Tell whether a wire can be led through a part."""
    held = replace(circuit, parts={**circuit.parts, part.id: part})
    try:
        pair(held, part)
    except EditError:
        return False
    return True


def put_in_line(stage: Stage, part: Part, wire_id: str, at: QPointF) -> None:
    """Put a part in line with a wire where it is let go, and select it."""
    session = stage.session
    spot, shown = stage.spot(wire_id, at), stage.shown()
    if attempt(session, insert_part, session.circuit, wire_id, part, shown, spot):
        session.select(frozenset({part.id}))
