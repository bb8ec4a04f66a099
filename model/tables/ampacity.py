"""How many amperes a wire may carry for ever, from a named table, in a zone of a temperature."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from model.errors import QuantityError
from model.tables.store import SizeRow, Standing, Table, find, read, weaker
from model.wiresize import Size

DEFAULT_TABLE = "vehicle"
SAME_AREA = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class AmpacityRow(SizeRow):
    """Amperes of one size, one value a column."""

    a: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column of a table: an insulation class.

    ``engine_space`` is the standard's own factor for engine spaces, where it has one.
    """

    id: str
    t_max_c: float
    engine_space: float | None = None
    engine_space_standing: Standing | None = None
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AmpacityTable(Table):
    """A table of continuous current by size, for an ambient of `base_c`."""

    columns: tuple[Column, ...]
    rows: tuple[AmpacityRow, ...]
    base_c: float = 30.0


@dataclass(frozen=True, slots=True)
class Share:
    """A column used for sizes up to a limit, or without one."""

    table: str
    up_to_mm2: float = math.inf


@dataclass(frozen=True, slots=True)
class AmpacitySelection:
    """Which column answers for which sizes."""

    id: str
    title: str
    mm2: tuple[Share, ...]
    awg: tuple[Share, ...]


@dataclass(frozen=True, slots=True)
class Correction:
    """The rule for an ambient other than the table's."""

    base_c: float
    formula: str
    standing: Standing
    source: str


@dataclass(frozen=True, slots=True)
class AmpacityFile:
    """Everything in ``ampacity.json``."""

    correction: Correction
    selections: tuple[AmpacitySelection, ...]
    tables: tuple[AmpacityTable, ...]


@dataclass(frozen=True, slots=True)
class Ampacity:
    """What a wire may carry and why.

    Attributes
    ----------
    value_a : float or None
        Amperes in the zone; None where the table does not cover the size.
    table : str
        Id of the column used, such as ``33cfr-105``.
    row : str
        The size whose row was used; empty where none was.
    factor : float
        What the table's figure was multiplied by for the zone.
    t_max_c : float
        Temperature the insulation stands, which the table's figure leads to.
    source : str
        The table's source.
    standing : Standing
        How well the figure is known.
    base_c : float
        The ambient the table itself is for.
    """

    value_a: float | None
    table: str
    row: str
    factor: float
    t_max_c: float
    source: str
    standing: Standing
    base_c: float


def ampacity_file() -> AmpacityFile:
    """Return all ampacity tables."""
    return read("ampacity", AmpacityFile)


def ampacity_table_ids() -> tuple[str, ...]:
    """Return every id that `ampacity` takes, the selections first."""
    data = ampacity_file()
    columns = (column.id for table in data.tables for column in table.columns)
    return tuple(s.id for s in data.selections) + tuple(columns)


def ambient_factor(t_max_c: float, zone_c: float, base_c: float = 30.0) -> float:
    """Return the share of a rating at `base_c` that is left at another ambient.

    √((T_max − θ)/(T_max − base)); never above 1, and 0 from T_max up.
    """
    if not math.isfinite(zone_c):
        raise QuantityError("The temperature of a zone must be a number of °C.")
    if zone_c <= base_c:
        return 1.0
    return math.sqrt(max(t_max_c - zone_c, 0.0) / (t_max_c - base_c))


def ampacity(
    size: Size,
    table_id: str = DEFAULT_TABLE,
    zone_c: float = 30.0,
    *,
    engine_space: bool = False,
    own: tuple[AmpacityTable, ...] = (),
) -> Ampacity:
    """Return the continuous current a size may carry.

    Parameters
    ----------
    size : Size
        The wire's size. Between two rows the smaller one counts.
    table_id : str
        A column such as ``33cfr-105`` or a selection; ``vehicle`` takes the thin-wall table up
        to 10 mm² and the 105 °C column of 33 CFR 183.425 above it and for AWG.
    zone_c : float
        Temperature around the wire.
    engine_space : bool
        Use the standard's own engine-space factor in place of the formula, where it has one.
    own : tuple of AmpacityTable
        Tables of the user's, which are looked through first.

    Returns
    -------
    Ampacity
        With None for a size below the first row or above the last: unknown, never guessed.
    """
    return _looked_up(size, table_id, float(zone_c), engine_space, own)


@lru_cache(maxsize=4096)
def _looked_up(
    size: Size,
    table_id: str,
    zone_c: float,
    engine_space: bool,
    own: tuple[AmpacityTable, ...],
) -> Ampacity:
    table, index = _column(_chosen(size, table_id), own)
    column = table.columns[index]
    factor, standing = _factor(column, zone_c, table.base_c, engine_space)
    standing = weaker(table.standing, standing)
    row = _row(table, size)
    if row is not None:
        standing = weaker(row.standing or standing, standing)
    return Ampacity(
        row.a[index] * factor if row else None,
        column.id,
        row.size.text() if row else "",
        factor,
        column.t_max_c,
        table.source,
        standing,
        table.base_c,
    )


def _factor(
    column: Column, zone_c: float, base_c: float, engine_space: bool
) -> tuple[float, Standing | None]:
    if engine_space and column.engine_space is not None:
        return column.engine_space, column.engine_space_standing
    factor = ambient_factor(column.t_max_c, zone_c, base_c)
    return factor, None if factor == 1.0 else ampacity_file().correction.standing


def _chosen(size: Size, table_id: str) -> str:
    for selection in ampacity_file().selections:
        if selection.id == table_id:
            shares = selection.mm2 if size.awg is None else selection.awg
            return next(s.table for s in shares if size.area_mm2 <= s.up_to_mm2 + SAME_AREA)
    return table_id


def _column(column_id: str, own: tuple[AmpacityTable, ...] = ()) -> tuple[AmpacityTable, int]:
    places = list(_places(own))
    column = find((column for _, _, column in places), column_id, "ampacity table")
    return next((table, index) for table, index, at in places if at is column)


def _places(own: tuple[AmpacityTable, ...]) -> Iterator[tuple[AmpacityTable, int, Column]]:
    for table in (*own, *ampacity_file().tables):
        for index, column in enumerate(table.columns):
            yield table, index, column


def _row(table: AmpacityTable, size: Size) -> AmpacityRow | None:
    rows = sorted(table.rows, key=lambda row: row.size.area_mm2)
    if size.area_mm2 > rows[-1].size.area_mm2 + SAME_AREA:
        return None
    held = [row for row in rows if row.size.area_mm2 <= size.area_mm2 + SAME_AREA]
    return held[-1] if held else None
