"""What is done to several cells at once, each as one change: pasting, filling, deleting."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from app.analysis import Analysis
from app.entry.errors import EntryError, Refused
from app.schedule.block import from_text
from app.schedule.column import Column, Tabled
from app.schedule.looking import Looking
from model.changes import Change
from model.circuit import Circuit
from model.editing import delete, set_wires
from model.editing.bulk import WIRE_FIELDS
from model.editing.draft import change_between
from model.errors import ModelError


@dataclass(frozen=True, slots=True)
class Done:
    """What an act comes to: the change, unapplied, and the rows it is about."""

    change: Change
    ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Spot:
    """Where cells are pasted: the rows from there on, and the columns from there on.

    `single` are the rows that all take a text of one cell.
    """

    ids: Sequence[str]
    keys: Sequence[str]
    single: Sequence[str] = ()
    sheet_id: str = ""


def pasted(circuit: Circuit, tabled: Tabled, spot: Spot, text: str) -> Done:
    """Return the change that puts copied cells into rows, and into new rows past the last.

    A first line of titles says which columns they are; without one they go from the spot on.
    Columns that cannot be typed are passed over.

    Raises
    ------
    Refused
        A cell cannot be taken: its line, its column and why. Then nothing is pasted.
    """
    cells = from_text(text)
    columns, cells = _columns(tabled, spot, cells)
    if not cells or not any(columns):
        raise Refused("There is nothing to paste here: copy cells first, or choose another column.")
    if len(cells) == 1 and len(cells[0]) == 1 and len(spot.single) > 1:
        cells = cells * len(spot.single)
        spot = Spot(spot.single, spot.keys, (), spot.sheet_id)
    after, made = circuit, list[str]()
    for line, row in enumerate(cells):
        if line < len(spot.ids):
            key = spot.ids[line]
        else:
            after, key = _added(after, tabled, spot.sheet_id, columns, row, line)
        after = _typed(after, key, columns, row, line)
        made += [key] if key else []
    what = f"Paste {len(cells)} {tabled.one if len(cells) == 1 else tabled.many}"
    return Done(change_between(circuit, after, what), tuple(made))


def filled(circuit: Circuit, tabled: Tabled, ids: Sequence[str], column: Column) -> Done:
    """Return the change that gives rows the value that the first of them has in a column.

    Raises
    ------
    Refused, ModelError
        The column cannot be typed, or a row cannot have that value.
    """
    if column.types is None or column.operates or column.key in ("number", "reference"):
        raise Refused(f"{column.title} cannot be the same in several rows: nothing was filled.")
    first, rest = ids[0], ids[1:]
    record = tabled.records(circuit)[first]
    if tabled.key == "wires" and column.key in WIRE_FIELDS:
        fields = {column.key: getattr(record, column.key)}
        return Done(set_wires(circuit, rest, **fields).change, tuple(ids))
    look = Looking(circuit, Analysis(circuit))
    text = (column.edits or column.reads)(look, record)
    after = circuit
    for key in rest:
        change = column.types(after, key, text)
        after = change.apply(after) if change else after
    what = f"Fill {column.title} of {len(rest)} {tabled.one if len(rest) == 1 else tabled.many}"
    return Done(change_between(circuit, after, what), tuple(ids))


def deleted(circuit: Circuit, ids: Sequence[str]) -> Done:
    """Return the change that deletes rows, parts with the wires at them."""
    return Done(delete(circuit, ids).change, ())


def _columns(
    tabled: Tabled, spot: Spot, cells: list[list[str]]
) -> tuple[list[Column | None], list[list[str]]]:
    """Return the column of each cell of a line, None to pass over, and the lines without titles."""
    titles = {c.title.casefold(): c for c in tabled.columns}
    head = [c.casefold() for c in cells[0]] if cells else []
    if len(cells) > 1 and head and all(word in titles for word in head):
        found, cells = [titles[word] for word in head], cells[1:]
    else:
        keys = {c.key: c for c in tabled.columns}
        found = [keys[k] for k in spot.keys]
    return [c if c.types and not c.operates else None for c in found], cells


def _added(
    circuit: Circuit,
    tabled: Tabled,
    sheet_id: str,
    columns: Sequence[Column | None],
    row: Sequence[str],
    line: int,
) -> tuple[Circuit, str]:
    """Return the circuit with a record for a line past the last row; "" for an empty line."""
    given = [(c, t) for c, t in zip(columns, row, strict=False) if c is not None and t]
    begins = [(c, t) for c, t in given if c.key == tabled.starts]
    if not given:
        return circuit, ""
    if not begins and tabled.only_start:
        raise Refused(f"Line {line + 1}: a new {tabled.one} needs its {tabled.starts}.")
    column, text = (begins or given)[0]
    try:
        change, key = tabled.adds(circuit, sheet_id, column.key, text)
    except (EntryError, ModelError) as error:
        raise _refused(line, column, error) from error
    return change.apply(circuit), key


def _typed(
    circuit: Circuit, key: str, columns: Sequence[Column | None], row: Sequence[str], line: int
) -> Circuit:
    """Return the circuit with a line typed into a row."""
    for column, text in zip(columns, row, strict=False):
        if column is None or column.types is None or not key:
            continue
        try:
            change = column.types(circuit, key, text)
        except (EntryError, ModelError) as error:
            raise _refused(line, column, error) from error
        circuit = change.apply(circuit) if change else circuit
    return circuit


def _refused(line: int, column: Column, error: Exception) -> Refused:
    return Refused(f"Line {line + 1}, {column.title}: {error} Nothing was pasted.")
