"""Sheets, the harness, acceptances and promises as fields of the file."""

from __future__ import annotations

from typing import Any

from model.circuit import (
    Acceptance,
    Branch,
    Cable,
    OwnTable,
    Place,
    PromiseText,
    Route,
    Sheet,
    Zone,
)
from model.file.codecs import (
    COORDINATE,
    FLAG,
    ID,
    LENGTH,
    NAME,
    NAMES,
    NOTE,
    TEMPERATURE,
    Codec,
    choice,
    listed,
    number,
    pair,
    plain_number,
)
from model.file.fields import Spec, field, keyed, made_by
from model.file.reader import Reader, clean
from model.tables.own import check_table
from model.tables.own_table import (
    MOST_A,
    MOST_HEADS,
    MOST_ROWS,
    SORTS,
    Cell,
    TableMistake,
)

PLACE = Spec(
    made_by(Place),
    Place("", "", x=float("nan"), y=float("nan")),
    field("id", ID),
    field("part", ID),
    field("x", COORDINATE),
    field("y", COORDINATE),
    field("turn", choice(0, 90, 180, 270)),
    field("mirrored", FLAG),
    field("shows", NAMES),
    field("pinned", FLAG),
    required=("id", "part"),
)
ROUTE = Spec(
    made_by(Route),
    Route(""),
    field("wire", ID),
    field("bends", listed(pair(COORDINATE, COORDINATE))),
    required=("wire",),
)
SHEET = Spec(
    made_by(Sheet),
    Sheet(""),
    field("id", ID),
    field("name", NAME),
    field("places", keyed(PLACE, "id")),
    field("routes", keyed(ROUTE, "wire")),
    required=("id",),
    keeps=True,
)
BRANCH = Spec(
    made_by(Branch),
    Branch(""),
    field("id", ID),
    field("name", NAME),
    field("start", NAME),
    field("end", NAME),
    field("m", LENGTH, "length_m"),
    field("zone_c", TEMPERATURE),
    field("wet", FLAG),
    field("shaking", FLAG),
    field("cover", NAME),
    field("note", NOTE),
    field("zone", NAME),
    required=("id",),
    keeps=True,
)
ZONE = Spec(
    made_by(Zone),
    Zone(""),
    field("id", ID),
    field("name", NAME),
    field("c", TEMPERATURE, "temperature_c"),
    field("note", NOTE),
    required=("id",),
    keeps=True,
)
CABLE = Spec(
    made_by(Cable),
    Cable(""),
    field("id", ID),
    field("name", NAME),
    field("sheath", NAME),
    field("screened", FLAG),
    field("note", NOTE),
    required=("id",),
    keeps=True,
)
ACCEPTED = Spec(
    lambda _, values: Acceptance(**({"rule": ""} | values)),
    Acceptance("", ""),
    field("id", ID),
    field("rule", NAME),
    field("parts", NAMES),
    field("wires", NAMES),
    field("reason", NOTE),
    field("by", NAME),
    field("date", NAME),
    required=("id",),
    keeps=True,
)
PROMISE = Spec(
    made_by(PromiseText),
    PromiseText(""),
    field("id", ID),
    field("text", NOTE),
    field("faults", FLAG),
    required=("id",),
    keeps=True,
)


def _read_cell(reader: Reader, raw: Any) -> Cell:
    if raw is None:
        return None
    if isinstance(raw, str):
        return str(NAME.read(reader, raw))
    return float(_NUMBER.read(reader, raw))


def _write_cell(cell: Cell) -> Any:
    if isinstance(cell, float | int):
        return plain_number(cell)
    return None if cell is None else clean(cell)


def _own_table(reader: Reader, values: dict[str, Any]) -> OwnTable:
    """Build a table of the user's own; what cannot be right in it is refused with its row."""
    table = OwnTable(**values)
    try:
        check_table(table)
    except TableMistake as error:
        at = f"row {error.row} of the table" if error.row else "the table"
        raise reader.wrong(f"{at} “{table.id}” cannot be: {error}", "correct it") from error
    return table


_NUMBER = number(-1e9, 1e9)
CELL = Codec(_read_cell, _write_cell)
OWN_TABLE = Spec(
    _own_table,
    OwnTable(""),
    field("id", ID),
    field("sort", choice(*SORTS)),
    field("title", NAME),
    field("source", NAME),
    field("edition", NAME),
    field("conditions", NOTE),
    field("ambient_c", TEMPERATURE),
    field("from_a", number(0, MOST_A, "amperes")),
    field("to_a", number(0, MOST_A, "amperes")),
    field("heads", listed(NAME, MOST_HEADS)),
    field("rows", listed(listed(CELL, MOST_HEADS), MOST_ROWS)),
    required=("id",),
    keeps=True,
)
