"""What parts and wires rest on of a circuit's own tables, taken along into another circuit.

The rows of their types, the bands of their fuses and the figures of their insulation travel with
them. What the other circuit has alike is used; a row that means something else there is not
overwritten: the part keeps its ratings as its own, and a band comes under a name of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from model.circuit import Circuit, OwnTable, Part, Wire
from model.editing.draft import Draft
from model.lookup import fresh_id, kind_of
from model.tables.own import Cell, type_ratings

NAMED = ("types", "insulation")
"""Sorts of tables whose rows are asked for by name."""


def used_tables(
    circuit: Circuit, parts: Iterable[Part], wires: Iterable[Wire]
) -> dict[str, OwnTable]:
    """Return the circuit's own tables that these rest on, with no more rows than they need."""
    if not circuit.own_tables:
        return {}
    held = list(parts)
    names = {
        "types": {p.type for p in held if p.type},
        "insulation": {w.insulation for w in wires if w.insulation},
    }
    bands = {p.ratings.get("band") for p in held}
    found: dict[str, OwnTable] = {}
    for key, table in circuit.own_tables.items():
        if table.sort in NAMED:
            rows = tuple(r for r in table.rows if _name(r) in names[table.sort])
            if rows:
                found[key] = replace(table, rows=rows)
        elif table.sort == "fuse-band" and key in bands:
            found[key] = table
    return found


class Brought:
    """The tables of a fragment put into a draft, and what becomes of parts that rest on them.

    Parameters
    ----------
    draft
        Where they go.
    made
        The fragment.
    """

    def __init__(self, draft: Draft, made: Circuit) -> None:
        self._draft, self._made = draft, made
        self._bands: dict[str, str] = {}
        self._others: dict[str, Mapping[str, float | str]] = {}
        for table in made.own_tables.values():
            if table.sort in NAMED:
                self._rows(table)
            elif table.sort == "fuse-band":
                self._band(table)

    def part(self, part: Part) -> Part:
        """Return a part of the fragment as it is to be in the draft."""
        ratings = dict(part.ratings)
        band = ratings.get("band")
        if isinstance(band, str):
            ratings["band"] = self._bands.get(band, band)
        if part.type not in self._others:
            return part if ratings == part.ratings else replace(part, ratings=ratings)
        known = kind_of(self._made, part).specs
        own = {k: v for k, v in self._others[part.type].items() if k in known}
        return replace(part, type="", ratings={**own, **ratings})

    def _rows(self, table: OwnTable) -> None:
        """Take the rows that are not there; tell of those that mean something else there."""
        missing = []
        for row in table.rows:
            name, there = _name(row), self._there(table.sort, _name(row))
            if there is None:
                missing.append(row)
            elif there != _facts(table, row):
                self._otherwise(table, name)
        if missing:
            self._add(replace(table, rows=tuple(missing)))

    def _otherwise(self, table: OwnTable, name: str) -> None:
        """Keep what a name stood for, and tell it."""
        if table.sort == "types":
            self._others[name] = type_ratings(table)[name]
            said = "its parts keep their ratings as their own"
        else:
            said = "the wires have that of this circuit now"
        self._draft.notes.append(f"{name} is something else in this circuit: {said}.")

    def _there(self, sort: str, name: str) -> dict[str, Cell] | None:
        """Return what the draft knows by a name, None where nothing."""
        for table in self._draft.own_tables.values():
            if table.sort == sort:
                for row in table.rows:
                    if _name(row) == name:
                        return _facts(table, row)
        return None

    def _add(self, table: OwnTable) -> None:
        """Add rows to the same table of the draft, or as a table of a free id."""
        known = self._draft.own_tables
        old = known.get(table.id)
        if old is not None and replace(old, rows=table.rows).facts == table.facts:
            known[table.id] = replace(old, rows=(*old.rows, *table.rows))
            return
        key = table.id if old is None else fresh_id(known, f"{table.id}-")
        known[key] = replace(table, id=key)

    def _band(self, table: OwnTable) -> None:
        """Take a band, under another name where its own stands for another one."""
        known = self._draft.own_tables
        for key, other in known.items():
            if replace(other, id=table.id).facts == table.facts:
                self._bands[table.id] = key
                return
        key = table.id if table.id not in known else fresh_id(known, f"{table.id}-")
        known[key] = replace(table, id=key)
        self._bands[table.id] = key
        if key != table.id:
            said = f"{table.id} is something else in this circuit: it came as {key}."
            self._draft.notes.append(said)


def _name(row: tuple[Cell, ...]) -> str:
    """Return the name of a row."""
    return f"{row[0]:g}" if isinstance(row[0], float | int) else str(row[0])


def _facts(table: OwnTable, row: tuple[Cell, ...]) -> dict[str, Cell]:
    """Return what a row says by its heads, empty cells left out."""
    return dict(_told(table.heads, row))


def _told(heads: tuple[str, ...], row: tuple[Cell, ...]) -> Iterator[tuple[str, Cell]]:
    yield from ((h, c) for h, c in zip(heads[1:], row[1:], strict=True) if c is not None)
