"""A table of the user's own: what it may hold, and whether what stands in it can be true.

A table has a sort, a source, column heads and rows of numbers and words, as it was read from a
CSV file or a circuit. What rules and solver ask is made from it in the forms of the tables that
ship with the program, with the standing “supplied by the user”.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import Any

from model.tables.ampacity import AmpacityRow, AmpacityTable, Column
from model.tables.bundles import BundleRow, BundleTable
from model.tables.fuses import Band, Gate
from model.tables.own_copper import check_copper, check_insulation
from model.tables.own_table import (
    MOST_A,
    MOST_HEADS,
    MOST_ROWS,
    SORTS,
    Cell,
    OwnTable,
    TableMistake,
    number,
    size_of,
)
from model.tables.store import SUPPLIED

__all__ = ["MOST_HEADS", "MOST_ROWS", "SORTS", "Cell", "OwnTable", "TableMistake", "check_table"]


def check_table(table: OwnTable) -> None:
    """Raise at the first thing in a table that cannot be right.

    Raises
    ------
    TableMistake
        The row, what is wrong in it, and what would be right.
    """
    if table.sort not in SORTS:
        raise TableMistake(0, f"“{table.sort}” is no sort of table: {', '.join(SORTS)}")
    if not table.rows:
        raise TableMistake(0, "there are no rows in it; write at least one")
    if len(table.rows) > MOST_ROWS or len(table.heads) > MOST_HEADS:
        raise TableMistake(0, f"it is larger than {MOST_ROWS:,} rows of {MOST_HEADS} columns")
    if len(set(table.heads)) < len(table.heads):
        raise TableMistake(0, "a head stands twice; give each column another")
    for n, row in enumerate(table.rows, 1):
        if len(row) != len(table.heads):
            raise TableMistake(n, f"it has {len(row)} cells and there are {len(table.heads)} heads")
    _CHECKS[table.sort](table)


def _check_ampacity(table: OwnTable) -> None:
    if table.heads[0] not in ("mm2", "awg") or len(table.heads) < 2:
        raise TableMistake(
            0, "the first head is mm2 or awg, then one for each temperature the insulation stands, "
            "such as 105"
        )  # fmt: skip
    classes = [_class_c(head) for head in table.heads[1:]]
    if not -60.0 <= table.ambient_c < min(classes):
        raise TableMistake(
            0, f"the ambient is {table.ambient_c:g} °C, and insulation for {min(classes):g} °C "
            "carries nothing in that"
        )  # fmt: skip
    sizes = [size_of(table, n) for n in range(1, len(table.rows) + 1)]
    for n, (thin, thick) in enumerate(pairwise(sizes), 2):
        if thick <= thin:
            raise TableMistake(n, f"{thick.text()} does not follow {thin.text()}: thin to thick")
    for n in range(1, len(table.rows) + 1):
        amps = [number(table, n, c, 0.01, MOST_A) for c in range(1, len(table.heads))]
        _never_less_when_hotter(n, classes, amps)
        if n > 1:
            _never_less_when_thicker(table, n, amps)


def _class_c(head: str) -> float:
    """Return the temperature an insulation class stands, from the head of its column."""
    text = head.casefold().replace("°", "").removesuffix("c").strip()
    try:
        celsius = float(text)
    except ValueError:
        celsius = math.nan
    if not 40.0 <= celsius <= 300.0:
        raise TableMistake(
            0, f"“{head}” is no temperature of insulation; write one from 40 to 300, such as 105"
        )
    return celsius


def _never_less_when_hotter(row: int, classes: Sequence[float], amps: Sequence[float]) -> None:
    ordered = sorted(zip(classes, amps, strict=True))
    for (cool, less), (hot, more) in pairwise(ordered):
        if more < less:
            raise TableMistake(
                row, f"insulation for {hot:g} °C carries {more:g} A and that for {cool:g} °C "
                f"{less:g} A: one of the two is wrong"
            )  # fmt: skip


def _never_less_when_thicker(table: OwnTable, row: int, amps: Sequence[float]) -> None:
    for column, more in enumerate(amps, 1):
        less = number(table, row - 1, column, 0.01, MOST_A)
        if more < less:
            raise TableMistake(
                row, f"“{table.heads[column]}” falls from {less:g} to {more:g} A while the wire "
                "gets thicker: one of the two is wrong"
            )  # fmt: skip


def _check_band(table: OwnTable) -> None:
    if table.heads != ("percent", "min_s", "max_s"):
        raise TableMistake(0, "the heads of a fuse band are percent, min_s, max_s")
    if not 0.0 <= table.from_a <= table.to_a:
        raise TableMistake(0, f"from_a {table.from_a:g} is above to_a {table.to_a:g}")
    gates = [_gate(table, n) for n in range(1, len(table.rows) + 1)]
    if not any(g.max_s is not None for g in gates):
        raise TableMistake(0, "no row has a max_s: without one the fuse never has to open")
    for n, (slow, fast) in enumerate(pairwise(gates), 2):
        if fast.percent <= slow.percent:
            raise TableMistake(n, f"{fast.percent:g} % does not follow {slow.percent:g} %")
    for n, (first, later) in enumerate(_known_edges(gates), 1):
        if later > first:
            raise TableMistake(
                n, f"a fuse does not take longer ({later:g} s after {first:g} s) at more current"
            )


def _known_edges(gates: Sequence[Gate]) -> Iterator[tuple[float, float]]:
    """Yield, gate by gate, the latest time before on each edge and its own; equal where none."""
    last: dict[str, float] = {}
    for gate in gates:
        worst = (0.0, 0.0)
        for name, at in (("min", gate.min_s), ("max", gate.max_s)):
            if at is not None:
                if at > last.get(name, math.inf):
                    worst = (last[name], at)
                last[name] = at
        yield worst


def _gate(table: OwnTable, row: int) -> Gate:
    percent = number(table, row, 0, 100.0, 100_000.0)
    times = [
        None if table.rows[row - 1][c] is None else number(table, row, c, 0.0, 1e9) for c in (1, 2)
    ]
    low, high = times
    if low is None and high is None:
        raise TableMistake(row, "it has neither min_s nor max_s; write one of them")
    if low is not None and high is not None and low > high:
        raise TableMistake(row, f"min_s {low:g} is above max_s {high:g}")
    return Gate(percent=percent, min_s=low, max_s=high)


def _check_bundle(table: OwnTable) -> None:
    if table.heads != ("wires", "share"):
        raise TableMistake(0, "the heads of a bundle table are wires, share")
    last = (0.0, 1.0)
    for n in range(1, len(table.rows) + 1):
        here = (number(table, n, 0, 1, 10_000), number(table, n, 1, 0.01, 1.0))
        if here[0] <= last[0] or here[0] != int(here[0]):
            raise TableMistake(n, f"{here[0]:g} wires do not follow {last[0]:g}; write them rising")
        if here[1] > last[1]:
            raise TableMistake(n, f"more wires keep a larger share ({here[1]:g} after {last[1]:g})")
        last = here


def _check_types(table: OwnTable) -> None:
    if table.heads[0] != "type" or len(table.heads) < 2:
        raise TableMistake(0, "the first head is type, then ratings such as coil_ohm, contact_a")
    seen: set[str] = set()
    for n, row in enumerate(table.rows, 1):
        name = row[0]
        name = f"{name:g}" if isinstance(name, float) else name
        if not name:
            raise TableMistake(n, "the type has no name")
        if name in seen:
            raise TableMistake(n, f"the type “{name}” stands twice; keep one of them")
        seen.add(name)
        if all(cell is None for cell in row[1:]):
            raise TableMistake(n, f"nothing is known of the type “{name}”; write a rating")


_CHECKS: dict[str, Callable[[OwnTable], None]] = {
    "ampacity": _check_ampacity,
    "copper": check_copper,
    "insulation": check_insulation,
    "fuse-band": _check_band,
    "bundle": _check_bundle,
    "types": _check_types,
}


def column_ids(table: OwnTable) -> tuple[str, ...]:
    """Return the ids that choose the columns of an ampacity table: its own where it has one."""
    if len(table.heads) == 2:
        return (table.id,)
    return tuple(f"{table.id}-{_class_c(h):g}" for h in table.heads[1:])


def as_ampacity(table: OwnTable) -> AmpacityTable:
    """Return an ampacity table in the form of those that ship with the program."""
    return _ampacity(table.facts)


@lru_cache(maxsize=64)
def _ampacity(facts: tuple[Any, ...]) -> AmpacityTable:
    table = OwnTable(*facts)
    rows = []
    for n, row in enumerate(table.rows, 1):
        size = size_of(table, n)
        amps = tuple(float(a) for a in row[1:] if isinstance(a, float | int))
        rows.append(AmpacityRow(mm2=size.mm2, awg=size.awg, a=amps))
    ids = column_ids(table)
    columns = tuple(
        Column(id=i, t_max_c=_class_c(h)) for i, h in zip(ids, table.heads[1:], strict=True)
    )
    return AmpacityTable(
        id=table.id, title=table.title or table.id, source=table.from_where, standing=SUPPLIED,
        conditions=table.conditions, unit="A", columns=columns, rows=tuple(rows),
        base_c=table.ambient_c,
    )  # fmt: skip


def as_band(table: OwnTable) -> Band:
    """Return a fuse's operating-time band in the form of those that ship with the program."""
    return _band(table.facts)


@lru_cache(maxsize=64)
def _band(facts: tuple[Any, ...]) -> Band:
    table = OwnTable(*facts)
    gates = tuple(_gate(table, n) for n in range(1, len(table.rows) + 1))
    return Band(
        id=table.id, title=table.title or table.id, source=table.from_where, standing=SUPPLIED,
        conditions=table.conditions, unit="% of rating, s", gates=gates,
        from_a=table.from_a, to_a=table.to_a,
    )  # fmt: skip


def as_bundle(table: OwnTable) -> BundleTable:
    """Return a bundle table in the form of those that ship with the program."""
    return _bundle(table.facts)


@lru_cache(maxsize=64)
def _bundle(facts: tuple[Any, ...]) -> BundleTable:
    table = OwnTable(*facts)
    rows, first = [], 1
    for n in range(1, len(table.rows) + 1):
        last = int(number(table, n, 0, 1, 10_000))
        share = number(table, n, 1, 0.01, 1.0)
        rows.append(BundleRow(wires_from=first, wires_to=last, factor=share))
        first = last + 1
    return BundleTable(
        id=table.id, title=table.title or table.id, source=table.from_where, standing=SUPPLIED,
        conditions=table.conditions, unit="factor", rows=tuple(rows),
    )  # fmt: skip


def type_ratings(table: OwnTable) -> Mapping[str, Mapping[str, float | str]]:
    """Return the ratings of every type of a table, by its name."""
    return _types(table.facts)


@lru_cache(maxsize=64)
def _types(facts: tuple[Any, ...]) -> dict[str, dict[str, float | str]]:
    table = OwnTable(*facts)
    made = {}
    for row in table.rows:
        name = f"{row[0]:g}" if isinstance(row[0], float | int) else str(row[0])
        cells = zip(table.heads[1:], row[1:], strict=True)
        made[name] = {head: cell for head, cell in cells if cell is not None}
    return made
