"""What a cell offers for a text, best first."""

from __future__ import annotations

from app.entry.suggest import Suggestion, ranked
from app.schedule.column import Column
from app.schedule.table import Table

MOST = 9


class Suggesting:
    """Asks a column what can be typed into one row."""

    def __init__(self, table: Table, column: Column, key: str) -> None:
        self.table, self.column, self.key = table, column, key

    def __call__(self, text: str) -> list[Suggestion]:
        """Return what fits the text; a text that is there whole needs no help."""
        if self.column.offers is None:
            return []
        circuit = self.table.session.circuit
        record = self.table.cells.records.get(self.key)
        typed = text.strip()
        found = ranked(self.column.offers(circuit, record, typed), typed, 0)[:MOST]
        whole = [s for s in found if s.text.casefold() == typed.casefold()]
        return [] if whole and len(found) == 1 else found
