"""Which tables there are to choose from, and what to print of the one that was used."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from model.tables import ampacity, bundles, copper
from model.tables.store import Standing, Table, find, weaker


@dataclass(frozen=True, slots=True)
class Entry:
    """What a reader must know of a table: its id, title, source, standing and conditions."""

    id: str
    title: str
    source: str
    standing: Standing
    conditions: str


def table_ids(kind: str) -> tuple[str, ...]:
    """Return the ids of the kind ``copper``, ``ampacity`` or ``bundles``."""
    return tuple(entry.id for entry in entries(kind))


def describe(kind: str, table_id: str) -> Entry:
    """Return what to print of one table; raises `UnknownNameError` naming those there are."""
    return find(entries(kind), table_id, f"{kind} table")


def entries(kind: str) -> tuple[Entry, ...]:
    """Return every table of a kind, what selects among others first."""
    return find(_KINDS, kind, "kind of table").entries()


def _plain(table: Table) -> Entry:
    return Entry(table.id, table.title, table.source, table.standing, table.conditions)


def _bundles() -> tuple[Entry, ...]:
    return tuple(_plain(table) for table in bundles.bundle_file().tables)


def _copper() -> tuple[Entry, ...]:
    data = copper.copper_file()
    plain = tuple(_plain(table) for table in data.tables)
    return tuple(_joined(s.id, s.title, (*s.mm2, *s.awg), plain) for s in data.selections) + plain


def _ampacity() -> tuple[Entry, ...]:
    data = ampacity.ampacity_file()
    plain = tuple(
        _column(table, column, len(table.columns))
        for table in data.tables
        for column in table.columns
    )
    return (
        tuple(
            _joined(s.id, s.title, tuple(share.table for share in (*s.mm2, *s.awg)), plain)
            for s in data.selections
        )
        + plain
    )


def _column(table: ampacity.AmpacityTable, column: ampacity.Column, columns: int) -> Entry:
    title = table.title if columns == 1 else f"{table.title}, {column.t_max_c:g} °C insulation"
    return Entry(column.id, title, table.source, table.standing, table.conditions)


def _joined(table_id: str, title: str, ids: tuple[str, ...], plain: tuple[Entry, ...]) -> Entry:
    parts = [entry for entry in plain if entry.id in ids]
    standing = parts[0].standing
    for part in parts:
        standing = weaker(standing, part.standing)
    source = "; ".join(dict.fromkeys(part.source for part in parts))
    conditions = "; ".join(dict.fromkeys(part.conditions for part in parts))
    return Entry(table_id, title, source, standing, conditions)


@dataclass(frozen=True, slots=True)
class _Kind:
    id: str
    entries: Callable[[], tuple[Entry, ...]]


_KINDS = (_Kind("copper", _copper), _Kind("ampacity", _ampacity), _Kind("bundles", _bundles))
