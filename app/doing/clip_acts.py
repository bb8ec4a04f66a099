"""Acts with the clipboard and on whole parts: cut, copy, paste, duplicate, replace, bulk."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QVBoxLayout

from app import clipboard
from app.attempt import attempt
from app.doing.splicing import splice_selected
from app.slim.changer import ChangeBar
from app.slim.replacer import ReplaceBar
from model.circuit import Sheet
from model.editing import (
    Edit,
    copy_text,
    cut,
    delete,
    duplicate,
    paste,
    remove_splice,
    swap_ends,
)
from model.errors import ModelError
from model.layout.geometry import Point

if TYPE_CHECKING:
    from app.window import Window


class ClipActs(QObject):
    """Copying and replacing, as menus and keys ask for it."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window
        self.session = window.session
        self.replace_bar = ReplaceBar(window.session)
        self.change_bar = ChangeBar(window.session)

    def fill(self, layout: QVBoxLayout) -> None:
        """Put the bars above the sheet and hear them."""
        for bar in (self.replace_bar, self.change_bar):
            layout.insertWidget(0, bar)
            bar.left.connect(self.window.looks.do_sheet)
        self.session.selected.connect(self._on_selected)

    def detach(self) -> None:
        """Hear no more."""
        self.session.selected.disconnect(self._on_selected)

    # Clipboard

    def do_copy(self) -> None:
        """Copy what is selected, as text that any window and any e-mail takes."""
        try:
            text = copy_text(self.session.circuit, self.session.selection, self._shown())
        except ModelError as error:
            self.session.noticed.emit(str(error))
            return
        clipboard.put(text)

    def do_cut(self) -> None:
        """Copy what is selected and delete it."""
        if attempt(self.session, self._cut):
            self.session.select(frozenset())

    def _cut(self) -> Edit:
        text, edit = cut(self.session.circuit, self.session.selection, self._shown())
        clipboard.put(text)
        return edit

    def do_paste(self) -> None:
        """Add what the clipboard holds, under the mouse or in the middle of the view."""
        text = clipboard.held()
        if attempt(self.session, paste, self.session.circuit, text, self._shown(), self._at()):
            self._show_selected()

    def do_duplicate(self) -> None:
        """Add what is selected once more, a little beside."""
        chosen = self.session.selection
        if attempt(self.session, duplicate, self.session.circuit, chosen, self._shown()):
            self._show_selected()

    def _at(self) -> Point:
        point = self.window.around.under_mouse() or self.window.view.middle()
        return point.x(), point.y()

    def _shown(self) -> Sheet:
        """Return the sheet as drawn; of a blank circuit its own."""
        return (
            self.window.scene.geometry.sheet if self.session.circuit.parts else self.session.sheet
        )

    def _show_selected(self) -> None:
        area = self.window.scene.area_of(self.session.selection)
        self.window.view.ensureVisible(area, 40, 40)

    # Parts and wires as a whole

    def do_delete_heal(self) -> None:
        """Delete what is selected and join again the wires that met there."""
        if self._needs(self.session.selection, "parts or wires"):
            attempt(self.session, delete, self.session.circuit, self.session.selection, True)

    def do_remove_splice(self) -> None:
        """Take the selected splice out and heal the wires that met there."""
        parts = self._parts()
        if self._needs(len(parts) == 1, "one splice"):
            attempt(self.session, remove_splice, self.session.circuit, parts[0])

    def do_splice(self) -> None:
        """Join the selected part, or the open end of a wire, to the selected wire by a splice."""
        shown = self.window.scene.geometry
        circuit, chosen = self.session.circuit, self.session.selection
        if attempt(self.session, splice_selected, circuit, chosen, shown.sheet, shown.wires):
            self._show_selected()

    def do_swap_ends(self) -> None:
        """Let the selected wires run the other way round."""
        wires = [i for i in self.session.circuit.wires if i in self.session.selection]
        if self._needs(wires, "wires"):
            attempt(self.session, swap_ends, self.session.circuit, wires)

    def do_replace(self) -> None:
        """Open the bar in which another kind for the selected parts is typed."""
        if self._may_change() and self._needs(self._parts(), "the parts to replace"):
            self.change_bar.hide()
            self.replace_bar.open()

    def do_change(self) -> None:
        """Open the bar in which a change of all that is selected is typed."""
        if self._may_change() and self._needs(self.session.selection, "parts or wires"):
            self.replace_bar.hide()
            self.change_bar.open()

    def _parts(self) -> list[str]:
        return [i for i in self.session.circuit.parts if i in self.session.selection]

    def _may_change(self) -> bool:
        if self.session.mode != "draw":
            self.session.noticed.emit("Go to Draw (F5) to change the circuit.")
        return self.session.mode == "draw"

    def _needs(self, there: object, what: str) -> bool:
        """Tell whether something is there; else say what is to be selected."""
        if not there:
            self.session.noticed.emit(f"Select {what} first.")
        return bool(there)

    def _on_selected(self) -> None:
        """Keep what the bars say in step with what is selected."""
        for bar in (self.change_bar, self.replace_bar):
            if not bar.isHidden():
                bar.refresh()
