"""Cells as text, a line a row and a tab between cells, as spreadsheets give and take them."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from app.entry.errors import Refused

MOST_ROWS = 2000
MOST_CELLS = 80


def as_text(titles: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return a heading and rows; tabs and line breaks within a cell become spaces."""
    return "\n".join("\t".join(" ".join(c.split()) for c in row) for row in (titles, *rows)) + "\n"


def from_text(text: str) -> list[list[str]]:
    """Return the cells of a text, without empty lines at its end.

    Raises
    ------
    Refused
        It is no table of a size that a person pastes.
    """
    try:
        rows = list(csv.reader(io.StringIO(text.replace("\0", "")), delimiter="\t"))
    except csv.Error as error:
        raise Refused(f"What was copied is no table: {error}.") from error
    while rows and not any(cell.strip() for cell in rows[-1]):
        rows.pop()
    widest = max(map(len, rows), default=0)
    if len(rows) > MOST_ROWS or widest > MOST_CELLS:
        raise Refused(
            f"{len(rows)} lines of {widest} cells were copied: paste at most {MOST_ROWS} lines of "
            f"{MOST_CELLS} at once."
        )
    return [[cell.strip() for cell in row] for row in rows]
