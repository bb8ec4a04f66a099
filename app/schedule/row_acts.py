"""What the keys and the menu of a table do with its rows, columns and cells."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, ParamSpec

from PySide6.QtCore import QObject, QPoint, Qt
from PySide6.QtGui import QAction, QGuiApplication
from PySide6.QtWidgets import QMenu

from app.controls import positions_of
from app.entry.errors import EntryError
from app.schedule.acts import Done, Spot, deleted, filled, pasted
from app.schedule.block import as_text
from app.schedule.keys import TABLE_KEYS
from app.schedule.table import NEW
from app.tr import tr
from model.errors import ModelError

if TYPE_CHECKING:
    from app.schedule.view import TableScreen

Given = ParamSpec("Given")


class RowActs(QObject):
    """The acts of one table."""

    def __init__(self, view: TableScreen) -> None:
        super().__init__(view)
        self.view, self.session, self.tabled = view, view.session, view.tabled
        view.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        view.customContextMenuRequested.connect(self._on_menu)

    def do(self, name: str) -> None:
        """Do the act of a key."""
        self.view.walk.forget()
        getattr(self, name)()

    @property
    def _column(self) -> int:
        return self.view.currentIndex().column()

    # Cells

    def edit_here(self) -> None:
        """Type in the current cell."""
        index = self.view.currentIndex()
        if not self.view.edit_cell(index) and index.isValid():
            title = self.view.table.columns[index.column()].title
            said = tr("{title} is worked out here: it cannot be typed.", title=tr(title))
            self.session.noticed.emit(said)

    def empty(self) -> None:
        """Empty the current cell."""
        index = self.view.currentIndex()
        there = self.view.table.id_at(index.row()) != NEW
        if there and (said := self.view.table.try_set(index, "")):
            self.session.noticed.emit(said)

    def operate_or_edit(self) -> None:
        """Operate the control of the current row; where there is none, edit the cell."""
        if not self.operate():
            self.edit_here()

    def operate(self) -> bool:
        """Put the control of the current row into its next position; False where there is none."""
        key = self.view.table.id_at(self.view.currentIndex().row())
        circuit = self.session.circuit
        if not key or key not in circuit.parts or not positions_of(circuit, key):
            return False
        now = self.session.position(key)
        self.session.set_positions({key: self.session.stepper.step(circuit, key, now)})
        return True

    # Rows

    def copy(self) -> None:
        """Copy the selected rows as a table with its heading."""
        table, columns = self.view.table, self.view.heads.shown()
        ids = self.view.selected_ids()
        if ids:
            titles = [tr(table.columns[c].title) for c in columns]
            rows = [[table.cells.text(key, c) for c in columns] for key in ids]
            QGuiApplication.clipboard().setText(as_text(titles, rows))
            count = f"{len(ids)} {self.tabled.one if len(ids) == 1 else self.tabled.many}"
            self.session.noticed.emit(f"Copied {count} as a table.")

    def cut(self) -> None:
        """Copy the selected rows and delete them."""
        self.copy()
        self.delete()

    def paste(self) -> None:
        """Put copied cells into the rows from the current cell on, and into new rows."""
        view = self.view
        at, columns = view.currentIndex(), view.heads.shown()
        rows = view.selected_rows()
        row = rows[0] if at.row() in rows else max(at.row(), 0)
        place = columns.index(at.column()) if at.column() in columns else 0
        keys = [view.table.columns[c].key for c in columns[place:]]
        spot = Spot(view.table.ids[row:], keys, view.selected_ids(), self.session.sheet.id)
        text = QGuiApplication.clipboard().text()
        self._try(pasted, self.session.circuit, self.tabled, spot, text)

    def fill(self) -> None:
        """Give the selected rows the first one's value; one row alone takes that above it."""
        view = self.view
        ids, row = view.selected_ids(), view.currentIndex().row()
        if len(ids) < 2 and 0 < row < len(view.table.ids):
            ids = view.table.ids[row - 1 : row + 1]
        if len(ids) < 2:
            self.session.noticed.emit("Select several rows: all take the value of the first.")
            return
        column = view.table.columns[self._column]
        self._try(filled, self.session.circuit, self.tabled, ids, column)

    def delete(self) -> None:
        """Delete the selected rows; the current cell stays in its place."""
        view = self.view
        ids, row = view.selected_ids(), view.currentIndex().row()
        if ids and self._try(deleted, self.session.circuit, ids):
            left = max(0, min(row, len(view.table.ids)) - len([i for i in ids if i]) + 1)
            target = min(row, len(view.table.ids)) if len(ids) == 1 else left
            column = max(self._column, view.heads.first_column())
            view.setCurrentIndex(view.table.index(target, column))

    def _try(self, act: Callable[Given, Done], *args: Given.args, **named: Given.kwargs) -> bool:
        """Do an act as one change, or say why it cannot be."""
        if self.session.mode != "draw":
            self.session.noticed.emit("Go to Draw (F5) to change the circuit.")
            return False
        try:
            done = act(*args, **named)
        except (EntryError, ModelError) as error:
            self.session.noticed.emit(str(error))
            return False
        if not self.session.do(done.change):
            return False
        if done.ids:
            self.session.select(frozenset(done.ids))
        return True

    # Columns

    def ask_filter(self) -> None:
        """Go to the filter."""
        self.view.filter_asked.emit()

    def sort_up(self) -> None:
        """Sort upwards by the current column."""
        self.view.heads.sort(self._column, False)

    def sort_down(self) -> None:
        """Sort downwards by the current column."""
        self.view.heads.sort(self._column, True)

    def unsort(self) -> None:
        """Show the rows in the order of the file."""
        self.view.heads.sort(-1, False)

    def column_left(self) -> None:
        """Move the current column to the left."""
        self.view.heads.move(self._column, -1)

    def column_right(self) -> None:
        """Move the current column to the right."""
        self.view.heads.move(self._column, 1)

    def narrower(self) -> None:
        """Make the current column narrower."""
        self.view.heads.widen(self._column, -1)

    def wider(self) -> None:
        """Make the current column wider."""
        self.view.heads.widen(self._column, 1)

    def hide_column(self) -> None:
        """Hide the current column, and go on in its neighbour."""
        view, column = self.view, self._column
        shown = view.heads.shown()
        if column in shown and len(shown) > 1:
            place = shown.index(column)
            other = shown[place + 1] if place + 1 < len(shown) else shown[place - 1]
            view.setCurrentIndex(view.table.index(view.currentIndex().row(), other))
            view.heads.show_column(column, False)

    # The menu

    def _on_menu(self, at: QPoint) -> None:
        menu = self.menu()
        menu.popup(self.view.viewport().mapToGlobal(at))

    def menu(self) -> QMenu:
        """Return a menu of everything the table can do, with its keys."""
        menu = QMenu(self.view)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        for key in TABLE_KEYS:
            if key.gap:
                menu.addSeparator()
            action = menu.addAction(self.view.keys.text(key))
            action.setData(key.does)
        columns = menu.addMenu(tr("Column&s"))
        self.view.heads.fill_menu(columns)
        columns.triggered.connect(self.view.heads.on_chosen)
        menu.triggered.connect(self._on_chosen)
        return menu

    def _on_chosen(self, action: QAction) -> None:
        does = action.data()
        if isinstance(does, str):
            self.do(does)
