"""What a table of the user's own is, and how its cells are read as numbers and sizes."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from model.errors import ModelError, QuantityError
from model.wiresize import Size, parse_size

Cell = float | str | None
SORTS = ("ampacity", "copper", "fuse-band", "bundle", "insulation", "types")
"""ampacity: amperes by size; copper: resistance by size; fuse-band: opening times by percent of the
rating; bundle: shares by the number of loaded wires; insulation: what a wire stands in a short;
types: ratings of parts by the name of a type."""
MOST_ROWS, MOST_HEADS = 5000, 60
MOST_A = 10_000.0


class TableMistake(ModelError, ValueError):
    """What is wrong in a table of the user's: the row (from 1, 0 for the heads) and the reason."""

    def __init__(self, row: int, reason: str) -> None:
        super().__init__(reason)
        self.row = row


@dataclass(frozen=True, slots=True)
class OwnTable:
    """A table of the user's own.

    Attributes
    ----------
    id
        What chooses it: in the circuit's tables, as the band of a fuse.
    sort
        One of `SORTS`.
    source, edition, conditions
        Where its figures are from and what they hold for, in the user's words.
    ambient_c
        The ambient that amperes are for.
    from_a, to_a
        Fuse ratings that a band holds for.
    heads, rows
        As in the file: numbers, words, None for an empty cell.
    """

    id: str
    sort: str = "ampacity"
    title: str = ""
    source: str = ""
    edition: str = ""
    conditions: str = ""
    ambient_c: float = 30.0
    from_a: float = 0.0
    to_a: float = MOST_A
    heads: tuple[str, ...] = ()
    rows: tuple[tuple[Cell, ...], ...] = ()
    extra: Mapping[str, Any] = field(default_factory=dict)

    @property
    def from_where(self) -> str:
        """Source and edition, as a finding names them."""
        said = ", ".join(filter(None, (self.source, self.edition)))
        return f"{said or self.title or self.id} (supplied by the user)"

    @property
    def facts(self) -> tuple[Any, ...]:
        """Everything but the unknown fields: what two tables are told apart by."""
        return (
            self.id, self.sort, self.title, self.source, self.edition, self.conditions,
            self.ambient_c, self.from_a, self.to_a, self.heads, self.rows,
        )  # fmt: skip


def number(table: OwnTable, row: int, column: int, low: float, high: float) -> float:
    """Return a cell as a number in these limits; rows count from 1.

    Raises
    ------
    TableMistake
        It is empty, a word, or beyond the limits.
    """
    cell, head = table.rows[row - 1][column], table.heads[column]
    if cell is None or isinstance(cell, str):
        was = "is empty" if cell is None else f"is “{cell}”"
        raise TableMistake(row, f"“{head}” {was}; write a number")
    if not (math.isfinite(cell) and low <= cell <= high):
        raise TableMistake(row, f"“{head}” is {cell:g}; write a number from {low:g} to {high:g}")
    return float(cell)


def size_of(table: OwnTable, row: int) -> Size:
    """Return the size of a row: mm², or a gauge such as 18 or 2/0."""
    cell = table.rows[row - 1][0]
    if table.heads[0] == "mm2":
        return Size(mm2=number(table, row, 0, 0.01, 1000.0))
    text = f"{cell:g}" if isinstance(cell, float) else str(cell)
    try:
        found = parse_size(f"{text} AWG")
    except QuantityError as error:
        raise TableMistake(row, f"“{text}” is no gauge; write 18 or 2/0") from error
    return found
