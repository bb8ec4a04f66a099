"""The resistance of copper wire by its size, from a named table, at a temperature."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from model.errors import QuantityError
from model.tables.store import SizeRow, Standing, Table, find, read
from model.wiresize import Size

DEFAULT_TABLE = "vehicle"
SAME_AREA = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class CopperRow(SizeRow):
    """The resistance of one size."""

    milliohm_per_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CopperTable(Table):
    """A table of conductor resistance, or a formula where it has no rows."""

    rows: tuple[CopperRow, ...]
    formula_factor: float | None = None


@dataclass(frozen=True, slots=True)
class CopperSelection:
    """Which table answers for which way of naming a size; the first that covers it does."""

    id: str
    title: str
    mm2: tuple[str, ...]
    awg: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Resistivity:
    """The constants of annealed copper at 20 °C: Ω·mm²/m and 1/K."""

    ohm_mm2_per_m: float
    alpha_per_k: float
    standing: Standing
    source: str


@dataclass(frozen=True, slots=True)
class CopperFile:
    """Everything in ``copper.json``."""

    resistivity: Resistivity
    selections: tuple[CopperSelection, ...]
    tables: tuple[CopperTable, ...]


@dataclass(frozen=True, slots=True)
class Resistance:
    """A conductor's resistance and where it comes from.

    Attributes
    ----------
    ohm_per_m : float
        Ω/m at the temperature asked for.
    table : str
        Id of the table.
    row : str
        The row or rows used, for people.
    assumed : bool
        True where the table has no row of this size and the value was reckoned.
    standing : Standing
        How well the figure is known.
    """

    ohm_per_m: float
    table: str
    row: str
    assumed: bool
    standing: Standing


def copper_file() -> CopperFile:
    """Return all copper tables."""
    return read("copper", CopperFile)


def copper_table_ids() -> tuple[str, ...]:
    """Return every id that `conductor_ohm_per_m` takes, the selections first."""
    data = copper_file()
    return tuple(s.id for s in data.selections) + tuple(t.id for t in data.tables)


def copper_table(table_id: str) -> CopperTable:
    """Return one table; raises `UnknownNameError` naming those there are."""
    return find(copper_file().tables, table_id, "copper table")


def temperature_factor(temperature_c: float) -> float:
    """Return resistance at this temperature over resistance at 20 °C.

    1 + 0.00393·(T − 20), the coefficient of annealed copper at 20 °C.
    """
    if not -100.0 <= temperature_c <= 400.0:
        raise QuantityError(
            f"{temperature_c:g} °C is outside what the copper figures cover: -100 to 400 °C."
        )
    return 1.0 + copper_file().resistivity.alpha_per_k * (temperature_c - 20.0)


def conductor_ohm_per_m(
    size: Size,
    table_id: str = DEFAULT_TABLE,
    temperature_c: float = 20.0,
    own: tuple[CopperTable, ...] = (),
) -> Resistance:
    """Return the resistance of a metre of wire.

    Parameters
    ----------
    size : Size
        The wire's size.
    table_id : str
        A table or a selection; ``vehicle`` takes ISO 6722 for mm², SAE J1128 for AWG, and the
        stranded-copper formula where neither reaches.
    temperature_c : float
        Temperature of the copper.
    own : tuple of CopperTable
        Tables of the user's own, which are looked through first.

    Returns
    -------
    Resistance
        A size between two rows takes the poorer copper per mm² of its two neighbours, never more
        than the smaller one's resistance, so that a drop is not reckoned too small; beyond the
        ends the nearest row's. Both are marked as assumed.
    """
    mine = next((t for t in own if t.id == table_id), None)
    at_20 = _from_table(size, mine) if mine is not None else _at_20(size, table_id)
    if temperature_c == 20.0:
        return at_20
    factor = temperature_factor(temperature_c)
    return Resistance(
        at_20.ohm_per_m * factor, at_20.table, at_20.row, at_20.assumed, at_20.standing
    )


@lru_cache(maxsize=4096)
def _at_20(size: Size, table_id: str) -> Resistance:
    for selection in copper_file().selections:
        if selection.id == table_id:
            return _select(size, selection)
    return _from_table(size, copper_table(table_id))


def _select(size: Size, selection: CopperSelection) -> Resistance:
    wanted = selection.mm2 if size.awg is None else selection.awg
    for table_id in wanted:
        table = copper_table(table_id)
        if not table.rows or _covers(table, size):
            break
    return _from_table(size, table)


def _covers(table: CopperTable, size: Size) -> bool:
    areas = [row.size.area_mm2 for row in table.rows]
    if size.awg is not None:
        return any(row.awg == size.awg for row in table.rows)
    return min(areas) - SAME_AREA <= size.area_mm2 <= max(areas) + SAME_AREA


def _from_table(size: Size, table: CopperTable) -> Resistance:
    if table.formula_factor is not None:
        return _by_formula(size, table, table.formula_factor)
    for row in table.rows:
        if (row.mm2, row.awg) == (size.mm2, size.awg):
            standing = row.standing or table.standing
            return Resistance(row.milliohm_per_m / 1e3, table.id, size.text(), False, standing)
    return _between(size, table)


def _by_formula(size: Size, table: CopperTable, factor: float) -> Resistance:
    ohm = copper_file().resistivity.ohm_mm2_per_m * factor / size.area_mm2
    return Resistance(ohm, table.id, size.text(), False, table.standing)


def _between(size: Size, table: CopperTable) -> Resistance:
    rows = sorted(table.rows, key=lambda row: row.size.area_mm2)
    below = [row for row in rows if row.size <= size]
    above = [row for row in rows if row.size > size]
    near = below[-1:] + above[:1]
    ohm = max(row.milliohm_per_m / 1e3 * row.size.area_mm2 for row in near) / size.area_mm2
    if below:
        ohm = min(ohm, below[-1].milliohm_per_m / 1e3)
    text = " and ".join(row.size.text() for row in near)
    return Resistance(ohm, table.id, f"reckoned from {text}", True, "derived")
