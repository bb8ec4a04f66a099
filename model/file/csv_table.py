"""A table of the user's own from a CSV file, as any spreadsheet writes it.

First the facts, one a line, name and value; then the heads of the columns; then the rows::

    table,my-thin-wall
    sort,ampacity
    title,Thin wall cable
    source,Maker's sheet TW-4
    edition,2024
    conditions,single cable in free air
    ambient,30

    mm2,90,105
    0.5,9,11
    1.5,18,21

``table`` and ``source`` are needed; ``sort`` is one of

``ampacity``
    ``mm2`` or ``awg``, then amperes under the temperature that each insulation stands.
    ``ambient`` says for which surroundings (30 °C).
``copper``
    ``mm2`` or ``awg``, then ``milliohm_per_m`` (or ``ohm_per_km``, the same number): the resistance
    of a metre at 20 °C.
``fuse-band``
    ``percent,min_s,max_s``: at this percentage of its rating a fuse opens no sooner and no later;
    an edge that is not known stays empty. ``from_a`` and ``to_a`` bound the ratings it holds for.
``bundle``
    ``wires,share``: what a wire keeps among up to so many loaded wires.
``insulation``
    ``insulation,start_c,limit_c`` and, where it is printed, ``k`` in A·√s/mm²: how hot a wire may
    be before a short and after it. A wire names its insulation.
``types``
    ``type``, then ratings by their names in ``assets/format/kinds.md``, such as
    ``type,coil_v,coil_ohm,contact_a``: relays, lamps, fuses, whatever has those ratings.

Columns are parted by commas, semicolons or tabs; with semicolons and tabs a decimal comma is
understood. Empty lines and lines that begin with # are passed over.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from model.circuit import Circuit, OwnTable
from model.file.codecs import MAX_ID
from model.file.errors import FileError
from model.file.reader import CONTROL, clean
from model.own_tables import table_clashes
from model.tables.own import MOST_HEADS, MOST_ROWS, SORTS, Cell, TableMistake, check_table
from model.tables.own_copper import OHM_HEADS

LARGEST = 2_000_000
"""Most bytes of such a file."""
_TEXTS = {"table": "id", "sort": "sort", "title": "title", "source": "source",
          "edition": "edition", "conditions": "conditions"}  # fmt: skip
_NUMBERS = {"ambient": "ambient_c", "from_a": "from_a", "to_a": "to_a"}
_FIRST_HEADS = frozenset(("mm2", "mm²", "awg", "percent", "wires", "insulation", "type"))
_NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?")

Line = tuple[int, list[str]]


def load_table(path: Path) -> OwnTable:
    """Read a table of the user's own from a CSV file.

    Raises
    ------
    FileError
        One sentence: the line, what is wrong with it, what to do.
    """
    try:
        raw = path.read_bytes()[: LARGEST + 1]
    except OSError as error:
        raise FileError(f"{path.name}: it cannot be read ({error.strerror}); choose another file.")\
            from error  # fmt: skip
    if len(raw) > LARGEST:
        raise FileError(f"{path.name}: it is larger than {LARGEST:,} bytes; no table is.")
    return read_table(_decoded(raw, path.name), path.name)


def _decoded(raw: bytes, name: str) -> str:
    """Return the text of a file: UTF-8 with or without its mark, or what old spreadsheets write."""
    for encoding in ("utf-8-sig", "cp1252"):
        try:
            return raw.decode(encoding)
        except UnicodeDecodeError:
            continue
    raise FileError(f"{name}: it is no text; save the table as CSV in UTF-8.")


def read_table(text: str, name: str = "The table") -> OwnTable:
    """Read a table of the user's own from the text of a CSV file; see `load_table`."""
    lines = list(_lines(text.removeprefix("\ufeff"), name))
    facts: dict[str, Any] = {}
    for at, (line, cells) in enumerate(lines):
        if cells[0].casefold() in _FIRST_HEADS:
            return _made(name, facts, lines[at], lines[at + 1 :])
        _take_fact(name, facts, line, cells)
    raise FileError(
        f"{name}: there are no columns in it; after the facts write a line of heads that begins "
        "with mm2, awg, percent, wires, insulation or type."
    )


def _lines(text: str, name: str) -> Iterator[Line]:
    """Yield every line that says something, with its number and its cells."""
    mark = _mark(text)
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True)
    line = 1
    try:
        for row in rows:
            cells = [cell.strip() for cell in row]
            while len(cells) > 1 and not cells[-1]:
                cells.pop()
            if any(cells) and not cells[0].startswith("#"):
                bad = next((c for c in cells if CONTROL.search(c)), None)
                if bad is not None:
                    raise _wrong(name, line, f"“{clean(bad)[:40]}” has a control character in it",
                                 "take it out")  # fmt: skip
                yield line, [_number_text(c, mark) for c in cells]
            line = rows.line_num + 1
    except csv.Error as error:
        raise _wrong(name, line, f"it is no CSV ({error})", "close the quotation marks") from error


def _mark(text: str) -> str:
    """Return what parts the columns: the sign that the first line with one uses."""
    for line in text.splitlines():
        found = [m for m in (";", "\t", ",") if m in line]
        if found and not line.startswith("#"):
            return found[0]
    return ","


def _number_text(cell: str, mark: str) -> str:
    """Return a cell with a decimal point for its decimal comma."""
    if mark != "," and re.fullmatch(r"[+-]?\d*,\d+", cell):
        return cell.replace(",", ".")
    return cell


def _take_fact(name: str, facts: dict[str, Any], line: int, cells: list[str]) -> None:
    key = cells[0].casefold().rstrip(":")
    known = (*_TEXTS, *_NUMBERS)
    if key not in known:
        raise _wrong(name, line, f"“{cells[0][:40]}” is no fact and no column",
                     f"write one of {', '.join(known)}, or heads that begin with mm2, awg, "
                     "percent, wires, insulation or type")  # fmt: skip
    if len(cells) != 2:
        raise _wrong(name, line, f"“{key}” has {len(cells) - 1} values", "write one value after it")
    attribute = _TEXTS.get(key) or _NUMBERS[key]
    if attribute in facts:
        raise _wrong(name, line, f"“{key}” stands twice", "remove one of the two")
    facts[attribute] = _fact(name, key, line, cells[1])


def _fact(name: str, key: str, line: int, text: str) -> str | float:
    if key in _NUMBERS:
        if not _NUMBER.fullmatch(text):
            raise _wrong(name, line, f"“{key}” is “{text[:40]}”", "write a number")
        return float(text)
    if key == "sort" and text not in SORTS:
        raise _wrong(name, line, f"“{text[:40]}” is no sort of table", f"write one of {_sorts()}")
    if key == "table" and (not 0 < len(text) <= MAX_ID or set(text) & set("./: ")):
        raise _wrong(name, line, f"“{text[:40]}” is no name of a table",
                     f"write 1 to {MAX_ID} letters, digits and - without blanks")  # fmt: skip
    return text


def _sorts() -> str:
    return ", ".join(SORTS)


def _made(name: str, facts: dict[str, Any], head: Line, rows: list[Line]) -> OwnTable:
    """Return the table of the facts, heads and rows, once everything in it can be."""
    for key, attribute in (("table", "id"), ("source", "source")):
        if not facts.get(attribute):
            raise _wrong(name, 1, f"“{key}” is missing", f"write a line “{key}” and its value")
    if len(rows) > MOST_ROWS or len(head[1]) > MOST_HEADS:
        raise _wrong(name, head[0], f"there are more than {MOST_ROWS:,} rows or {MOST_HEADS} "
                     "columns", "leave out what is not needed")  # fmt: skip
    heads = tuple("mm2" if h == "mm²" else h.casefold() for h in head[1])
    facts.setdefault("sort", _sort_of(heads))
    cells = tuple(_row(name, line, row, len(heads), heads[0]) for line, row in rows)
    table = OwnTable(**facts, heads=heads, rows=cells)
    try:
        check_table(table)
    except TableMistake as error:
        line = rows[error.row - 1][0] if error.row and rows else head[0]
        raise FileError(f"{name}, line {line}: {error}.") from error
    return table


def _sort_of(heads: tuple[str, ...]) -> str:
    """Return the sort of a table whose facts do not say it, from its heads."""
    if heads[1:2] and heads[1] in OHM_HEADS:
        return "copper"
    sorts = {"percent": "fuse-band", "wires": "bundle", "type": "types",
             "insulation": "insulation"}  # fmt: skip
    return sorts.get(heads[0], "ampacity")


def _row(name: str, line: int, cells: list[str], count: int, first: str) -> tuple[Cell, ...]:
    if len(cells) > count:
        raise _wrong(name, line, f"there are {len(cells)} cells and {count} heads",
                     "write one cell under each head")  # fmt: skip
    padded = [*cells, *[""] * (count - len(cells))]
    words = first in ("type", "awg", "insulation")
    return tuple(_cell(c, word=words and n == 0) for n, c in enumerate(padded))


def _cell(text: str, *, word: bool) -> Cell:
    """Return a cell: a number where it is one, None where it is empty."""
    if not text:
        return None
    return text if word or not _NUMBER.fullmatch(text) else float(text)


def _wrong(name: str, line: int, what: str, do: str) -> FileError:
    return FileError(f"{name}, line {line}: {what}; {do}.")


def with_table(circuit: Circuit, table: OwnTable, name: str = "The table") -> Circuit:
    """Return the circuit with a table of the user's own, which replaces one of the same id.

    Raises
    ------
    FileError
        Its id is that of another table, or a rating of its types does not exist.
    """
    tables = {**circuit.own_tables, table.id: table}
    made = replace(circuit, own_tables=tables)
    for reason in table_clashes(made, table):
        raise FileError(f"{name}: {reason}; correct it in the file.")
    return made
