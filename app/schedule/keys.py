"""What the keys do in a table, once, as data: its menu and the page of keys read it too."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QKeyCombination, QObject, Qt
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QWidget

from app.tr import tr


@dataclass(frozen=True, slots=True)
class TableKey:
    """A key, what it does in words (with the mnemonic of the menu), and the method that does it."""

    keys: str
    title: str
    does: str
    gap: bool = False


TABLE_KEYS = (
    TableKey("F2", "&Edit the cell", "edit_here"),
    TableKey("Ctrl+C", "&Copy the rows", "copy"),
    TableKey("Ctrl+X", "Cu&t the rows", "cut"),
    TableKey("Ctrl+V", "&Paste cells", "paste"),
    TableKey("Ctrl+Shift+D", "&Fill down", "fill"),
    TableKey("Backspace", "E&mpty the cell", "empty"),
    TableKey("Del", "&Delete the rows", "delete"),
    TableKey("Ctrl+F", "F&ilter", "ask_filter", gap=True),
    TableKey("Alt+Up", "Sort &upwards by this column", "sort_up", gap=True),
    TableKey("Alt+Down", "Sort d&ownwards by this column", "sort_down"),
    TableKey("Alt+Home", "In the o&rder of the file", "unsort"),
    TableKey("Alt+Left", "Move the column &left", "column_left", gap=True),
    TableKey("Alt+Right", "Move the column ri&ght", "column_right"),
    TableKey("Alt+Shift+Left", "&Narrower", "narrower"),
    TableKey("Alt+Shift+Right", "&Wider", "wider"),
    TableKey("Alt+Del", "&Hide the column", "hide_column"),
)
ALSO = frozenset(
    (
        *(Qt.Key.Key_Home, Qt.Key.Key_End, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown),
        *(Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Tab, Qt.Key.Key_Backtab),
        *(Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Escape),
    )
)
"""Keys that move about in a table, whatever they do elsewhere."""
FIXED: tuple[tuple[str, str], ...] = (
    ("A letter or figure", "types in the cell in place of what is there"),
    ("Return", "opens the cell; in it, takes what was typed and goes on below"),
    ("Tab", "goes on to the next cell; Shift+Tab to the one before"),
    ("Space", "operates the control of the row, else opens the cell"),
    ("Arrows, Home, End, PgUp, PgDown", "walk about; with Shift they select rows"),
    ("Ctrl+A", "selects all rows"),
    ("Esc", "gives up what was typed, then the selection"),
)
"""What the other keys do in a table: these stay as they are."""
_HELD = (
    Qt.KeyboardModifier.ControlModifier
    | Qt.KeyboardModifier.AltModifier
    | Qt.KeyboardModifier.MetaModifier
)


class TableKeys:
    """The keys of the tables as a person has them; the tables of one window share them."""

    def __init__(self) -> None:
        self._keys: dict[str, tuple[str, ...]] = {}
        self._by_key: dict[str, TableKey] = {}
        self.take({})

    def take(self, own: Mapping[str, Sequence[str]]) -> None:
        """Have these keys, by what they do; what is not named has the program's own."""
        self._keys = {k.does: tuple(own.get(k.does, (k.keys,))) for k in TABLE_KEYS}
        known = {k.does: k for k in TABLE_KEYS}
        self._by_key = {
            QKeySequence(key).toString(): known[does]
            for does, keys in self._keys.items()
            for key in keys
        }

    def of(self, event: QKeyEvent) -> TableKey | None:
        """Return what a key does in a table, None where it is none of the table's."""
        modifiers = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        pressed = QKeySequence(QKeyCombination(modifiers, Qt.Key(event.key())))
        return self._by_key.get(pressed.toString())

    def text(self, key: TableKey) -> str:
        """Return the line of the menu, with the key in its own column."""
        keys = self._keys[key.does]
        return f"{tr(key.title)}\t{QKeySequence(keys[0]).toString()}" if keys else tr(key.title)

    def is_own(self, event: QKeyEvent) -> bool:
        """Tell whether a table takes a key before the shortcuts of the window: what types too."""
        if self.of(event) is not None:
            return True
        if event.modifiers() & _HELD:
            select_all = event.matches(QKeySequence.StandardKey.SelectAll)
            ends = event.key() in (Qt.Key.Key_Home, Qt.Key.Key_End)
            return select_all or (ends and not event.modifiers() & Qt.KeyboardModifier.AltModifier)
        return event.key() in ALSO or (event.text().isprintable() and bool(event.text()))


class KeyTaker(QObject):
    """Takes the keys of a table before the shortcuts of the window run."""

    def __init__(self, table: QWidget, keys: TableKeys) -> None:
        super().__init__(table)
        self._keys = keys
        table.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Say of a key of the table's that it is taken."""
        asked = event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent)
        if not asked or not self._keys.is_own(event):  # type: ignore[arg-type]
            return False
        event.accept()
        return True
