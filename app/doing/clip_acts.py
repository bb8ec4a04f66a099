"""Acts with the clipboard and on whole parts: cut, copy, paste, duplicate, replace, bulk."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QCompleter, QVBoxLayout

from app.attempt import attempt
from app.entry import kinds
from app.entry.bulk import change_all
from app.entry.read import Refusal
from app.entry.words import clauses
from app.slim.bar import SlimBar
from model.circuit import Sheet
from model.editing import (
    Edit,
    copy_text,
    cut,
    delete,
    duplicate,
    paste,
    replace_kind,
    swap_ends,
)
from model.errors import ModelError
from model.kinds import KINDS, Kind
from model.layout.geometry import Point

if TYPE_CHECKING:
    from app.window import Window


class ClipActs(QObject):
    """Copying and replacing, as menus and keys ask for it."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self.window = window
        self.session = window.session
        self.replace_bar = SlimBar("Replace by", "A kind of part, such as strip fuse")
        self.change_bar = SlimBar("Change the selected", "2.5 mm² RD 1 m, or 8 A")

    def fill(self, layout: QVBoxLayout) -> None:
        """Put the bars above the sheet and hear them."""
        for bar in (self.replace_bar, self.change_bar):
            layout.insertWidget(0, bar)
            bar.left.connect(self.window.looks.do_sheet)
        titles = [k.title for k in KINDS.values()]
        completer = QCompleter(titles, self.replace_bar.edit)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        completer.setCompletionMode(QCompleter.CompletionMode.InlineCompletion)
        self.replace_bar.edit.setCompleter(completer)
        self.replace_bar.typed.connect(self._on_kind_typed)
        self.replace_bar.entered.connect(self._on_kind)
        self.change_bar.typed.connect(self._on_change_typed)
        self.change_bar.entered.connect(self._on_change)
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
        QGuiApplication.clipboard().setText(text)

    def do_cut(self) -> None:
        """Copy what is selected and delete it."""
        if attempt(self.session, self._cut):
            self.session.select(frozenset())

    def _cut(self) -> Edit:
        text, edit = cut(self.session.circuit, self.session.selection, self._shown())
        QGuiApplication.clipboard().setText(text)
        return edit

    def do_paste(self) -> None:
        """Add what the clipboard holds, under the mouse or in the middle of the view."""
        text = QGuiApplication.clipboard().text()
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
        attempt(self.session, delete, self.session.circuit, self.session.selection, True)

    def do_swap_ends(self) -> None:
        """Let the selected wires run the other way round."""
        wires = [i for i in self.session.circuit.wires if i in self.session.selection]
        attempt(self.session, swap_ends, self.session.circuit, wires)

    def do_replace(self) -> None:
        """Open the bar in which another kind for the selected parts is typed."""
        if not self._parts():
            self.session.noticed.emit("Select the parts to replace first.")
            return
        self.change_bar.hide()
        self.replace_bar.open()

    def do_change(self) -> None:
        """Open the bar in which a change of all that is selected is typed."""
        self.replace_bar.hide()
        self.change_bar.open()

    def _parts(self) -> list[str]:
        return [i for i in self.session.circuit.parts if i in self.session.selection]

    def _kind(self, text: str) -> Kind | None:
        """Return the kind a text names, its title first."""
        wanted = " ".join(text.casefold().split())
        titled = next((k for k in KINDS.values() if k.title.casefold() == wanted), None)
        found = clauses(text)
        if titled is not None or not found:
            return titled
        hit = kinds.exact(self.session.circuit, found[0])
        hit = hit or kinds.close(self.session.circuit, found[0])
        return hit.kind if hit else None

    def _on_kind_typed(self, text: str) -> None:
        kind = self._kind(text)
        names = ", ".join(self.session.circuit.parts[i].reference for i in self._parts()[:6])
        self.replace_bar.say(f"{names} → {kind.title}" if kind else names)

    def _on_kind(self, text: str) -> None:
        kind = self._kind(text)
        if kind is None:
            self.replace_bar.say(f"“{text}” names no kind of part.", wrong=True)
            return
        done = attempt(self.session, replace_kind, self.session.circuit, self._parts(), kind.key)
        if done:
            self.replace_bar.leave()

    def _on_change_typed(self, text: str) -> None:
        found = change_all(self.session.circuit, self.session.selection, text)
        said = found.sentence if isinstance(found, Refusal) else found.preview
        self.change_bar.say(said, wrong=isinstance(found, Refusal) and bool(text.strip()))

    def _on_change(self, text: str) -> None:
        found = change_all(self.session.circuit, self.session.selection, text)
        if isinstance(found, Refusal):
            self.change_bar.say(found.sentence, wrong=True)
            return
        if self.session.mode != "draw":
            self.change_bar.say("Go to Draw (F5) to change the circuit.", wrong=True)
            return
        self.session.do(found.change)
        self.change_bar.leave()

    def _on_selected(self) -> None:
        """Keep what the bars say in step with what is selected."""
        if not self.change_bar.isHidden():
            self._on_change_typed(self.change_bar.edit.text())
        if not self.replace_bar.isHidden():
            self._on_kind_typed(self.replace_bar.edit.text())
