"""Bending a wire without a mouse: one of its pieces is held, and the arrows move it.

What is held is shown on the sheet and told in words, to the eye and to a screen reader.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QPointF
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QPainterPath

from app.gestures.draft import Draft, DraftItem
from app.gestures.piece import PieceGesture, is_level, middle
from app.scene.geometry import SheetGeometry
from app.tr import tr
from model.circuit import Circuit
from model.layout.geometry import Point
from model.lookup import end_label, label, wire_label

if TYPE_CHECKING:
    from app.sheet_view import SheetView

NO_WIRE = "Select one wire first: a click on it, or Tab, which steps through the sheet."


class Pieces(QObject):
    """The piece of a wire that is held, if any; one for a view."""

    def __init__(self, view: SheetView) -> None:
        super().__init__(view)
        self.view = view
        self.wire, self.piece = "", 0
        self._mark = DraftItem(view.session.look)
        view.sheet_scene.addItem(self._mark)
        view.session.selected.connect(self._on_selected)
        view.session.looked.connect(self._on_looked)

    @property
    def points(self) -> tuple[Point, ...]:
        """The corners of the wire that is held, none where it is not drawn."""
        return tuple(self.view.sheet_scene.geometry.wires.get(self.wire, ()))

    def step(self, by: int) -> None:
        """Hold the next piece of the wire selected, the first or last one to begin with."""
        session = self.view.session
        chosen = [i for i in session.selection if i in session.circuit.wires]
        if session.mode != "draw":
            session.noticed.emit("Go to Draw (F5) to change the circuit.")
        elif len(chosen) != 1 or not self.view.sheet_scene.geometry.wires.get(chosen[0]):
            session.noticed.emit(tr(NO_WIRE))
        else:
            begun, self.wire = self.wire == chosen[0], chosen[0]
            count = len(self.points) - 1
            self.piece = (self.piece + by) % count if begun else 0 if by > 0 else count - 1
            self.view.setFocus()
            self._show()

    def arrow(self, dx: float, dy: float, times: float) -> None:
        """Move the piece across its way; along it there is nothing to move."""
        view, level = self.view, is_level(self.points, self.piece)
        if level == bool(dx):
            ways = tr("up and down") if level else tr("to the left and right")
            view.session.noticed.emit(tr("This piece moves {ways}.", ways=ways))
            return
        if view.gesture is None:
            view.gesture = PieceGesture(view.stage, self.wire, self.piece)
        if isinstance(view.gesture, PieceGesture):
            self._mark.take(Draft())
            view.gesture.nudge(dx * times, dy * times)

    def finish(self, gesture: PieceGesture) -> None:
        """Make the steps of a held arrow one change, and go on holding the piece."""
        before = self.points
        gesture.finish()
        moved = self.points != before
        if moved:
            self.piece = gesture.piece_after()
        self._show(tell=moved)  # where it could not be moved, why not stays to be read

    def refresh(self) -> None:
        """Show the piece held on a sheet that is drawn anew."""
        if self.wire and self.view.gesture is None:
            self._show()

    def leave(self) -> None:
        """Hold nothing any more."""
        if self.wire:
            self.wire, self.piece = "", 0
            self._mark.take(Draft())
            self.view.describe("")
            self.view.session.noticed.emit("")

    def _show(self, tell: bool = True) -> None:
        """Show the piece held, and say which it is."""
        points, circuit = self.points, self.view.session.circuit
        if len(points) < 2:
            self.leave()
            return
        self.piece = min(self.piece, len(points) - 2)
        way = QPainterPath(QPointF(*points[self.piece]))
        way.lineTo(QPointF(*points[self.piece + 1]))
        word = tr("{at} of {count}", at=self.piece + 1, count=len(points) - 1)
        here = QPointF(*middle(points, self.piece))
        self._mark.take(Draft(wire=way, lit=way, word=word, word_at=here))
        if not tell:
            return
        self.view.ensureVisible(way.boundingRect(), 40, 40)
        said = sentence(circuit, self.view.sheet_scene.geometry, self.wire, points, self.piece)
        self.view.describe(said)
        event = QAccessibleAnnouncementEvent(self.view, said)
        QAccessible.updateAccessibility(event)
        self.view.session.noticed.emit(said)

    def _on_selected(self) -> None:
        if self.view.session.selection != frozenset({self.wire}):
            self.leave()

    def _on_looked(self) -> None:
        shown = self.view.sheet_scene.geometry.wires
        if self.view.session.mode != "draw" or self.wire not in shown:
            self.leave()


def sentence(
    circuit: Circuit, geometry: SheetGeometry, wire: str, points: tuple[Point, ...], piece: int
) -> str:
    """Return which piece of a wire is held, how it lies and beside what."""
    record, level = circuit.wires[wire], is_level(points, piece)
    return tr(
        "{wire}, piece {at} of {count} from {end}: {way}, {beside}. {arrows} move it, Esc ends.",
        wire=wire_label(record), at=piece + 1, count=len(points) - 1,
        end=end_label(circuit, record.first),
        way=tr("level") if level else tr("upright"),
        beside=_beside(circuit, geometry, middle(points, piece)),
        arrows=tr("Up and Down") if level else tr("Left and Right"),
    )  # fmt: skip


def _beside(circuit: Circuit, geometry: SheetGeometry, at: Point) -> str:
    """Return the card nearest to a point and on which side of it the point lies."""
    nearest, side = None, ("", 1e9)
    for key, place in geometry.places.items():
        body = geometry.cards[key].body.moved(place.x, place.y)
        sides = {"left of {part}": body.x - at[0], "right of {part}": at[0] - body.right,
                 "above {part}": body.y - at[1], "below {part}": at[1] - body.bottom}  # fmt: skip
        words, away = max(sides.items(), key=lambda s: s[1])
        if away < side[1]:
            nearest, side = place.part, (words, away)
    return tr(side[0], part=label(circuit.parts[nearest])) if nearest else tr("on the sheet")
