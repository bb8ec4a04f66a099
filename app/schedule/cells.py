"""The texts of every cell of a table, kept, and renewed only where they may have changed."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any, cast

from app.entry.ends import OPEN
from app.schedule.column import CIRCUIT, LIVE, RECORD, Column, Tabled
from app.schedule.looking import Looking, wired_alike
from app.schedule.natural import natural
from app.tr import tr
from model.circuit import Circuit

Changed = dict[str, tuple[int, int]]
"""By id: the first and last column of which the text changed."""


class Cells:
    """Texts by id and column.

    A text is read when it is asked for and kept until it may read otherwise; of the rows in sight
    what is shown is read again at once, so that the view can be told what changed.
    """

    def __init__(self, tabled: Tabled) -> None:
        self.tabled = tabled
        self.look: Looking | None = None
        self.records: Mapping[str, Any] = {}
        self._texts: dict[str, list[str | None]] = {}

    def renew(
        self, look: Looking, shown: Collection[int], in_sight: Collection[str] | None = None
    ) -> Changed:
        """Take another look and return which cells in sight read otherwise than before.

        Parameters
        ----------
        shown
            The columns that are shown.
        in_sight
            Ids of the rows that are seen; None: all of them.
        """
        stale, every = self._stale(look), list(range(len(self.tabled.columns)))
        if self.look is not None:
            look.take_over(self.look)
        old, self.records = self.records, self.tabled.records(look.circuit)
        self.look = look
        changed: Changed = {}
        for key in list(self._texts):
            record, row = self.records.get(key), self._texts[key]
            if record is None:
                del self._texts[key]
                continue
            columns = stale if old.get(key) is record else every
            if columns and (in_sight is None or key in in_sight):
                self._read_again(key, row, columns, shown, changed)
            else:
                for i in columns:
                    row[i] = None
        return changed

    def text(self, key: str, column: int) -> str:
        """Return what a cell reads."""
        record = self.records.get(key)
        if record is None or self.look is None:
            return ""
        row = self._texts.get(key)
        if row is None:
            row = self._texts[key] = [None] * len(self.tabled.columns)
        text = row[column]
        if text is None:
            text = row[column] = self._read(self.tabled.columns[column], record)
        return text

    def _read(self, column: Column, record: Any) -> str:
        assert self.look is not None
        text = column.reads(self.look, record)
        return tr(text) if column.words or text == OPEN else text

    def every(self, key: str) -> list[str]:
        """Return the texts of all columns of a row, for the filter."""
        row = self._texts.get(key, [None])
        if None in row or key not in self.records:
            return [self.text(key, i) for i in range(len(self.tabled.columns))]
        return cast(list[str], row)  # all of it was read already: a filter asks for every row

    def order(self, column: Column, at: int, key: str) -> Any:
        """Return the value by which a row is sorted."""
        assert self.look is not None
        if column.orders is not None:
            return column.orders(self.look, self.records[key])
        return natural(self.text(key, at))

    def _stale(self, look: Looking) -> list[int]:
        """Return the columns that may read otherwise in a row whose record is the same."""
        before, columns = self.look, self.tabled.columns
        if before is None or _other_world(before, look):
            return list(range(len(columns)))
        scopes = {RECORD: False, CIRCUIT: _other_circuit(before.circuit, look.circuit)}
        moved = before.positions != look.positions
        scopes[LIVE] = moved or before.analysis is not look.analysis
        return [i for i, c in enumerate(columns) if scopes[c.scope]]

    def _read_again(
        self,
        key: str,
        row: list[str | None],
        columns: Collection[int],
        shown: Collection[int],
        changed: Changed,
    ) -> None:
        """Read a row again, and note the span of what reads otherwise than it was painted."""
        others: list[int] = []
        for i in columns:
            before, row[i] = row[i], None
            if i in shown and before is not None and self.text(key, i) != before:
                others.append(i)
        if others:
            changed[key] = (others[0], others[-1])


class Order:
    """The sort key of a row, by one column."""

    def __init__(self, cells: Cells, column: Column, at: int) -> None:
        self.cells, self.column, self.at = cells, column, at

    def __call__(self, key: str) -> Any:
        return self.cells.order(self.column, self.at, key)


def _other_circuit(a: Circuit, b: Circuit) -> bool:
    """Tell whether more changed than what is known of single wires."""
    tables = ((a.sheets, b.sheets), (a.branches, b.branches), (a.cables, b.cables),
              (a.zones, b.zones))  # fmt: skip
    return not wired_alike(a, b) or any(one is not other for one, other in tables)


def _other_world(before: Looking, after: Looking) -> bool:
    """Tell whether kinds or settings changed, on which every value may rest."""
    a, b = before.circuit, after.circuit
    return a.own_kinds is not b.own_kinds or a.settings is not b.settings
