"""Keys pressed where the focus is at that moment, one by one, and counted."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.schedule.view import TableScreen
from tests.app.hands import NONE, Hands

TAB, ENTER, ESCAPE = Qt.Key.Key_Tab, Qt.Key.Key_Return, Qt.Key.Key_Escape
CTRL, ALT, SHIFT = (
    Qt.KeyboardModifier.ControlModifier,
    Qt.KeyboardModifier.AltModifier,
    Qt.KeyboardModifier.ShiftModifier,
)


class Typist:
    """Hands in the Schedule of a window."""

    def __init__(self, hands: Hands, path: object = None) -> None:
        self.hands, self.window, self.keys = hands, hands.window, 0
        if path is not None:
            self.window.files.open_file(path)  # type: ignore[arg-type]
        hands.key(Qt.Key.Key_4, ALT)
        self.schedule = hands.window.schedule
        self.wires.setFocus()

    @property
    def wires(self) -> TableScreen:
        """The table of wires."""
        return self.schedule.wires

    @property
    def parts(self) -> TableScreen:
        """The table of parts."""
        return self.schedule.parts

    @property
    def screen(self) -> TableScreen:
        """The table shown."""
        return self.schedule.now

    def press(self, key: Qt.Key, held: Qt.KeyboardModifier = NONE) -> None:
        """Press a key."""
        self.keys += 1
        QTest.keyClick(QApplication.focusWidget() or self.window, key, held)
        QApplication.processEvents()

    def write(self, text: str, *then: Qt.Key) -> None:
        """Type letters, then press keys."""
        for letter in text:
            self.keys += 1
            QTest.keyClicks(QApplication.focusWidget() or self.window, letter)
        for key in then:
            self.press(key)

    def to_parts(self) -> None:
        """Go to the table of parts by key."""
        self.schedule.tabs.setFocus()
        self.press(Qt.Key.Key_Right)
        self.parts.setFocus()

    def go(self, row: int, key: str) -> None:
        """Make a cell the current one."""
        table = self.screen.table
        self.screen.setFocus()
        self.screen.setCurrentIndex(table.index(row, table.place[key]))
        QApplication.processEvents()

    def text(self, row: int, key: str) -> str:
        """Return what a cell shows."""
        table = self.screen.table
        return str(table.index(row, table.place[key]).data() or "")

    def column(self, key: str) -> list[str]:
        """Return what a column shows, without the last row."""
        return [self.text(r, key) for r in range(len(self.screen.table.ids))]

    @property
    def cell(self) -> tuple[int, str]:
        """Where the current cell is: row and column."""
        at = self.screen.currentIndex()
        return at.row(), self.screen.table.columns[at.column()].key

    @property
    def is_typing(self) -> bool:
        """Whether a cell is open."""
        return self.screen.cell_delegate.opened is not None

    @property
    def said(self) -> str:
        """The sentence beside the cell, "" for none."""
        label = self.screen.beside.said
        return label.text() if label.isVisible() else ""
