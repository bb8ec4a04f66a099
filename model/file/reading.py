"""From the text of a file to a circuit, all of it or nothing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from model.circuit import TABLES, Circuit
from model.file.errors import FileError
from model.file.fields import Spec
from model.file.heads import HEAD
from model.file.links import check_links
from model.file.own import OWN_KIND
from model.file.part_fields import PART
from model.file.reader import NOUNS, Reader, shown
from model.file.records import ACCEPTED, BRANCH, CABLE, OWN_TABLE, PROMISE, SHEET, ZONE
from model.file.tree import parse
from model.file.wire_fields import WIRE

VERSION = 1
MAX_RECORDS = 100_000
SPECS: dict[str, Spec] = {
    "parts": PART,
    "wires": WIRE,
    "sheets": SHEET,
    "branches": BRANCH,
    "cables": CABLE,
    "own_kinds": OWN_KIND,
    "accepted": ACCEPTED,
    "promises": PROMISE,
    "zones": ZONE,
    "own_tables": OWN_TABLE,
}


@dataclass(frozen=True, slots=True)
class Loaded:
    """A circuit read, what its reader should know, and whether it may be written back.

    `read_only` is set for a file of a later version, of which this program does not understand
    everything.
    """

    circuit: Circuit
    warnings: tuple[str, ...] = ()
    read_only: bool = False


def loads(text: str, name: str = "") -> Loaded:
    """Read a circuit from the text of a file.

    Parameters
    ----------
    text : str
        The JSON described in `model.file`; a byte order mark in front is passed over.
    name : str
        What to call the file in sentences.

    Raises
    ------
    FileError
        One sentence: what is wrong, where, what to do. Nothing is half loaded.
    """
    reader = Reader(text.removeprefix("\ufeff"), name or "The circuit")
    raw = parse(reader.text, reader.name)
    reader.later = _version(reader, raw) > VERSION
    head = {k: v for k, v in raw.items() if k not in TABLES and k != "voltwalk"}
    settings = HEAD.read(reader, head)
    tables = {table: _table(reader, table, raw.get(table, [])) for table in TABLES}
    circuit = check_links(reader, Circuit(settings=settings, **tables), raw)
    return Loaded(circuit, reader.warnings, reader.later)


def _version(reader: Reader, raw: Any) -> int:
    """Return the version of the file; warn of a later one."""
    if not isinstance(raw, dict) or "voltwalk" not in raw:
        raise FileError(
            f'{reader.name}: this is no circuit file, it does not start with {{"voltwalk": 1; '
            "open a file with the ending .voltwalk."
        )
    version = raw["voltwalk"]
    reader.path.append("voltwalk")
    if isinstance(version, bool) or not isinstance(version, int) or version < 1:
        raise reader.wrong_value(version, f"write the version of the format, {VERSION}")
    if version > VERSION:
        reader.warn(
            f"the file has version {shown(version)} of the format and this program knows {VERSION}",
            "it is opened read-only, with what is understood",
        )
    reader.path.pop()
    return version


def _table(reader: Reader, table: str, raw: Any) -> dict[str, Any]:
    """Return the records of one table by id."""
    reader.path.append(table)
    if not isinstance(raw, list):
        raise reader.wrong_value(raw, "write a list in [ ]")
    if len(raw) > MAX_RECORDS:
        raise reader.wrong(
            f"there are {len(raw):,} {table}, and {MAX_RECORDS:,} are the limit",
            "split the circuit into several",
        )
    made: dict[str, Any] = {}
    for index, item in enumerate(raw):
        _record(reader, table, index, item, made)
    reader.path.pop()
    return made


def _record(reader: Reader, table: str, index: int, raw: Any, made: dict[str, Any]) -> None:
    """Read one record into the table."""
    reader.path.append(index)
    reader.raw = raw
    try:
        record = SPECS[table].read(reader, raw)
        if record.id in made:
            raise reader.wrong(
                f"the id “{record.id}” is taken by another {NOUNS[table]}",
                "give one of the two another id",
            )
        made[record.id] = record
    except FileError as error:
        if not reader.later:
            raise
        reader.leave_out(error, (2, 0))
    reader.path.pop()
