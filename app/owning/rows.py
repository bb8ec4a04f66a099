"""A table of rows to type in, with choices where there are some; the parts of the form."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractItemModel, QModelIndex, QPersistentModelIndex, Qt, Signal
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QHBoxLayout,
    QHeaderView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableWidget,
    QTableWidgetItem,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.tr import tr

Index = QModelIndex | QPersistentModelIndex
BASE = Qt.ItemDataRole.UserRole
Texts = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its title, what a new row has there, and what may be chosen (nothing: typed)."""

    title: str
    start: str = ""
    choices: tuple[str, ...] = ()
    fixed: bool = False
    narrow: bool = False


class _Choosing(QStyledItemDelegate):
    """Edits a cell with a list where its column has choices; a text of one's own may be typed."""

    def __init__(self, columns: Sequence[Column], parent: QWidget) -> None:
        super().__init__(parent)
        self._columns = columns

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        """Return a list, or the usual line."""
        column = self._columns[index.column()]
        if not column.choices:
            editor = super().createEditor(parent, option, index)
        else:
            editor = box = QComboBox(parent)
            for choice in column.choices:
                box.addItem(tr(choice), choice)
        editor.setAccessibleName(tr(column.title))
        return editor

    def initStyleOption(self, option: QStyleOptionViewItem, index: Index) -> None:
        """Show words of the program in the reader's language; what people type stays."""
        super().initStyleOption(option, index)
        column = self._columns[index.column()]
        if column.choices or column.fixed:
            option.text = tr(option.text)

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        """Show the text of the cell."""
        if isinstance(editor, QComboBox):
            editor.setCurrentIndex(editor.findData(str(index.data() or "")))
        else:
            super().setEditorData(editor, index)

    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: Index) -> None:
        """Take the text chosen."""
        if isinstance(editor, QComboBox):
            model.setData(index, editor.currentData())
        else:
            super().setModelData(editor, model, index)


class RowTable(QWidget):
    """Rows of texts, each with what it was read from; one button adds, one takes away."""

    changed = Signal()

    def __init__(self, title: str, columns: Sequence[Column], adds: bool = True) -> None:
        super().__init__()
        self.columns = columns
        self.table = QTableWidget(0, len(columns))
        self.table.setAccessibleName(tr(title))
        self.table.setHorizontalHeaderLabels([tr(c.title) for c in columns])
        self.table.horizontalHeader().setAccessibleName(tr("Columns: {title}", title=tr(title)))
        self.table.verticalHeader().hide()
        self.table.verticalHeader().setDefaultSectionSize(26)
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        for number, column in enumerate(columns):
            if column.narrow:
                way = QHeaderView.ResizeMode.ResizeToContents
                self.table.horizontalHeader().setSectionResizeMode(number, way)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        triggers = QAbstractItemView.EditTrigger
        self.table.setEditTriggers(
            triggers.DoubleClicked | triggers.EditKeyPressed | triggers.AnyKeyPressed
        )
        self.table.setItemDelegate(_Choosing(columns, self.table))
        self.add = _button(tr("Add"), tr("Add a row: {title}", title=tr(title)), self)
        self.drop = _button(
            tr("Remove"), tr("Remove the row chosen: {title}", title=tr(title)), self
        )
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 4, 0, 0)
        layout.setSpacing(4)
        layout.addWidget(self.table)
        row = QHBoxLayout()
        for button in (self.add, self.drop):
            row.addWidget(button)
            button.setVisible(adds)
        row.addStretch(1)
        layout.addLayout(row)
        self.table.itemChanged.connect(self._on_item)
        self.add.clicked.connect(self.add_row)
        self.drop.clicked.connect(self.drop_row)

    def fill(self, rows: Sequence[tuple[Texts, Any]]) -> None:
        """Show rows: their texts, and what each was read from."""
        self.table.blockSignals(True)
        self.table.setRowCount(0)
        for texts, base in rows:
            self._put(texts, base)
        self.table.blockSignals(False)

    def rows(self) -> list[tuple[Texts, Any]]:
        """Return the rows as they stand."""
        return [self._row(i) for i in range(self.table.rowCount())]

    def become(self, rows: Sequence[tuple[Texts, Any]]) -> None:
        """Show rows in place of as many others, touching only what differs; a cell may be open."""
        self.table.blockSignals(True)
        for row, (texts, base) in enumerate(rows):
            for column, text in enumerate(texts):
                item = self.table.item(row, column)
                if item is not None and item.text() != text:
                    item.setText(text)
                if item is not None and column == 0:
                    item.setData(BASE, base)
        self.table.blockSignals(False)
        self.table.viewport().update()

    def add_row(self) -> None:
        """Add a row and open its first cell for typing."""
        self.table.blockSignals(True)
        self._put(tuple(c.start for c in self.columns), None)
        self.table.blockSignals(False)
        self.table.setCurrentCell(self.table.rowCount() - 1, 0)
        self.changed.emit()
        self.table.setFocus()
        self.table.edit(self.table.currentIndex())

    def drop_row(self) -> None:
        """Take the current row away."""
        row = self.table.currentRow()
        if row >= 0:
            self.table.removeRow(row)
            self.changed.emit()

    def _put(self, texts: Texts, base: Any) -> None:
        row = self.table.rowCount()
        self.table.insertRow(row)
        for column, text in enumerate(texts):
            item = QTableWidgetItem(text)
            if self.columns[column].fixed:
                item.setToolTip(tr(text))
                item.setFlags(item.flags() & ~Qt.ItemFlag.ItemIsEditable)
            if column == 0:
                item.setData(BASE, base)
            self.table.setItem(row, column, item)

    def _row(self, row: int) -> tuple[Texts, Any]:
        items = [self.table.item(row, c) for c in range(len(self.columns))]
        base = items[0].data(BASE) if items[0] else None
        return tuple(i.text().strip() if i else "" for i in items), base

    def _on_item(self, item: QTableWidgetItem) -> None:
        self.changed.emit()


def _button(text: str, name: str, parent: QWidget) -> QToolButton:
    button = QToolButton(parent)
    button.setObjectName("act")
    button.setText(text)
    button.setAccessibleName(name)
    button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    return button
