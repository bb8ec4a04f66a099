"""A circuit being worked on, and the one change that leads to it.

An act writes into the tables of a draft as it likes; `Draft.done` compares them with the circuit
it started from and returns the swaps, so that reverting restores the file byte for byte.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from model.changes import Change, Swap
from model.circuit import (
    TABLES,
    Branch,
    Cable,
    Circuit,
    End,
    OwnKind,
    Part,
    Place,
    Sheet,
    Wire,
)
from model.editing.errors import EditError
from model.edits import remove, set_settings
from model.kinds import Body
from model.layout.geometry import snap
from model.lookup import body_of, label, next_reference, next_wire_number, wire_label

FARTHEST = 1_000_000
"""The largest coordinate that a file takes, in scene units."""


@dataclass(frozen=True, slots=True)
class Edit:
    """What an act comes to.

    Attributes
    ----------
    change
        The change, unapplied; without swaps when there is nothing to do.
    ids
        Parts and wires to select afterwards.
    notes
        Sentences on what else happened: ends cut open, parts moved aside.
    """

    change: Change
    ids: frozenset[str] = frozenset()
    notes: tuple[str, ...] = ()


class Draft:
    """The tables of a circuit, open for writing until `done`."""

    def __init__(self, circuit: Circuit) -> None:
        self.before = circuit
        self.settings = circuit.settings
        self.notes: list[str] = []
        self.load(circuit)

    def load(self, circuit: Circuit) -> None:
        """Go on from another circuit that was made from the one started with."""
        self.parts: dict[str, Part] = dict(circuit.parts)
        self.wires: dict[str, Wire] = dict(circuit.wires)
        self.sheets: dict[str, Sheet] = dict(circuit.sheets)
        self.branches: dict[str, Branch] = dict(circuit.branches)
        self.cables: dict[str, Cable] = dict(circuit.cables)
        self.own_kinds: dict[str, OwnKind] = dict(circuit.own_kinds)
        self.accepted = dict(circuit.accepted)
        self.promises = dict(circuit.promises)
        self.zones = dict(circuit.zones)
        self.own_tables = dict(circuit.own_tables)
        self.settings = circuit.settings
        self._used: dict[str, int] = {}

    @property
    def circuit(self) -> Circuit:
        """The circuit as it stands now."""
        tables: dict[str, Any] = {t: dict(getattr(self, t)) for t in TABLES}
        return Circuit(settings=self.settings, **tables)

    def apply(self, change: Change) -> None:
        """Make a change within the draft."""
        self.load(change.apply(self.circuit))

    def done(self, text: str, ids: Iterable[str] = ()) -> Edit:
        """Return what the draft comes to."""
        change = change_between(self.before, self.circuit, text)
        kept = frozenset(i for i in ids if i in self.parts or i in self.wires)
        return Edit(change, kept, tuple(dict.fromkeys(self.notes)))

    def opened(self) -> str:
        """Return the tail of a label that names the wires which lost an end: "; W3, W4 open"."""
        found = []
        for key, wire in self.wires.items():
            old = self.before.wires.get(key, wire)
            if (old.first and not wire.first) or (old.second and not wire.second):
                found.append(wire_label(wire))
        return f"; {listed(found)} open" if found else ""

    def body(self, part: Part) -> Body:
        """Return what a part of the draft is made of inside."""
        return body_of(Circuit(own_kinds=self.own_kinds), part)

    def has(self, end: End) -> bool:
        """Tell whether the file would take a wire that ends there."""
        part = self.parts.get(end.part)
        return part is not None and end.node[1] in {t.node for t in self.body(part).terminals}

    def fresh(self, prefix: str) -> str:
        """Return the next id for a part, wire or record of the harness; none is given twice."""
        if prefix not in self._used:
            pattern = re.compile(re.escape(prefix) + r"(\d{1,15})\Z")
            tables = (self.parts, self.wires, self.cables, self.branches, self.zones)
            found = (pattern.match(key) for table in tables for key in table)
            self._used[prefix] = max((int(m[1]) for m in found if m), default=0)
        self._used[prefix] += 1
        return f"{prefix}{self._used[prefix]}"

    def reference(self, letter: str) -> str:
        """Return the next free reference of a letter."""
        return next_reference(Circuit(self.parts), letter)

    def number(self) -> str:
        """Return the next free wire number."""
        return next_wire_number(Circuit(wires=self.wires))

    def put_places(self, shown: Sheet, places: Iterable[Place]) -> None:
        """Put places on a sheet; those that the layout made for the others are kept with them."""
        new = {p.id: replace(p, x=within(p.x), y=within(p.y)) for p in places}
        if not new:
            return
        held = self.sheets.get(shown.id)
        base = held if held is not None else replace(shown, places={})
        auto = {k: p for k, p in shown.places.items() if p.part in self.parts}
        self.sheets[shown.id] = replace(base, places={**auto, **base.places, **new})

    def without_routes(self, wires: Iterable[str]) -> None:
        """Forget the kept ways of wires on every sheet."""
        gone = set(wires)
        for sheet in list(self.sheets.values()):
            if gone & sheet.routes.keys():
                kept = {k: r for k, r in sheet.routes.items() if k not in gone}
                self.sheets[sheet.id] = replace(sheet, routes=kept)


def within(value: float) -> float:
    """Return a coordinate that a file takes."""
    return max(-FARTHEST, min(FARTHEST, float(value)))


def on_grid(value: float) -> float:
    """Return the nearest coordinate on the grid."""
    return within(snap(value))


def change_between(before: Circuit, after: Circuit, text: str) -> Change:
    """Return the change from one circuit to another that keeps the order of what both have."""
    swaps: list[Swap] = []
    for table in ("own_kinds", *(t for t in TABLES if t != "own_kinds")):
        swaps += _table_swaps(before, getattr(before, table), getattr(after, table), table)
    if before.settings != after.settings:
        swaps += set_settings(before, after.settings, text).swaps
    return Change(text, tuple(swaps))


def _table_swaps(
    before: Circuit, old: Mapping[str, Any], new: Mapping[str, Any], table: str
) -> Iterator[Swap]:
    """Yield removals from the end, replacements, then insertions from the start."""
    if gone := [k for k in old if k not in new]:
        yield from remove(before, table, gone, "").swaps
    for index, (key, record) in enumerate(new.items()):
        if key in old and record is not old[key] and record != old[key]:
            yield Swap(table, key, old[key], record, index)
        elif key not in old:
            yield Swap(table, key, None, record, index)


def listed(names: Iterable[str], most: int = 3) -> str:
    """Return names in a row, the first few of many."""
    every = list(names)
    return ", ".join(every[:most]) + (" …" if len(every) > most else "")


def named(circuit: Circuit | Draft, ids: Iterable[str]) -> str:
    """Return what people call some parts, or wires where no part is among them."""
    keys = list(ids)
    parts = [label(circuit.parts[k]) for k in keys if k in circuit.parts]
    return listed(parts or [wire_label(circuit.wires[k]) for k in keys if k in circuit.wires])


def part_at(circuit: Circuit | Draft, key: str) -> Part:
    """Return a part.

    Raises
    ------
    EditError
        There is none of that id.
    """
    part = circuit.parts.get(key)
    if part is None:
        raise EditError(f"There is no part “{key}” in this circuit; select one that is there.")
    return part


def wire_at(circuit: Circuit | Draft, key: str) -> Wire:
    """Return a wire.

    Raises
    ------
    EditError
        There is none of that id.
    """
    wire = circuit.wires.get(key)
    if wire is None:
        raise EditError(f"There is no wire “{key}” in this circuit; select one that is there.")
    return wire
