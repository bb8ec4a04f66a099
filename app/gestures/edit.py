"""Gestures that place parts: moving them, dropping a new one, on a wire too."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from PySide6.QtCore import QPointF

from app.acts import find_kind, moved, new_part, placed, snapped
from app.gestures.draft import Draft, Ghost
from app.gestures.gesture import Gesture
from app.gestures.stage import Stage, nearest_wire
from model.changes import Change
from model.circuit import Circuit, Part, Place
from model.editing import EditError, duplicate, insert_part
from model.editing.inline import pair
from model.layout.geometry import Point, united
from model.lookup import wires_at

ON_WIRE = 10.0
"""How near to a wire a part is held over it, in scene units."""
LEAST = 6.0
"""How far the mouse moves before a press is a drag, in scene units."""


class MoveGesture(Gesture):
    """Moves the selected parts; the wires follow, and the whole is one change."""

    inserts = True
    """Whether a part without wires is put in line with a wire it is let go on."""

    def __init__(self, stage: Stage, at: QPointF) -> None:
        super().__init__(stage, at)
        self.parts = stage.cards_selected()
        self.geometry = stage.scene.geometry
        self._last = (0.0, 0.0)
        self.line = InLine(stage, self._lone() if self.inserts else None)
        stage.session.schedule.dragging = True

    def move(self, at: QPointF) -> None:
        """Show the parts where they would be."""
        by = (snapped(at.x() - self.start.x()), snapped(at.y() - self.start.y()))
        if by == self._last:
            return
        self._last = by
        onto = self._onto(at)
        self.stage.preview(None if onto else self._change())
        self.stage.draft(self.line.draft(onto, at) if onto else None)

    def end(self, at: QPointF) -> None:
        """Make the move one change; a part without wires let go on a wire is put in line."""
        self.move(at)
        self.stage.session.schedule.dragging = False
        self.stage.draft()
        onto = self._onto(at)
        if onto:
            self.line.put(onto, at)
        else:
            self.stage.do(self._change())

    def cancel(self) -> None:
        """Put the parts back."""
        self.stage.session.schedule.dragging = False
        self.stage.preview(None)
        super().cancel()

    def _onto(self, at: QPointF) -> str:
        """Return the wire, as it ran before, that a part without wires is held over."""
        held = self.line.part is not None and self._last != (0.0, 0.0)
        return nearest_wire(self.geometry, at, ON_WIRE) if held else ""

    def _lone(self) -> Part | None:
        """Return the part that is moved if it is one and without a wire."""
        circuit = self.stage.session.circuit
        if len(self.parts) != 1 or self.parts[0] not in circuit.parts:
            return None
        if any(wires_at(circuit, self.parts[0])):
            return None
        return circuit.parts[self.parts[0]]

    def _change(self) -> Change | None:
        session = self.stage.session
        return moved(session.circuit, session.sheet, self.geometry, self.parts, self._last)


class NudgeGesture(MoveGesture):
    """Moves the selected parts by arrow keys; repeats of a held key belong to one gesture."""

    inserts = False

    def nudge(self, dx: float, dy: float) -> None:
        """Move one step further."""
        self.move(QPointF(self._last[0] + dx, self._last[1] + dy) + self.start)

    def finish(self) -> None:
        """Make the steps one change."""
        self.end(QPointF(*self._last) + self.start)


class CopyGesture(Gesture):
    """Drags a second one of what is selected; without a drag it is a click that adds to that."""

    def __init__(self, stage: Stage, at: QPointF, key: str) -> None:
        super().__init__(stage, at)
        self.key = key
        chosen = stage.session.selection
        self.ids = chosen if key in chosen else frozenset({key})
        circuit = stage.session.circuit
        parts = {circuit.parts[i].host or i for i in self.ids if i in circuit.parts}
        self.places = [p for p in stage.shown().places.values() if p.part in parts]

    def move(self, at: QPointF) -> None:
        """Show the cards where the second ones would stand."""
        if self._is_click(at):
            self.stage.draft()
            return
        dx, dy = self._by(at)
        circuit = self.stage.session.circuit
        there = [replace(p, x=p.x + dx, y=p.y + dy) for p in self.places]
        ghosts = [self.stage.ghost(circuit, circuit.parts[p.part], p) for p in there]
        self.stage.draft(Draft(ghosts=ghosts, word="duplicate", word_at=at))

    def end(self, at: QPointF) -> None:
        """Add them, or take the click as one that adds to the selection or takes out of it."""
        self.stage.draft()
        session = self.stage.session
        if self._is_click(at):
            session.select(session.selection ^ {self.key})
            return
        (x, y), (dx, dy) = self._middle(), self._by(at)
        self.stage.attempt(duplicate, self.ids, self.stage.shown(), (x + dx, y + dy))

    def _middle(self) -> Point:
        made = self.stage.scene.geometry.cards
        return united(made[p.id].body.moved(p.x, p.y) for p in self.places).centre

    def _by(self, at: QPointF) -> Point:
        return snapped(at.x() - self.start.x()), snapped(at.y() - self.start.y())

    def _is_click(self, at: QPointF) -> bool:
        return (at - self.start).manhattanLength() < self.stage.reach(LEAST)


class DropGesture(Gesture):
    """Carries a new part from the Tray over the sheet."""

    def __init__(self, stage: Stage, at: QPointF, kind_key: str) -> None:
        super().__init__(stage, at)
        circuit = stage.session.circuit
        self.kind = find_kind(circuit, kind_key)
        self.part = new_part(circuit, self.kind) if self.kind else None
        self.line = InLine(stage, self.part)
        self.move(at)

    def move(self, at: QPointF) -> None:
        """Show where the card would be, and the wire it would be put in line with."""
        onto = self._onto(at)
        if self.part is None:
            return
        if onto:
            self.stage.draft(self.line.draft(onto, at))
            return
        place = Place("", self.part.id, snapped(at.x()), snapped(at.y()))
        ghost = self.stage.ghost(held(self.stage.session.circuit, self.part), self.part, place)
        self.stage.draft(Draft(ghosts=[ghost]))

    def end(self, at: QPointF) -> None:
        """Place the part, in line with the wire it is let go on."""
        self.stage.draft()
        session, onto = self.stage.session, self._onto(at)
        if self.kind is None:
            return
        if onto:
            self.line.put(onto, at)
            return
        where, shown = (at.x(), at.y()), self.stage.scene.geometry
        change, part_id = placed(session.circuit, session.sheet, self.kind, where, shown)
        if self.stage.do(change):
            session.select(frozenset({part_id}))

    def _onto(self, at: QPointF) -> str:
        return nearest_wire(self.stage.scene.geometry, at, ON_WIRE) if self.line.part else ""


class InLine:
    """Puts a part in line with a wire, and shows beforehand how it will stand there.

    `part` is None where there is none, or where no wire can be led through it.
    """

    def __init__(self, stage: Stage, part: Part | None) -> None:
        self.stage = stage
        fits = part is not None and can_stand_in_line(stage.session.circuit, part)
        self.part = part if fits else None
        self._known: tuple[object, list[Ghost]] = (None, [])

    def draft(self, onto: str, at: QPointF) -> Draft:
        """Return what shows the part in line with a wire."""
        key = (onto, snapped(at.x()), snapped(at.y()))
        if self._known[0] != key:
            self._known = (key, list(self._ghosts(onto, at)))
        ghosts = self._known[1]
        lit = self.stage.path_of(onto)
        return Draft(ghosts=ghosts, lit=lit, word="insert", word_at=at, wrong=not ghosts)

    def put(self, onto: str, at: QPointF) -> None:
        """Put the part in line and select it."""
        if self.part is None:
            return
        spot, shown = self.stage.spot(onto, at), self.stage.shown()
        if self.stage.attempt(insert_part, onto, self.part, shown, spot):
            self.stage.session.select(frozenset({self.part.id}))

    def _ghosts(self, onto: str, at: QPointF) -> Iterable[Ghost]:
        """Yield the part's card as it will stand; none where it cannot be put there."""
        circuit, shown = self.stage.session.circuit, self.stage.shown()
        if self.part is None:
            return
        try:
            edit = insert_part(circuit, onto, self.part, shown, self.stage.spot(onto, at))
        except EditError:
            return
        after = edit.change.apply(circuit)
        for place in after.sheets[shown.id].places.values():
            if place.part == self.part.id:
                yield self.stage.ghost(after, after.parts[place.part], place)


def held(circuit: Circuit, part: Part) -> Circuit:
    """Return the circuit with a part in it that may be new."""
    return replace(circuit, parts={**circuit.parts, part.id: part})


def can_stand_in_line(circuit: Circuit, part: Part) -> bool:
    """Tell whether a wire can be led through a part."""
    try:
        pair(held(circuit, part), part)
    except EditError:
        return False
    return True
