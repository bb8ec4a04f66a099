"""Resistance of wires, and what insulation stands in a short, from a table of the user's own."""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise
from typing import Any

from model.tables.copper import CopperRow, CopperTable
from model.tables.heating import Insulation
from model.tables.own_table import OwnTable, TableMistake, number, size_of
from model.tables.store import SUPPLIED

OHM_HEADS = ("milliohm_per_m", "ohm_per_km")
"""What the column of resistances may be called; both are the same number."""
LEAST, MOST = 15.0, 60.0
"""mΩ/m times mm²: annealed copper has 17.24 at 20 °C, and nominal sizes differ from the true ones;
aluminium has 28, and what is clad with copper less than that."""
LEAST_K, MOST_K = 30.0, 250.0
"""A·√s/mm²: what any insulation on copper can come to."""


def check_copper(table: OwnTable) -> None:
    """Raise at the first thing in a table of resistances that cannot be right."""
    if len(table.heads) != 2 or table.heads[0] not in ("mm2", "awg") or (
        table.heads[1] not in OHM_HEADS
    ):  # fmt: skip
        raise TableMistake(
            0, "the heads of a copper table are mm2 or awg, then milliohm_per_m or ohm_per_km"
        )
    sizes = [size_of(table, n) for n in range(1, len(table.rows) + 1)]
    ohms = [number(table, n, 1, 1e-4, 1e4) for n in range(1, len(table.rows) + 1)]
    for n, (size, milliohm) in enumerate(zip(sizes, ohms, strict=True), 1):
        least, most = LEAST / size.area_mm2, MOST / size.area_mm2
        if not least <= milliohm <= most:
            raise TableMistake(
                n, f"{size.text()} of copper has {17.24 / size.area_mm2:.3g} mΩ a metre at 20 °C, "
                f"and no cable {milliohm:g}; write one from {least:.3g} to {most:.3g}"
            )  # fmt: skip
    for n, ((thin, more), (thick, less)) in enumerate(pairwise(zip(sizes, ohms, strict=True)), 2):
        if thick <= thin:
            raise TableMistake(n, f"{thick.text()} does not follow {thin.text()}: thin to thick")
        if less > more:
            raise TableMistake(
                n, f"the resistance rises from {more:g} to {less:g} while the wire gets thicker: "
                "one of the two is wrong"
            )  # fmt: skip


def as_copper(table: OwnTable) -> CopperTable:
    """Return a table of resistances in the form of those that ship with the program."""
    return _copper(table.facts)


@lru_cache(maxsize=64)
def _copper(facts: tuple[Any, ...]) -> CopperTable:
    table = OwnTable(*facts)
    rows = []
    for n in range(1, len(table.rows) + 1):
        size = size_of(table, n)
        milliohm = number(table, n, 1, 1e-4, 1e4)
        rows.append(CopperRow(mm2=size.mm2, awg=size.awg, milliohm_per_m=milliohm))
    return CopperTable(
        id=table.id, title=table.title or table.id, source=table.from_where, standing=SUPPLIED,
        conditions=table.conditions, unit="mΩ/m at 20 °C", rows=tuple(rows),
    )  # fmt: skip


def check_insulation(table: OwnTable) -> None:
    """Raise at the first thing in a table of insulations that cannot be right."""
    if table.heads not in (_HEADS, (*_HEADS, "k")):
        raise TableMistake(0, "the heads of an insulation table are insulation, start_c, limit_c "
                              "and, where it is printed, k")  # fmt: skip
    seen: set[str] = set()
    for n in range(1, len(table.rows) + 1):
        made = _insulation(table, n)
        if made.id in seen:
            raise TableMistake(n, f"the insulation “{made.id}” stands twice; keep one of them")
        seen.add(made.id)


_HEADS = ("insulation", "start_c", "limit_c")


def _insulation(table: OwnTable, row: int) -> Insulation:
    """Return the insulation of a row."""
    name = table.rows[row - 1][0]
    name = f"{name:g}" if isinstance(name, float) else name
    if not name:
        raise TableMistake(row, "the insulation has no name")
    start, limit = number(table, row, 1, -60.0, 400.0), number(table, row, 2, 0.0, 1000.0)
    if limit <= start:
        raise TableMistake(row, f"limit_c {limit:g} is not above start_c {start:g}")
    printed = len(table.heads) > 3 and table.rows[row - 1][3] is not None
    k = number(table, row, 3, LEAST_K, MOST_K) if printed else None
    return Insulation(
        id=name, title=name, source=table.from_where, standing=SUPPLIED,
        conditions=table.conditions, start_c=start, limit_c=limit, k=k,
    )  # fmt: skip


def as_insulations(table: OwnTable) -> tuple[Insulation, ...]:
    """Return the insulations of a table in the form of those that ship with the program."""
    return _insulations(table.facts)


@lru_cache(maxsize=64)
def _insulations(facts: tuple[Any, ...]) -> tuple[Insulation, ...]:
    table = OwnTable(*facts)
    return tuple(_insulation(table, n) for n in range(1, len(table.rows) + 1))
