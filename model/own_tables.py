"""Which tables a circuit chooses from: those of the program and those of its own."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches

from model.circuit import Circuit
from model.kinds import KINDS
from model.kinds.kind import RatingSpec, Value
from model.tables import bundles, catalog
from model.tables.ampacity import Ampacity, AmpacityTable, ampacity
from model.tables.catalog import Entry
from model.tables.copper import CopperTable
from model.tables.fuses import Band, fuse_file
from model.tables.heating import Insulation, heating_file
from model.tables.own import as_ampacity, as_band, as_bundle, column_ids, type_ratings
from model.tables.own_copper import as_copper, as_insulations
from model.tables.own_table import OwnTable
from model.tables.store import SUPPLIED
from model.wiresize import Size


def own_of(circuit: Circuit, sort: str) -> Iterator[OwnTable]:
    """Yield the circuit's own tables of a sort."""
    return (t for t in circuit.own_tables.values() if t.sort == sort)


def choices(circuit: Circuit, kind: str) -> tuple[str, ...]:
    """Return the ids that may be chosen: of kind ampacity, copper or bundle; own ones first."""
    if kind == "ampacity":
        own = tuple(i for t in own_of(circuit, kind) for i in column_ids(t))
        return own + catalog.table_ids(kind)
    if kind == "bundle":
        return tuple(t.id for t in own_of(circuit, kind)) + bundles.bundle_table_ids()
    return tuple(t.id for t in own_of(circuit, kind)) + catalog.table_ids(kind)


def describe(circuit: Circuit, kind: str, table_id: str) -> Entry | None:
    """Return title, source, standing and conditions of a table; None where there is none."""
    found = next((e for e in _own_entries(circuit, kind) if e.id == table_id), None)
    if found is not None:
        return found
    name = "bundles" if kind == "bundle" else kind
    return next((e for e in catalog.entries(name) if e.id == table_id), None)


def _own_entries(circuit: Circuit, kind: str) -> Iterator[Entry]:
    for table in own_of(circuit, kind):
        ids = column_ids(table) if kind == "ampacity" else (table.id,)
        for one in ids:
            title = table.title or table.id
            yield Entry(one, title, table.from_where, SUPPLIED, table.conditions)


def own_ampacity(circuit: Circuit) -> tuple[AmpacityTable, ...]:
    """Return the circuit's own ampacity tables."""
    if not circuit.own_tables:
        return ()
    return tuple(as_ampacity(t) for t in own_of(circuit, "ampacity"))


def own_copper(circuit: Circuit) -> tuple[CopperTable, ...]:
    """Return the circuit's own tables of resistance."""
    if not circuit.own_tables:
        return ()
    return tuple(as_copper(t) for t in own_of(circuit, "copper"))


def own_insulations(circuit: Circuit) -> tuple[Insulation, ...]:
    """Return the insulations of the circuit's own tables."""
    if not circuit.own_tables:
        return ()
    return tuple(i for t in own_of(circuit, "insulation") for i in as_insulations(t))


def may_carry(circuit: Circuit, size: Size, zone_c: float) -> Ampacity:
    """Return what a size may carry alone, by the table the circuit chose."""
    return ampacity(size, circuit.settings.chosen.ampacity, zone_c, own=own_ampacity(circuit))


def bundle_share(circuit: Circuit, wires: int) -> float | None:
    """Return the share that a bundle leaves, by the table the circuit chose."""
    chosen = circuit.settings.chosen.bundle
    return bundles.bundle_factor(chosen, wires, own=_own_bundles(circuit))


def bundle_source(circuit: Circuit) -> str:
    """Return the source of the bundle table the circuit chose, "" where bundles do not count."""
    entry = describe(circuit, "bundle", circuit.settings.chosen.bundle)
    return entry.source if entry else ""


def _own_bundles(circuit: Circuit) -> tuple[bundles.BundleTable, ...]:
    if not circuit.own_tables:
        return ()
    return tuple(as_bundle(t) for t in own_of(circuit, "bundle"))


def own_bands(circuit: Circuit) -> tuple[Band, ...]:
    """Return the circuit's own bands of fuses."""
    if not circuit.own_tables:
        return ()
    return tuple(as_band(t) for t in own_of(circuit, "fuse-band"))


def typed_rating(circuit: Circuit, type_name: str, key: str) -> tuple[Value, str] | None:
    """Return a rating by the type of a part, with its source; None where no table has it."""
    for table in own_of(circuit, "types"):
        value = type_ratings(table).get(type_name, {}).get(key)
        if value is not None:
            return value, f"type {type_name}: {table.from_where}"
    return None


def type_names(circuit: Circuit, keys: frozenset[str]) -> tuple[str, ...]:
    """Return the types of parts that have ratings of these keys and no others."""
    return tuple(
        name
        for table in own_of(circuit, "types")
        for name, ratings in type_ratings(table).items()
        if ratings.keys() <= keys
    )


def table_clashes(circuit: Circuit, table: OwnTable) -> Iterator[str]:
    """Yield why a table cannot stand beside the others: an id taken, a rating that is none."""
    shipped: tuple[str, ...] = ()
    if table.sort == "ampacity":
        shipped = catalog.table_ids("ampacity")
    elif table.sort == "copper":
        shipped = catalog.table_ids("copper")
    elif table.sort == "bundle":
        shipped = bundles.bundle_table_ids()
    elif table.sort == "fuse-band":
        shipped = tuple(b.id for b in fuse_file().bands)
    mine = column_ids(table) if table.sort == "ampacity" else (table.id,)
    taken = [i for i in mine if i in shipped]
    others = (t for t in own_of(circuit, table.sort) if t.id != table.id)
    theirs = {i for t in others for i in (column_ids(t) if t.sort == "ampacity" else (t.id,))}
    for one in (*taken, *(i for i in mine if i in theirs)):
        yield f"the id “{one}” is taken by another table"
    if table.sort == "insulation":
        yield from _taken_names(circuit, table)
    if table.sort == "types":
        yield from _strange_ratings(table)


def _taken_names(circuit: Circuit, table: OwnTable) -> Iterator[str]:
    """Yield the insulations of a table that are in another one already."""
    others = (t for t in own_of(circuit, "insulation") if t.id != table.id)
    taken = {i.id for i in heating_file().insulation}
    taken |= {i.id for t in others for i in as_insulations(t)}
    for one in as_insulations(table):
        if one.id in taken:
            yield f"the insulation “{one.id}” is in another table"


def _strange_ratings(table: OwnTable) -> Iterator[str]:
    """Yield what in a table of types is no rating of any kind of part, or no value of it."""
    specs: dict[str, list[RatingSpec]] = {}
    for kind in KINDS.values():
        for spec in kind.ratings:
            specs.setdefault(spec.key, []).append(spec)
    for column, head in enumerate(table.heads[1:], 1):
        if head not in specs:
            near = get_close_matches(head, specs, 3, 0.5)
            yield f"“{head}” is no rating of any kind of part" + (
                f" (is it {' or '.join(near)}?)" if near else ""
            )
            continue
        for n, row in enumerate(table.rows, 1):
            if row[column] is not None and not _fits(specs[head], row[column]):
                yield f"row {n}: “{head}” cannot be {row[column]}"


def _fits(specs: list[RatingSpec], value: Value) -> bool:
    """Tell whether a value fits a rating of that key of any kind."""
    for spec in specs:
        if spec.quantity in ("choice", "text"):
            if isinstance(value, str) and (not spec.choices or value in spec.choices):
                return True
        elif not isinstance(value, str) and value is not None:
            low = -1e9 if spec.quantity in ("temperature", "pressure") else 0.0
            if low <= value <= 1e9:
                return True
    return False
