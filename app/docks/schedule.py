"""The Schedule: every wire a row, edited in place."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtWidgets import QAbstractItemView, QFrame, QHeaderView, QTableView, QWidget

from app.docks.fields import Field, wire_fields
from app.scene.painted import amperes
from app.session import Session
from app.theme import insulation
from model.circuit import Wire
from model.errors import ModelError

Index = QModelIndex | QPersistentModelIndex
COLUMNS = (
    ("number", "Number"),
    ("first", "From"),
    ("second", "To"),
    ("size", "Size"),
    ("length_m", "Length"),
    ("colour", "Colour"),
    ("tracer", "Tracer"),
    ("circuit", "Circuit"),
    ("confidence", "Confidence"),
    ("note", "Note"),
    ("current", "Now"),
)
NOWHERE = QModelIndex()


class WireTable(QAbstractTableModel):
    """The wires of the circuit as a table; setting a cell is one change."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self.wires: list[Wire] = []

    def refresh(self) -> None:
        """Take the wires as they are now."""
        wires = list(self.session.circuit.wires.values())
        if [w.id for w in wires] != [w.id for w in self.wires]:
            self.beginResetModel()
            self.wires = wires
            self.endResetModel()
            return
        self.wires = wires
        if wires:
            self.dataChanged.emit(self.index(0, 0), self.index(len(wires) - 1, len(COLUMNS) - 1))

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of wires."""
        return 0 if parent.isValid() else len(self.wires)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of columns."""
        return 0 if parent.isValid() else len(COLUMNS)

    def headerData(
        self, section: int, way: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return the title of a column."""
        if role == Qt.ItemDataRole.DisplayRole and way == Qt.Orientation.Horizontal:
            return COLUMNS[section][1]
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a cell shows."""
        wire, (key, _) = self.wires[index.row()], COLUMNS[index.column()]
        if key == "current":
            return self._current(wire) if role == Qt.ItemDataRole.DisplayRole else None
        field = self._field(wire, key)
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.EditRole):
            return field.value
        if role == Qt.ItemDataRole.DecorationRole and key in ("colour", "tracer") and field.value:
            return insulation(field.value)
        return None

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Make a cell's new text a change; a text that is no value is refused with a sentence."""
        field = self._field(self.wires[index.row()], COLUMNS[index.column()][0])
        text = str(value).strip()
        if role != Qt.ItemDataRole.EditRole or text == field.value:
            return False
        try:
            change = field.setter(self.session.circuit, text)
        except ModelError as error:
            self.session.noticed.emit(str(error))
            return False
        return self.session.do(change)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Return what can be done with a cell."""
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        editable = COLUMNS[index.column()][0] != "current"
        return flags | Qt.ItemFlag.ItemIsEditable if editable else flags

    def _field(self, wire: Wire, key: str) -> Field:
        return next(f for f in wire_fields(self.session.circuit, wire) if f.key == key)

    def _current(self, wire: Wire) -> str:
        state = self.session.analysis.state
        if state is None or wire.id not in self.session.analysis.circuit.wires:
            return ""
        current = state.current(wire.id)
        return amperes(current) if abs(current) >= 1e-3 else "–"


class Schedule(QTableView):
    """The table, its selection in step with the sheet."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.table = WireTable(session)
        self.setModel(self.table)
        self.setAccessibleName("Schedule")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setAlternatingRowColors(True)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(24)
        head = self.horizontalHeader()
        head.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        head.setStretchLastSection(True)
        head.setHighlightSections(False)
        self._following = False
        self.selectionModel().selectionChanged.connect(self._on_selection)
        self.refresh()

    def refresh(self) -> None:
        """Show the wires as they are now."""
        self._following = True
        self.table.refresh()
        self._following = False
        self.follow()

    def follow(self) -> None:
        """Select the rows of the wires selected on the sheet."""
        rows = [i for i, w in enumerate(self.table.wires) if w.id in self.session.selection]
        if rows == sorted({i.row() for i in self.selectionModel().selectedRows()}):
            return
        self._following = True
        self.clearSelection()
        for row in rows[:1]:
            self.selectRow(row)
        self._following = False

    def edit_last(self, key: str) -> None:
        """Open the cell of the last wire in a column for typing."""
        column = next(i for i, (k, _) in enumerate(COLUMNS) if k == key)
        cell = self.table.index(self.table.rowCount() - 1, column)
        self.setFocus()
        self.setCurrentIndex(cell)
        self.edit(cell)

    def _on_selection(self) -> None:
        if self._following:
            return
        rows = {i.row() for i in self.selectionModel().selectedRows()}
        self.session.select(frozenset(self.table.wires[r].id for r in rows))
