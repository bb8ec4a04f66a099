"""A table on the screen: its keys, its editing, its selection in step with the sheet."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QItemSelection, QItemSelectionModel, QModelIndex, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QAbstractItemView, QApplication, QFrame, QTableView, QWidget

from app.keeping import Keep
from app.schedule.about import rows_shown_for
from app.schedule.beside import Beside
from app.schedule.cell_edit import CellEdit
from app.schedule.column import Tabled
from app.schedule.delegate import CellDelegate
from app.schedule.heads import Heads
from app.schedule.keys import KeyTaker, TableKeys
from app.schedule.row_acts import RowActs
from app.schedule.table import NEW, Table
from app.schedule.walk import Walk
from app.session import Session
from app.tr import tr

KEY = Qt.Key
FLAG = QItemSelectionModel.SelectionFlag
ROW_HEIGHT = 24


@dataclass(frozen=True, slots=True)
class Kept:
    """Where one stands in a table: row by id, column, how far it is scrolled, and its records."""

    key: str
    column: int
    scrolled: int
    records: Mapping[str, Any]


class TableScreen(QTableView):
    """The rows of one table; the current cell is kept whatever is sorted, filtered or undone."""

    filter_asked = Signal()
    counted = Signal()
    """Rows came, went, or were selected."""

    def __init__(
        self, session: Session, tabled: Tabled, keep: Keep, keys: TableKeys, parent: QWidget
    ) -> None:
        super().__init__(parent)
        self.session, self.tabled = session, tabled
        self.table = Table(session, tabled, self)
        self.setModel(self.table)
        self.beside = Beside(self, session.look)
        self.cell_delegate = CellDelegate(self.table, self.beside, self)
        self.setItemDelegate(self.cell_delegate)
        self._following = False
        self.keys = keys
        self._taker = KeyTaker(self, keys)
        self._dress()
        self.heads = Heads(self, keep)
        self.walk = Walk(self)
        self.acts = RowActs(self)
        self.selectionModel().selectionChanged.connect(self._on_selection)

    def _dress(self) -> None:
        triggers = QAbstractItemView.EditTrigger
        self.setAccessibleName(tr(self.tabled.title))
        self.setAccessibleDescription(
            tr("Type to change a cell, Enter and Tab go on, Menu shows keys")
        )
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setAlternatingRowColors(True)
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setEditTriggers(triggers.AnyKeyPressed | triggers.DoubleClicked)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.verticalHeader().hide()
        self.verticalHeader().setMinimumSectionSize(18)
        height = max(ROW_HEIGHT, self.fontMetrics().height() + 8)
        self.verticalHeader().setDefaultSectionSize(height)

    # What is there

    def refresh(self, rearranged: bool = False) -> None:
        """Take the circuit as it is; rows move only while nobody works in the table."""
        kept, self._following = self._kept(), True
        self.table.refresh(rearranged or not self.is_worked_in(), self._in_sight())
        self._settle(kept)

    def arrange(self) -> None:
        """Filter and sort the rows as they are asked for now."""
        kept, self._following = self._kept(), True
        self.table.arrange(self.table.wanted)
        self._settle(kept)

    def follow(self) -> None:
        """Select the rows of what is selected on the sheet; the current cell stays.

        Parts that are selected have their wires marked here, and wires their parts; the sheet is
        left alone.
        """
        wanted = rows_shown_for(self.session.circuit, self.tabled.key, self.session.selection)
        rows = [i for i, key in enumerate(self.table.ids) if key in wanted]
        if rows == self.selected_rows():
            return
        self._following = True
        self.selectionModel().select(self._selection(rows), FLAG.ClearAndSelect | FLAG.Rows)
        if rows and not self.is_worked_in():
            self._go_to(rows[0])
        self._following = False
        self.counted.emit()

    def is_worked_in(self) -> bool:
        """Tell whether the keys go to the table or to a cell of it."""
        focus = QApplication.focusWidget()
        return focus is not None and (focus is self or self.isAncestorOf(focus))

    def selected_rows(self) -> list[int]:
        """Return the selected rows in their order, without the one after the last."""
        found: set[int] = set()
        selection = self.selectionModel().selection()
        for i in range(selection.count()):
            stretch = selection.at(i)
            found.update(range(stretch.top(), stretch.bottom() + 1))
        return sorted(r for r in found if r < len(self.table.ids))

    def selected_ids(self) -> list[str]:
        """Return the ids of the selected rows, in their order."""
        return [self.table.ids[r] for r in self.selected_rows()]

    def edit_cell(self, index: QModelIndex) -> bool:
        """Open a cell for typing; in the row after the last the one in which a new one begins."""
        table = self.table
        if index.isValid() and table.id_at(index.row()) == NEW and not self._typable(index):
            index = table.index(index.row(), table.place[table.starts])
            self.setCurrentIndex(index)
        if not index.isValid() or not self._typable(index):
            return False
        self.scrollTo(index)
        self.edit(index)
        opened = self.cell_delegate.opened
        if opened is not None:
            opened.selectAll()
            opened.suggest()
        return opened is not None

    def _typable(self, index: QModelIndex) -> bool:
        return bool(self.table.flags(index) & Qt.ItemFlag.ItemIsEditable)

    def _selection(self, rows: list[int]) -> QItemSelection:
        made, last = QItemSelection(), len(self.table.columns) - 1
        start = 0
        while start < len(rows):
            end = start
            while end + 1 < len(rows) and rows[end + 1] == rows[end] + 1:
                end += 1
            made.select(self.table.index(rows[start], 0), self.table.index(rows[end], last))
            start = end + 1
        return made

    def go_to_selected(self) -> None:
        """Make a cell of the first selected row the current one, if the current one is not."""
        rows = self.selected_rows()
        if rows and self.currentIndex().row() not in rows:
            self._go_to(rows[0])

    def _go_to(self, row: int) -> None:
        """Make a cell of a row the current one, in the column where it was, and show it."""
        column = self.currentIndex().column()
        if column < 0:
            new = self.table.id_at(row) == NEW
            column = self.table.place[self.table.starts] if new else self.heads.first_column()
        index = self.table.index(row, column)
        self.selectionModel().setCurrentIndex(index, FLAG.NoUpdate)
        self.scrollTo(index)

    def _in_sight(self) -> frozenset[str]:
        """Return the ids of the rows that are seen."""
        last = self.rowAt(self.viewport().height() - 1)
        first, count = max(self.rowAt(0), 0), len(self.table.ids)
        return frozenset(self.table.ids[first : count if last < 0 else last + 1])

    def _settle(self, kept: Kept) -> None:
        """Stand where one stood, or at the beginning of another file, and select what is so."""
        self._give_back(kept)
        before, after = kept.records, self.table.cells.records
        if before and before is not after and not before.keys() & after.keys():
            self._go_to_start()
        self._following = False
        self.follow()
        self.counted.emit()

    def _go_to_start(self) -> None:
        """Stand on the first row, as in a file that was just opened."""
        self.horizontalScrollBar().setValue(0)
        self.selectionModel().setCurrentIndex(QModelIndex(), FLAG.NoUpdate)
        self._go_to(0)

    def _kept(self) -> Kept:
        at, table = self.currentIndex(), self.table
        scrolled = self.verticalScrollBar().value()
        return Kept(table.id_at(at.row()), at.column(), scrolled, table.cells.records)

    def _give_back(self, kept: Kept) -> None:
        """Make the cell current that was, where a new table has forgotten it."""
        if self.currentIndex().isValid() or kept.column < 0 or kept.key not in self.table.ids:
            return
        index = self.table.index(self.table.ids.index(kept.key), kept.column)
        self.selectionModel().setCurrentIndex(index, FLAG.NoUpdate)
        self.verticalScrollBar().setValue(kept.scrolled)

    # What happens

    def _on_selection(self) -> None:
        if not self._following:
            ids = frozenset(self.selected_ids())
            self.session.select(ids)
            if len(ids) == 1:
                self.session.show_sheet_of(ids)
        self.counted.emit()

    def on_given(self, way: str) -> None:
        """Take the text of the cell that is open, and go on; a refused one stays open."""
        editor = self.sender()
        if not isinstance(editor, CellEdit):
            return
        index = self.table.index(editor.cell.row(), editor.cell.column())
        if (said := self._try(editor, index)) and not index.isValid():
            return
        if said:
            editor.refuse(said)
            return
        editor.setModified(False)
        self._close(editor)
        self.walk.step(way, index)

    def on_dropped(self) -> None:
        """Close the cell that is open and leave its text as it was."""
        editor = self.sender()
        if isinstance(editor, CellEdit):
            editor.setModified(False)
            self._close(editor)

    def _try(self, editor: CellEdit, index: QModelIndex) -> str:
        """Try what was typed, then what was in hand; return why the first of them cannot be."""
        texts = editor.texts()
        said = [self.table.try_set(index, texts[0])]
        if said[0] and len(texts) > 1:
            said.append(self.table.try_set(index, texts[1]))
        return "" if "" in said else said[0]

    def _close(self, editor: CellEdit) -> None:
        self.closeEditor(editor, self.cell_delegate.EndEditHint.NoHint)
        self.setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Do what a key does in a table, move about, or begin to type."""
        found = self.keys.of(event)
        if found is not None:
            self.acts.do(found.does)
            return
        key = KEY(event.key())
        if key in (KEY.Key_Return, KEY.Key_Enter) and not event.modifiers():
            self.acts.edit_here()
        elif key == KEY.Key_Space and not event.modifiers():
            self.acts.operate_or_edit()
        elif key == KEY.Key_Escape:
            self.clearSelection()
        elif key in (KEY.Key_Tab, KEY.Key_Backtab):
            self.walk.along(1 if key == KEY.Key_Tab else -1)
        elif event.text().isprintable() and event.text() and not self._holds(event):
            self._begin(event)
        else:
            self.walk.forget()
            super().keyPressEvent(event)

    def _holds(self, event: QKeyEvent) -> bool:
        held = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier
        return bool(event.modifiers() & held)

    def _begin(self, event: QKeyEvent) -> None:
        """Begin to type in the current cell with this key."""
        self.acts.edit_here()
        if self.cell_delegate.opened is not None:
            QApplication.sendEvent(self.cell_delegate.opened, event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Begin a new way along the cells."""
        self.walk.forget()
        super().mousePressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Stand somewhere: on what is selected, else on the first cell."""
        if not self.currentIndex().isValid():
            rows = self.selected_rows()
            self._go_to(rows[0] if rows else 0)
        super().focusInEvent(event)
