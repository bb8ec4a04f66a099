"""Changes: one object for one act, applied and reverted, holding ids and copies of values.

A change is a label and a list of swaps; a swap replaces one record (or inserts or removes it) and
remembers both sides and the place in the table, so that reverting restores the file byte for
byte. The functions of `model.edits` make them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from model.circuit import TABLES, Circuit, Settings
from model.errors import DuplicateIdError, StructureError


@dataclass(frozen=True, slots=True)
class Swap:
    """Replace the record `key` of `table`: `old` None inserts at `index`, `new` None removes.

    `table` "settings" swaps the settings as a whole; its key is "".
    """

    table: str
    key: str
    old: Any
    new: Any
    index: int = -1

    def reversed(self) -> Swap:
        """Return the swap that undoes this one."""
        return Swap(self.table, self.key, self.new, self.old, self.index)


@dataclass(frozen=True, slots=True)
class Change:
    """One act of a person: a label for the undo list and the swaps it consists of."""

    label: str
    swaps: tuple[Swap, ...]

    def apply(self, circuit: Circuit) -> Circuit:
        """Return the circuit with the change made.

        Raises
        ------
        StructureError
            When the circuit is not in the state the change was made for.
        """
        return _swapped(circuit, self.swaps)

    def revert(self, circuit: Circuit) -> Circuit:
        """Return the circuit as it was before the change."""
        return _swapped(circuit, reverted(self.swaps))

    @property
    def touched(self) -> frozenset[tuple[str, str]]:
        """Every (table, id) the change concerns."""
        return frozenset((s.table, s.key) for s in self.swaps)

    def then(self, other: Change, label: str = "") -> Change:
        """Return both changes as one act."""
        return Change(label or self.label, self.swaps + other.swaps)


def reverted(swaps: tuple[Swap, ...]) -> tuple[Swap, ...]:
    """Return the swaps that take these back."""
    return tuple(s.reversed() for s in reversed(swaps))


def swapped_in(table: Mapping[str, Any], swaps: Iterable[Swap]) -> dict[str, Any]:
    """Return a table of records with swaps made in it.

    Raises
    ------
    StructureError
        When a record is not what its swap remembers.
    """
    made = dict(table)
    for swap in swaps:
        made = _swap_in(made, swap)
    return made


def _swapped(circuit: Circuit, swaps: tuple[Swap, ...]) -> Circuit:
    """Return the circuit after the swaps, copying each touched table once."""
    tables: dict[str, dict[str, Any]] = {}
    settings: Settings = circuit.settings
    for swap in swaps:
        if swap.table == "settings":
            _expect(settings == swap.old, swap)
            settings = swap.new
            continue
        if swap.table not in TABLES:
            raise StructureError(f"A circuit has no table “{swap.table}”.")
        if swap.table not in tables:
            tables[swap.table] = dict(getattr(circuit, swap.table))
        tables[swap.table] = _swap_in(tables[swap.table], swap)
    return replace(circuit, settings=settings, **tables)


def _swap_in(table: dict[str, Any], swap: Swap) -> dict[str, Any]:
    """Return the table with one swap made."""
    if swap.old is None:
        if swap.key in table:
            raise DuplicateIdError(f"The id “{swap.key}” is taken in {swap.table}.")
        return _inserted(table, swap)
    _expect(table.get(swap.key) == swap.old, swap)
    if swap.new is None:
        del table[swap.key]
    else:
        table[swap.key] = swap.new
    return table


def _inserted(table: dict[str, Any], swap: Swap) -> dict[str, Any]:
    """Return the table with a record at the swap's index (-1 or past the end: last)."""
    if swap.index < 0 or swap.index >= len(table):
        table[swap.key] = swap.new
        return table
    items = list(table.items())
    items.insert(swap.index, (swap.key, swap.new))
    return dict(items)


def _expect(holds: bool, swap: Swap) -> None:
    """Raise when the record is not what the change remembers."""
    if not holds:
        raise StructureError(
            f"The change does not fit: “{swap.key}” in {swap.table} is not what it was."
        )


def index_of(table: Mapping[str, Any], key: str) -> int:
    """Return the place of a key in its table."""
    return list(table).index(key)
