"""The cell in the making: a line with what can be typed beneath it, and what is wrong above it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QPersistentModelIndex, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from app.entry.suggest import Suggestion
from app.schedule.beside import Beside

KEY = Qt.Key
WAYS = {
    KEY.Key_Tab: "right",
    KEY.Key_Backtab: "left",
    KEY.Key_Return: "down",
    KEY.Key_Enter: "down",
}
OWN = frozenset((*WAYS, KEY.Key_Up, KEY.Key_Down, KEY.Key_Escape, KEY.Key_PageUp, KEY.Key_PageDown))
Suggests = Callable[[str], list[Suggestion]]


class CellEdit(QLineEdit):
    """A line in a cell. Down and Up choose what is offered, Enter and Tab give the text.

    `cell` is the place in the table, `filled` whether its text was put in.
    """

    given = Signal(str)
    """The text is given, and where to go on: right, left, down or up."""
    dropped = Signal()

    def __init__(
        self, parent: QWidget, cell: QPersistentModelIndex, suggests: Suggests, beside: Beside
    ) -> None:
        super().__init__(parent)
        self.cell, self.filled = cell, False
        self._suggests, self._beside = suggests, beside
        self.setFrame(False)
        self.textEdited.connect(self._on_edited)

    def event(self, event: QEvent) -> bool:
        """Take the keys of the cell before the window moves the focus or runs a shortcut."""
        if isinstance(event, QKeyEvent) and event.key() in OWN and _plain(event):
            if event.type() == QEvent.Type.ShortcutOverride:
                event.accept()
                return True
            if event.type() == QEvent.Type.KeyPress:
                self._press(KEY(event.key()), event)
                return True
        return super().event(event)

    def suggest(self) -> None:
        """Offer what can be typed."""
        text = self.text()
        self._beside.offer(self._suggests(text), self, text)

    def texts(self) -> list[str]:
        """Return what may be meant, best first: what was chosen, what is typed, what is in hand."""
        chosen, typed = self._beside.chosen, self.text().strip()
        if chosen:
            return [chosen]
        in_hand = self._beside.in_hand
        small = typed.casefold()
        more = bool(typed) and bool(in_hand) and in_hand.casefold() != small
        return [typed, in_hand] if more else [typed]

    def refuse(self, sentence: str) -> None:
        """Say why the text is not taken; it stays to be put right."""
        self._beside.refuse(sentence, self)
        self.setAccessibleDescription(sentence)
        self.selectAll()

    def _press(self, key: Qt.Key, event: QKeyEvent) -> None:
        if key in WAYS:
            back = event.modifiers() & Qt.KeyboardModifier.ShiftModifier
            way = WAYS[key]
            self.given.emit({"down": "up", "right": "left"}.get(way, way) if back else way)
        elif key in (KEY.Key_Up, KEY.Key_Down):
            self._beside.step(1 if key == KEY.Key_Down else -1)
        elif key == KEY.Key_Escape:
            self.dropped.emit()

    def _on_edited(self, text: str) -> None:
        self._beside.clear_refusal()
        self.setAccessibleDescription(self.placeholderText())
        self.suggest()


def _plain(event: QKeyEvent) -> bool:
    """Tell whether no other keys than Shift are held."""
    free = Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier
    return not event.modifiers() & ~free
