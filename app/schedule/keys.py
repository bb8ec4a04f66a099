"""What the keys do in a table, once, as data: the table's menu and its help read it too."""

from __future__ import annotations

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

    @property
    def text(self) -> str:
        """The line of the menu, with the key in its own column."""
        return f"{tr(self.title)}\t{QKeySequence(self.keys).toString()}"


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
_HELD = (
    Qt.KeyboardModifier.ControlModifier
    | Qt.KeyboardModifier.AltModifier
    | Qt.KeyboardModifier.MetaModifier
)
_BY_KEY = {QKeySequence(k.keys).toString(): k for k in TABLE_KEYS}


def key_of(event: QKeyEvent) -> TableKey | None:
    """Return what a key does in a table, None where it is none of the table's."""
    modifiers = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
    pressed = QKeySequence(QKeyCombination(modifiers, Qt.Key(event.key())))
    return _BY_KEY.get(pressed.toString())


class KeyTaker(QObject):
    """Takes the keys of a table before the shortcuts of the window run."""

    def __init__(self, table: QWidget) -> None:
        super().__init__(table)
        table.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Say of a key of the table's that it is taken."""
        asked = event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent)
        if not asked or not is_own(event):  # type: ignore[arg-type]
            return False
        event.accept()
        return True


def is_own(event: QKeyEvent) -> bool:
    """Tell whether a table takes a key before any shortcut of the window: all that types too."""
    if key_of(event) is not None:
        return True
    if event.modifiers() & _HELD:
        select_all = event.matches(QKeySequence.StandardKey.SelectAll)
        ends = event.key() in (Qt.Key.Key_Home, Qt.Key.Key_End)
        return select_all or (ends and not event.modifiers() & Qt.KeyboardModifier.AltModifier)
    return event.key() in ALSO or (event.text().isprintable() and bool(event.text()))
