"""Where the current cell goes from a cell that was typed in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, QObject, Qt

if TYPE_CHECKING:
    from app.schedule.view import TableScreen


class Walk(QObject):
    """Tab goes along the row over what can be typed, Enter down to where the row was begun."""

    def __init__(self, view: TableScreen) -> None:
        super().__init__(view)
        self.view = view
        self._begun = -1

    def forget(self) -> None:
        """Begin anew: the next Enter goes straight down."""
        self._begun = -1

    def step(self, way: str, at: QModelIndex) -> None:
        """Go on from a cell that was typed in; along the row, and in a new row, go on typing."""
        if way in ("right", "left"):
            self._begun = at.column() if self._begun < 0 else self._begun
            target = self._beside(at, 1 if way == "right" else -1)
        else:
            column = at.column() if self._begun < 0 else self._begun
            target = self._below(at.row() + (1 if way == "down" else -1), column)
            self._begun = -1
        self.view.setCurrentIndex(target)
        new = target.row() >= len(self.view.table.ids)
        if way in ("right", "left") or (new and way == "down"):
            self.view.edit_cell(target)

    def along(self, by: int) -> None:
        """Go to the next cell without typing, into the next row at the end."""
        view = self.view
        at = view.currentIndex()
        columns = view.heads.shown()
        if not columns or not at.isValid():
            return
        place = columns.index(at.column()) if at.column() in columns else 0
        row, place = divmod(at.row() * len(columns) + place + by, len(columns))
        if 0 <= row < view.table.rowCount():
            view.setCurrentIndex(view.table.index(row, columns[place]))

    def _beside(self, at: QModelIndex, by: int) -> QModelIndex:
        """Return the next cell that can be typed in, in the next row at the end of this one."""
        table, columns = self.view.table, self.view.heads.shown()
        place = columns.index(at.column()) if at.column() in columns else 0
        row = at.row()
        while True:
            place += by
            if not 0 <= place < len(columns):
                row, place = row + by, 0 if by > 0 else len(columns) - 1
            if not 0 <= row < table.rowCount():
                return at
            index = table.index(row, columns[place])
            if table.flags(index) & Qt.ItemFlag.ItemIsEditable:
                return index

    def _below(self, row: int, column: int) -> QModelIndex:
        """Return a cell of another row; a new one begins in its own column."""
        table = self.view.table
        row = max(0, min(row, table.rowCount() - 1))
        index = table.index(row, column)
        if row < len(table.ids) or table.flags(index) & Qt.ItemFlag.ItemIsEditable:
            return index
        return table.index(row, table.place[table.starts])
