"""The table: rows of the circuit that are sorted, filtered and typed in, and one row to go on."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from app.entry.errors import EntryError
from app.schedule.cells import Cells, Changed, Order
from app.schedule.column import Column, Tabled
from app.schedule.looking import Looking
from app.schedule.order import Wanted, arranged
from app.schedule.part_values import position_named
from app.schedule.runs import runs_of, spans_of
from app.schedule.swatch import swatch
from app.session import Session
from app.tr import tr
from model.changes import Change
from model.errors import ModelError

Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()
NEW = ""
"""Id of the row after the last, in which a new record begins."""
MOST_RUNS = 40
"""Stretches of rows that come or go one by one; more are a new table."""
ROLE = Qt.ItemDataRole
HEAD_ROLES = (
    ROLE.DisplayRole,
    ROLE.AccessibleTextRole,
    ROLE.ToolTipRole,
    ROLE.TextAlignmentRole,
)
PLAIN = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable


class Table(QAbstractTableModel):
    """Rows by id in the order shown; setting a cell is one change."""

    def __init__(self, session: Session, tabled: Tabled, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session, self.tabled = session, tabled
        self.cells = Cells(tabled)
        self.columns = tabled.columns
        self.place = {c.key: i for i, c in enumerate(tabled.columns)}
        self.ids: list[str] = []
        self.wanted = Wanted()
        self.asked: frozenset[int] = frozenset(range(len(tabled.columns)))
        self.signalled = 0
        self._known: frozenset[str] = frozenset()

    # Taking the circuit

    def refresh(self, settled: bool = True, in_sight: Collection[str] | None = None) -> None:
        """Take the circuit as it is now; the view is told of the rows that are in sight.

        Unless `settled`, rows that are there stay where they are, so that none jumps away from
        under the hands of who types in it; new ones come last.
        """
        session = self.session
        look = Looking(session.circuit, session.analysis, session.setting.positions)
        changed = self.cells.renew(look, self.asked, in_sight)
        self._take(self._rows(settled))
        self._known = frozenset(self.cells.records)
        self._signal(changed)

    def arrange(self, wanted: Wanted) -> None:
        """Show what is asked for, in the order asked for."""
        self.wanted = wanted
        self.cells.renew(self._look(), self.asked, ())
        self._take(self._rows(True))

    @property
    def total(self) -> int:
        """How many records there are."""
        return len(self.cells.records)

    def _look(self) -> Looking:
        session = self.session
        known = self.cells.look
        if known is not None and known.circuit is session.circuit:
            return known
        return Looking(session.circuit, session.analysis, session.setting.positions)

    def _rows(self, settled: bool) -> list[str]:
        """Return the ids of the rows to show."""
        records, plain = self.cells.records, not self.wanted.words and self.wanted.only is None
        if not settled and not (plain and not self.wanted.sort):
            new = [i for i in records if i not in self._known]
            return [i for i in self.ids if i in records] + new
        column = self.place.get(self.wanted.sort)
        key = None
        if column is not None:
            key = Order(self.cells, self.columns[column], column)
        return arranged(records, self.wanted, self.cells.every, key)

    def _signal(self, changed: Changed) -> None:
        """Tell the view which cells read otherwise; runs of rows are told together."""
        self.signalled = 0
        for first, last, left, right in spans_of(self.ids, changed):
            self.signalled += (last - first + 1) * (right - left + 1)
            self.dataChanged.emit(self.index(first, left), self.index(last, right))

    def _take(self, new: list[str]) -> None:
        """Become these rows with as few signals as can be."""
        old = self.ids
        if new == old:
            return
        kept, wanted = set(new), set(old)
        runs = runs_of([i not in kept for i in old]), runs_of([i not in wanted for i in new])
        if len(runs[0]) + len(runs[1]) > MOST_RUNS:
            self.beginResetModel()
            self.ids = new
            self.endResetModel()
            return
        self._remove(runs[0])
        self._move([i for i in new if i in wanted])
        self._insert(new, runs[1])

    def _remove(self, runs: Sequence[tuple[int, int]]) -> None:
        for first, last in reversed(runs):
            self.beginRemoveRows(NOWHERE, first, last)
            self.ids = self.ids[:first] + self.ids[last + 1 :]
            self.endRemoveRows()

    def _move(self, new: list[str]) -> None:
        """Put the rows that stay into another order; what is current goes along."""
        if new == self.ids:
            return
        self.layoutAboutToBeChanged.emit()
        at = {key: i for i, key in enumerate(new)}
        before = self.persistentIndexList()
        after = [self.index(self._moved(i.row(), at), i.column()) for i in before]
        self.ids = new
        self.changePersistentIndexList(before, after)
        self.layoutChanged.emit()

    def _moved(self, row: int, at: dict[str, int]) -> int:
        return at[self.ids[row]] if row < len(self.ids) else row

    def _insert(self, new: list[str], runs: Sequence[tuple[int, int]]) -> None:
        """Put in rows; at the end the row that was typed in becomes the first of them."""
        for first, last in runs:
            end = first == len(self.ids)
            at = first + 1 if end else first
            self.beginInsertRows(NOWHERE, at, at + last - first)
            self.ids = self.ids[:first] + new[first : last + 1] + self.ids[first:]
            self.endInsertRows()
            if end:
                self.dataChanged.emit(self.index(first, 0), self.index(first, self._last))

    @property
    def _last(self) -> int:
        return len(self.columns) - 1

    # What Qt asks

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of rows and one more."""
        return 0 if parent.isValid() else len(self.ids) + 1

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of columns, hidden ones too."""
        return 0 if parent.isValid() else len(self.columns)

    def headerData(self, section: int, way: Qt.Orientation, role: int = ROLE.DisplayRole) -> Any:
        """Return the title of a column, or what people call a row."""
        if role not in HEAD_ROLES:
            return None
        if way == Qt.Orientation.Vertical:
            return self.name_at(section)
        column = self.columns[section]
        if role == ROLE.TextAlignmentRole:
            side = Qt.AlignmentFlag.AlignRight if column.right else Qt.AlignmentFlag.AlignLeft
            return int(side | Qt.AlignmentFlag.AlignVCenter)
        if role == ROLE.ToolTipRole:
            about = tr(column.about)
            return f"{tr(column.title)}: {about}" if about else tr(column.title)
        if role == ROLE.AccessibleTextRole and column.key == self.wanted.sort:
            way_sorted = (
                "{title}, sorted downwards" if self.wanted.down else "{title}, sorted upwards"
            )
            return tr(way_sorted, title=tr(column.title))
        return tr(column.title)

    def data(self, index: Index, role: int = ROLE.DisplayRole) -> Any:
        """Return what a cell shows."""
        column, key = self.columns[index.column()], self.id_at(index.row())
        if role == ROLE.DisplayRole:
            return self.cells.text(key, index.column()) if key else self._new_text(column)
        if role == ROLE.EditRole:
            return self.edit_text(index)
        if role == ROLE.TextAlignmentRole and column.right:
            return int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        if role == ROLE.DecorationRole and column.swatch and key:
            return self._swatch(key, column, index.column())
        if role == ROLE.AccessibleTextRole:
            return self.spoken(index)
        if role == ROLE.ToolTipRole and key and column.width >= 150:
            return self.cells.text(key, index.column())
        if role == ROLE.ForegroundRole and self._is_soft(column, key, index.column()):
            return self.session.look.theme.colour("ink_soft")
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Return what can be done with a cell."""
        flags = PLAIN
        column = self.columns[index.column()]
        if column.types is None:
            return flags
        new = index.row() >= len(self.ids)
        if new and (column.operates or (self.tabled.only_start and column.key != self.starts)):
            return flags
        return flags | Qt.ItemFlag.ItemIsEditable

    def setData(self, index: Index, value: Any, role: int = ROLE.EditRole) -> bool:
        """Make a cell's new text a change; a text that is no value is refused with a sentence."""
        if role != ROLE.EditRole or str(value).strip() == self.edit_text(index):
            return False
        said = self.try_set(index, str(value))
        if said:
            self.session.noticed.emit(said)
        return not said

    # Typing

    @property
    def starts(self) -> str:
        """Key of the column in which a new record begins."""
        return self.tabled.starts

    def id_at(self, row: int) -> str:
        """Return the id of a row, NEW for the one after the last."""
        return self.ids[row] if 0 <= row < len(self.ids) else NEW

    def record_at(self, row: int) -> Any:
        """Return the part or wire of a row, None for the one after the last."""
        return self.cells.records.get(self.id_at(row))

    def name_at(self, row: int) -> str:
        """Return what people call a row."""
        record = self.record_at(row)
        return self.tabled.named(record) if record else tr(f"New {self.tabled.one}")

    def edit_text(self, index: Index) -> str:
        """Return the text that typing in a cell starts with."""
        column, key = self.columns[index.column()], self.id_at(index.row())
        record = self.cells.records.get(key)
        if record is None or self.cells.look is None:
            return ""
        return (column.edits or column.reads)(self.cells.look, record)

    def try_set(self, index: Index, text: str) -> str:
        """Make a text a change of a cell; return "", or the sentence that says why not."""
        column, key = self.columns[index.column()], self.id_at(index.row())
        text = text.strip()
        if (key or not text) and text == self.edit_text(index):
            return ""
        try:
            if column.operates and key:
                return self._operate(key, text)
            if self.session.mode != "draw":
                return "Go to Draw (F5) to change the circuit."
            change = self._change(column, key, text)
        except (EntryError, ModelError) as error:
            return str(error)
        self.session.do(change)
        return ""

    def spoken(self, index: Index) -> str:
        """Return what a screen reader says of a cell: "W3, From: S1.2"."""
        column, key = self.columns[index.column()], self.id_at(index.row())
        reads = column.spoken or column.reads
        record, look = self.cells.records.get(key), self.cells.look
        text = reads(look, record) if record is not None and look is not None else ""
        said = tr(text or "empty") if column.words or column.spoken or not text else text
        return f"{self.name_at(index.row())}, {tr(column.title)}: {said}"

    def _operate(self, key: str, text: str) -> str:
        part = self.session.circuit.parts[key]
        self.session.set_positions({key: position_named(self.session.circuit, part, text)})
        return ""

    def _change(self, column: Column, key: str, text: str) -> Change | None:
        circuit = self.session.circuit
        if key:
            return column.types(circuit, key, text) if column.types else None
        change, _ = self.tabled.adds(circuit, self.session.sheet.id, column.key, text)
        return change

    def _new_text(self, column: Column) -> str:
        """Return what the row after the last shows: the next number, and what to type."""
        if column.key == self.columns[0].key and self.cells.look is not None:
            return tr(self.tabled.next_name(self.cells.look.circuit))
        return tr(self.tabled.hint) if column.key == self.starts and not self.ids else ""

    def _swatch(self, key: str, column: Column, at: int) -> Any:
        """Return a colour's picture; that of the colour shows the tracer too."""
        text = self.cells.text(key, at)
        tracer = self.cells.records[key].tracer if text and column.key == "colour" else ""
        return swatch(f"{text}/{tracer}" if tracer else text, self.session.look.theme)

    def _is_soft(self, column: Column, key: str, at: int) -> bool:
        return not key or self.cells.text(key, at) in (tr("open"), "–", tr("dead"))
