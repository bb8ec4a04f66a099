"""Acts that change the circuit: place, undo, turn, delete, rename, select."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QPointF

from app import acts
from app.attempt import attempt
from model.editing import delete, rotate

if TYPE_CHECKING:
    from app.window import Window


class EditActs(QObject):
    """Editing, as menus and keys ask for it."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window
        self.session = window.session

    def place(self, kind_key: str, at: QPointF | None = None) -> None:
        """Place a part of a kind near the middle of the view, where there is room."""
        session = self.session
        kind = acts.find_kind(session.circuit, kind_key)
        if kind is None:
            return
        if session.mode != "draw":
            session.noticed.emit("Go to Draw (F5) to place a part.")
            return
        point = at or self.window.view.middle()
        shown, sizes = self.window.scene.geometry, self.window.scene.sizes
        where = acts.free_spot(session.circuit, shown, kind, (point.x(), point.y()), sizes)
        change, part_id = acts.placed(session.circuit, session.sheet, kind, where, shown)
        if session.do(change):
            session.select(frozenset({part_id}))
            self.window.view.ensureVisible(self.window.scene.area_of([part_id]), 40, 40)

    def do_undo(self) -> None:
        """Take the last act back."""
        self.window.view.cancel()
        self.session.undo.undo()

    def do_redo(self) -> None:
        """Do again what was taken back."""
        self.window.view.cancel()
        self.session.undo.redo()

    def do_new_wire(self) -> None:
        """Add a wire without ends and open the Schedule where its first end is typed."""
        if self.session.mode == "draw" and self.session.do(acts.loose_wire(self.session.circuit)):
            self.window.docks["schedule"].show()
            self.window.schedule.edit_last("first")

    def do_rotate(self) -> None:
        """Turn the selected cards a quarter clockwise, as one group."""
        parts = self.window.view.stage.cards_selected()
        if parts:
            shown = self.window.scene.geometry.sheet
            attempt(self.session, rotate, self.session.circuit, shown, parts)

    def do_delete(self) -> None:
        """Delete what is selected."""
        if self.session.selection:
            attempt(self.session, delete, self.session.circuit, self.session.selection)
        else:
            self.session.noticed.emit("Select parts or wires to delete them.")

    def do_rename(self) -> None:
        """Put the cursor where the name of what is selected is changed."""
        if len(self.session.selection) == 1:
            self.window.edit(next(iter(self.session.selection)))
        else:
            self.session.noticed.emit("Select one part or wire to rename it.")

    def do_select_all(self) -> None:
        """Select every part and wire."""
        circuit = self.session.circuit
        self.session.select(frozenset((*circuit.parts, *circuit.wires)))
