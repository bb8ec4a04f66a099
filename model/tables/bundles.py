"""How much less a wire carries among others in one bundle."""

from __future__ import annotations

from dataclasses import dataclass

from model.errors import QuantityError
from model.tables.store import Table, find, read


@dataclass(frozen=True, slots=True, kw_only=True)
class BundleRow:
    """The factor for a number of wires."""

    wires_from: int
    wires_to: int
    factor: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BundleTable(Table):
    """Factors by the number of loaded wires."""

    rows: tuple[BundleRow, ...]


@dataclass(frozen=True, slots=True)
class BundleFile:
    """Everything in ``bundles.json``."""

    tables: tuple[BundleTable, ...]


def bundle_file() -> BundleFile:
    """Return all bundle tables."""
    return read("bundles", BundleFile)


NONE = "none"
"""What is chosen where bundles are not to count."""


def bundle_table_ids() -> tuple[str, ...]:
    """Return the ids that may be chosen, `NONE` last."""
    return (*(table.id for table in bundle_file().tables), NONE)


def bundle_table(table_id: str) -> BundleTable:
    """Return one table; raises `UnknownNameError` naming those there are."""
    return find(bundle_file().tables, table_id, "bundle table")


def bundle_factor(table_id: str, wires: int, own: tuple[BundleTable, ...] = ()) -> float | None:
    """Return the share of its current a wire keeps in a bundle of ``wires`` loaded wires.

    None above the largest number of the table: unknown, never guessed. 1 for the table `NONE`.
    Tables of the user's, `own`, are looked through first.
    """
    if table_id == NONE:
        return 1.0
    if wires < 1:
        raise QuantityError("A bundle has at least one wire.")
    table = next((t for t in own if t.id == table_id), None) or bundle_table(table_id)
    for row in table.rows:
        if row.wires_from <= wires <= row.wires_to:
            return row.factor
    return None
