"""The texts of every cell of a table, kept, and renewed only where they may have changed."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any

from app.schedule.column import CIRCUIT, LIVE, RECORD, Column, Tabled
from app.schedule.looking import Looking, wired_alike
from app.schedule.natural import natural
from model.circuit import Circuit

Changed = dict[str, tuple[int, int]]
"""By id: the first and last column of which the text changed."""


class Cells:
    """Texts by id and column.

    Only the columns that are asked for are read; the others stay empty until they are.
    """

    def __init__(self, tabled: Tabled) -> None:
        self.tabled = tabled
        self.look: Looking | None = None
        self.records: Mapping[str, Any] = {}
        self._texts: dict[str, list[str]] = {}
        self._asked: frozenset[int] = frozenset()

    def renew(self, look: Looking, asked: Collection[int]) -> Changed:
        """Read the circuit again and return which cells read otherwise than before."""
        stale = self._stale(look, frozenset(asked))
        if self.look is not None:
            look.take_over(self.look)
        old, self.records = self.records, self.tabled.records(look.circuit)
        self.look, self._asked = look, frozenset(asked)
        for key in [k for k in self._texts if k not in self.records]:
            del self._texts[key]
        changed: Changed = {}
        for key, record in self.records.items():
            same = old.get(key) is record and key in self._texts
            span = self._renew_row(look, key, record, stale if same else None)
            if span is not None:
                changed[key] = span
        return changed

    def text(self, key: str, column: int) -> str:
        """Return what a cell reads."""
        row = self._texts.get(key)
        if row is None or column not in self._asked:
            return self.read(key, column)
        return row[column]

    def read(self, key: str, column: int) -> str:
        """Return what a cell reads, read anew."""
        record = self.records.get(key)
        if record is None or self.look is None:
            return ""
        return self.tabled.columns[column].reads(self.look, record)

    def every(self, key: str) -> list[str]:
        """Return the texts of all columns of a row, for the filter."""
        return [self.text(key, i) for i in range(len(self.tabled.columns))]

    def order(self, column: Column, key: str) -> Any:
        """Return the value by which a row is sorted."""
        assert self.look is not None
        record = self.records[key]
        if column.orders is not None:
            return column.orders(self.look, record)
        return natural(column.reads(self.look, record))

    def _stale(self, look: Looking, asked: frozenset[int]) -> list[int]:
        """Return the columns that may read otherwise in a row whose record is the same."""
        before, columns = self.look, self.tabled.columns
        new = asked - self._asked
        if before is None or _other_world(before, look):
            return sorted(asked)
        scopes = {RECORD: False, CIRCUIT: _other_circuit(before.circuit, look.circuit)}
        moved = before.positions != look.positions
        scopes[LIVE] = moved or before.analysis is not look.analysis
        return sorted(i for i in asked if i in new or scopes[columns[i].scope])

    def _renew_row(
        self, look: Looking, key: str, record: Any, stale: list[int] | None
    ) -> tuple[int, int] | None:
        """Read a row again (None: all of it) and return the span that reads otherwise."""
        row = self._texts.setdefault(key, [""] * len(self.tabled.columns))
        first = last = -1
        columns = self.tabled.columns
        for i in self._asked_in_order if stale is None else stale:
            text = columns[i].reads(look, record)
            if text != row[i]:
                row[i] = text
                first = i if first < 0 else first
                last = i
        return None if first < 0 else (first, last)

    @property
    def _asked_in_order(self) -> list[int]:
        return sorted(self._asked)


def _other_circuit(a: Circuit, b: Circuit) -> bool:
    """Tell whether more changed than what is known of single wires."""
    tables = ((a.sheets, b.sheets), (a.branches, b.branches), (a.cables, b.cables))
    return not wired_alike(a, b) or any(one is not other for one, other in tables)


def _other_world(before: Looking, after: Looking) -> bool:
    """Tell whether kinds or settings changed, on which every value may rest."""
    a, b = before.circuit, after.circuit
    return a.own_kinds is not b.own_kinds or a.settings is not b.settings
