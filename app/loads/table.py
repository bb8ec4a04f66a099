"""The two tables of the page of loads; in the first the share of time in use is typed in place."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QEvent, QModelIndex, QPersistentModelIndex, QRect, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QLineEdit,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTreeWidget,
    QTreeWidgetItem,
    QWidget,
)

from app.tr import tr

KEY = Qt.ItemDataRole.UserRole
USE = 2
"""The column of the share of time."""
LEAST_WIDTH = 84
"""Pixels of the line typed in."""
OPENS = (Qt.Key.Key_F2, Qt.Key.Key_Return, Qt.Key.Key_Enter)
Index = QModelIndex | QPersistentModelIndex
RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


class Table(QTreeWidget):
    """Rows of numbers under their titles."""

    def __init__(self, name: str, titles: Iterable[str], last_wide: bool = False) -> None:
        super().__init__()
        self.setAccessibleName(tr(name))
        self.setHeaderLabels([tr(t) for t in titles])
        self.setRootIsDecorated(False)
        self.setUniformRowHeights(True)
        self.setAllColumnsShowFocus(True)
        self.wide = self.columnCount() - 1 if last_wide else 0
        header = self.header()
        header.setAccessibleName(tr("Columns of the table"))
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setStretchLastSection(False)
        for column in self._numbers():
            self.headerItem().setTextAlignment(column, RIGHT)

    def add(self, cells: Iterable[str], key: object = None) -> QTreeWidgetItem:
        """Add a row, its numbers at the right of their columns."""
        item = QTreeWidgetItem(list(cells))
        item.setData(0, KEY, key)
        for column in self._numbers():
            item.setTextAlignment(column, RIGHT)
        for column in (0, self.wide):
            item.setToolTip(column, item.text(column))
        self.addTopLevelItem(item)
        return item

    def _numbers(self) -> list[int]:
        return [c for c in range(1, self.columnCount()) if c != self.wide]


class LoadTable(Table):
    """The loads; Enter, F2, a digit or a double click opens the share of time for typing."""

    given = Signal(str, str, str)
    """Id of a part, the rating, and what was typed for it."""
    left = Signal()
    """Nothing is being typed any more."""

    def __init__(self) -> None:
        titles = ("Load", "Runs", "In use", "Average", "Starts", "At rest")
        super().__init__("Loads, and their share of time in use", titles)
        self.setAccessibleDescription(tr("Enter or F2 changes the share of time in use."))
        triggers = QAbstractItemView.EditTrigger
        self.setEditTriggers(triggers.NoEditTriggers)
        self.setItemDelegate(_Typing(self))
        self.itemDoubleClicked.connect(self._on_double)

    @property
    def is_typed_in(self) -> bool:
        """Whether a cell is open for typing."""
        return self.state() == QAbstractItemView.State.EditingState

    def open_use(self, item: QTreeWidgetItem | None = None, text: str = "") -> None:
        """Open the share of a row, of the current one if none is told, begun with a text."""
        item = item or self.currentItem()
        if item is None or not item.flags() & Qt.ItemFlag.ItemIsEditable:
            return
        self.editItem(item, USE)
        editor = self.viewport().findChild(QLineEdit)
        if editor is not None and text:
            editor.setText(text)

    def event(self, event: QEvent) -> bool:
        """Keep F2 and digits from the window while the table has the keys."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.ShortcutOverride:
            plain = event.modifiers() == Qt.KeyboardModifier.NoModifier
            if plain and (event.key() in OPENS or _is_digit(event.text())):
                event.accept()
                return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Open the share with Enter, F2 or its first digit."""
        if self.is_typed_in:
            event.accept()  # Enter of the line, which the line leaves to whom it stands in
        elif event.key() in OPENS:
            self.open_use()
        elif _is_digit(event.text()):
            self.open_use(text=event.text())
        else:
            super().keyPressEvent(event)

    def _on_double(self, item: QTreeWidgetItem, _column: int) -> None:
        self.open_use(item)


class _Typing(QStyledItemDelegate):
    """Gives what was typed instead of writing it into the cell."""

    def __init__(self, table: LoadTable) -> None:
        super().__init__(table)
        self._table = table
        self.closeEditor.connect(self._on_closed)

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        """Return a line that says what is typed into it."""
        line = QLineEdit(parent)
        item = self._table.topLevelItem(index.row())
        name = item.text(0) if item is not None else ""
        line.setAccessibleName(tr("{load}, share of time in use", load=name))
        line.setPlaceholderText(tr("40 %"))
        line.setAlignment(RIGHT)
        line.setStyleSheet("padding: 0 3px; border-radius: 0;")
        return line

    def updateEditorGeometry(
        self, editor: QWidget, option: QStyleOptionViewItem, index: Index
    ) -> None:
        """Stand over the cell, no higher than its row and wide enough to type in."""
        rect: QRect = option.rect
        editor.setGeometry(rect.adjusted(min(0, rect.width() - LEAST_WIDTH), 0, 0, 0))

    def setModelData(self, editor: QWidget, model: object, index: Index) -> None:
        """Give the text where it is another."""
        item = self._table.topLevelItem(index.row())
        if not isinstance(editor, QLineEdit) or item is None:
            return
        text = editor.text().strip()
        part, _element, _coil, rating = item.data(0, KEY)
        if text != item.text(USE):
            self._table.given.emit(part, rating, text)

    def _on_closed(self, *_: object) -> None:
        self._table.left.emit()


def _is_digit(text: str) -> bool:
    return text.isascii() and text.isdigit()
