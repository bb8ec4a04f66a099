"""The line that is typed at the cursor: what is typed, what it will do, and what can follow."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from app.entry.complete import complete
from app.entry.plan import Cursor, Point, Recent
from app.entry.read import Refusal, read
from app.entry.row import CHOSEN, WHAT, EntryRow, row_height
from app.entry.suggest import Suggestion
from app.tr import tr
from model.circuit import Circuit

ROWS, LEAST_ROWS = 7, 2
PAD, GAP = 8, 4
WIDTH = 460
PROMPT = "relay   ·   fuse 15 A   ·   S1.2 K1.86 0.75 YE 1 m"
HISTORY = 200
_REPLACED = Qt.ItemDataRole.UserRole


class EntryEdit(QLineEdit):
    """A line whose keys are first offered to the list of suggestions."""

    pressed = Signal(int)
    """Tab, Up, Down or Escape, as a key code; they do nothing else here."""

    def __init__(self) -> None:
        super().__init__()
        self.completing = False
        """Whether there is a list; without one Tab moves the focus as everywhere."""

    def _own(self) -> tuple[Qt.Key, ...]:
        tab = (Qt.Key.Key_Tab,) if self.completing else ()
        return (*tab, Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Escape)

    def event(self, event: QEvent) -> bool:
        """Take the keys of the list before the window moves the focus or runs a shortcut."""
        if self._is_empty_undo(event):
            event.ignore()
            return False
        own = isinstance(event, QKeyEvent) and event.key() in self._own()
        plain = own and not event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier  # type: ignore[attr-defined]
        if plain and event.type() == QEvent.Type.ShortcutOverride:
            event.accept()
            return True
        if plain and event.type() == QEvent.Type.KeyPress:
            self.pressed.emit(int(event.key()))  # type: ignore[attr-defined]
            return True
        return super().event(event)

    def _is_empty_undo(self, event: QEvent) -> bool:
        """Tell whether undo or redo is pressed on an empty line: the circuit's is meant."""
        if event.type() != QEvent.Type.ShortcutOverride or self.text():
            return False
        assert isinstance(event, QKeyEvent)
        keys = QKeySequence.StandardKey
        return event.matches(keys.Undo) or event.matches(keys.Redo)


class EntryLine(QFrame):
    """A line with its completion list and a preview of what Enter will do.

    Tab takes the suggestion in hand, Down and Up choose another one, Enter does the line (or
    takes a suggestion chosen with Down), Escape closes the list and then leaves. Up without a
    list brings the last lines back. No dialog is ever opened.
    """

    entered = Signal(object)
    """Enter was pressed on a line that can be done: the `Change` to make."""
    made = Signal(object)
    """After `entered`: the ids of the parts and wires that the line is about, a tuple."""
    sized = Signal()
    """The line takes more or less room than before."""
    left = Signal()
    """The person left the line with Escape."""

    def __init__(self, circuit: Callable[[], Circuit], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._circuit = circuit
        self.cursor_now = Cursor()
        self._lines: list[str] = []
        self._recalled = 0
        self._chosen, self._rows = False, ROWS
        self._suggested: tuple[str, int] | None = None
        self._seen: Circuit | None = None
        self.edit, self.list, self.preview = EntryEdit(), QListWidget(), QLabel()
        self._rows_shown = EntryRow(self.list)
        self._dress()
        self._lay_out()
        self.edit.textEdited.connect(self._on_edited)
        self.edit.cursorPositionChanged.connect(self._on_moved)
        self.edit.returnPressed.connect(self._on_return)
        self.edit.pressed.connect(self._on_key)
        self.list.itemClicked.connect(self._on_clicked)
        self.refresh()

    @property
    def recent(self) -> Recent:
        """The last choices."""
        return self.cursor_now.recent

    def move_to(self, sheet_id: str, at: Point | None) -> None:
        """Put what is typed next at a point of a sheet; None leaves it to the layout."""
        self.cursor_now = replace(self.cursor_now, sheet_id=sheet_id, at=at)

    def start(self, text: str = "") -> None:
        """Take the focus, with a first letter if the person has typed one on the sheet."""
        self.show()
        self.edit.setText(text)
        self.edit.setFocus()
        self.refresh()

    def refresh(self) -> None:
        """Show again what can follow and what Enter will do; call it when the circuit changed."""
        self._suggest()
        self._foretell()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Tell that the room taken has changed."""
        super().resizeEvent(event)
        self.sized.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let no key that the line has used up, such as Return, go on to what lies below."""
        event.accept()

    def _dress(self) -> None:
        self.setObjectName("entry")
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setAutoFillBackground(True)
        self.setAccessibleName(tr("Type a part or a wire"))
        self.edit.setPlaceholderText(PROMPT)
        self.edit.setAccessibleName(tr("Part, wire or change"))
        self.edit.setAccessibleDescription(tr("Tab completes, Enter does it, Escape leaves"))
        self.list.setAccessibleName(tr("What can be typed here"))
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.list.setItemDelegate(self._rows_shown)
        self.list.setUniformItemSizes(True)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.preview.setAccessibleName(tr("What Enter will do"))
        self.preview.setObjectName("note")
        self.preview.setWordWrap(True)
        self.preview.setTextFormat(Qt.TextFormat.PlainText)

    def _lay_out(self) -> None:
        layout = QVBoxLayout(self)
        layout.setContentsMargins(PAD, PAD, PAD, PAD)
        layout.setSpacing(GAP)
        for widget in (self.edit, self.preview, self.list):
            layout.addWidget(widget)
        self.take_room(QSize(WIDTH, 10 * WIDTH))

    def take_room(self, room: QSize) -> None:
        """Be as large as the line wants to be, with a shorter list where there is less room."""
        self.setFixedWidth(min(WIDTH, room.width()))
        rows = (room.height() - self._height_of(0)) // max(self._row_height(), 1)
        self._rows = max(LEAST_ROWS, min(ROWS, rows))
        self._fit_list(0 if self.list.isHidden() else self.list.count())

    def tallest(self) -> QSize:
        """Return how large the line is with its list full and a preview of two lines."""
        return QSize(self.width(), self._height_of(self._rows))

    def _row_height(self) -> int:
        return row_height(self.list.fontMetrics())

    def _height_of(self, rows: int) -> int:
        edges = self.contentsMargins().top() + self.contentsMargins().bottom() + 2 * PAD
        preview = 2 * self.preview.fontMetrics().height()
        listed = rows * self._row_height() + 2 * self.list.frameWidth()
        return edges + self.edit.sizeHint().height() + preview + listed + 2 * GAP

    def _on_edited(self, _text: str) -> None:
        self._recalled = 0
        self.refresh()

    def _on_moved(self, _old: int, _new: int) -> None:
        self._suggest()

    def _suggest(self) -> None:
        """Fill the list for the word at the cursor; the best one is in hand, but not chosen."""
        text, at, circuit = self.edit.text(), self.edit.cursorPosition(), self._circuit()
        if self._suggested == (text, at) and self._seen is circuit:
            return
        self._suggested, self._seen = (text, at), circuit
        found = complete(circuit, text, at, self.recent) if text else []
        self._choose(False)
        self.list.clear()
        for suggestion in found:
            self.list.addItem(_item(suggestion))
        metrics = self.list.fontMetrics()
        self._rows_shown.column = max((metrics.horizontalAdvance(s.text) for s in found), default=0)
        if found:
            self.list.setCurrentRow(0)
        self._fit_list(len(found))

    def _fit_list(self, count: int) -> None:
        self.edit.completing = count > 0
        self.list.setVisible(count > 0)
        rows = min(count, self._rows) * self._row_height()
        self.list.setFixedHeight(rows + 2 * self.list.frameWidth())
        self.adjustSize()

    def _foretell(self) -> None:
        """Show what Enter will do, or softly what is missing: a word half typed is no mistake."""
        text = self.edit.text()
        said = ""
        if text.strip():
            found = read(self._circuit(), text, replace(self.cursor_now, at=None))
            said = found.sentence if isinstance(found, Refusal) else found.preview
        self._mark_wrong(False)
        self.preview.setText(tr(said))
        self.preview.setVisible(bool(said))
        self.adjustSize()

    def _mark_wrong(self, wrong: bool) -> None:
        if self.preview.property("wrong") != wrong:
            self.preview.setProperty("wrong", wrong)
            self.preview.style().unpolish(self.preview)
            self.preview.style().polish(self.preview)

    def _on_key(self, key: int) -> None:
        if key == Qt.Key.Key_Tab:
            self._take(self.list.currentItem())
        elif key == Qt.Key.Key_Escape:
            self._escape()
        else:
            self._step(1 if key == Qt.Key.Key_Down else -1)

    def _step(self, by: int) -> None:
        """Choose the next suggestion, or bring back an earlier line where there is no list."""
        if self.list.isHidden() or (by < 0 and not self._chosen):
            self._recall(-by)
            return
        row = self.list.currentRow() + by
        self._choose(row >= 0)
        self.list.setCurrentRow(min(max(row, 0), self.list.count() - 1))

    def _choose(self, chosen: bool) -> None:
        """Take note whether Enter takes the suggestion in hand; its row says so."""
        self._chosen = chosen
        self.list.setProperty(CHOSEN, chosen)
        self.list.viewport().update()

    def _recall(self, by: int) -> None:
        back = self._recalled + by
        if 0 < back <= len(self._lines):
            self._recalled = back
            self.edit.setText(self._lines[-back])
            self.refresh()

    def _escape(self) -> None:
        if self._chosen:
            self._choose(False)
            self.list.setCurrentRow(0)
        elif not self.list.isHidden():
            self._fit_list(0)
        else:
            self.edit.clear()
            self.refresh()
            self.left.emit()

    def _on_clicked(self, item: QListWidgetItem) -> None:
        self._take(item)

    def _take(self, item: QListWidgetItem | None) -> None:
        """Put a suggestion in place of the word at the cursor, and a space after it."""
        if item is None or self.list.isHidden():
            return
        suggestion: Suggestion = item.data(_REPLACED)
        text, at = self.edit.text(), self.edit.cursorPosition()
        after = text[at:].lstrip()
        start = f"{text[: suggestion.start]}{suggestion.text} "
        self.edit.setText(start + after)
        self.edit.setCursorPosition(len(start))
        self.refresh()

    def _on_return(self) -> None:
        if self._chosen:
            self._take(self.list.currentItem())
            return
        text = self.edit.text()
        found = read(self._circuit(), text, self.cursor_now)
        if isinstance(found, Refusal):
            self.preview.setText(tr(found.sentence))
            self.preview.setVisible(True)
            self._mark_wrong(True)
            self.edit.setSelection(found.start, found.end - found.start)
            return
        self._lines = [*self._lines, text][-HISTORY:]
        self._recalled = 0
        self.cursor_now = found.cursor
        self.edit.clear()
        self.entered.emit(found.change)
        self.made.emit(found.made)
        self.refresh()


def _item(suggestion: Suggestion) -> QListWidgetItem:
    """Return a row: the word, and what it is."""
    item = QListWidgetItem(suggestion.text)
    what = tr(suggestion.what)
    item.setData(WHAT, what)
    item.setData(_REPLACED, suggestion)
    item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{suggestion.text}, {what}")
    return item
