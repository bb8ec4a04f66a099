"""The acts a person performs on a circuit, each made into one `Change`.

Every function takes the circuit as it is and returns the change, unapplied.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from model.changes import Change, Swap, index_of
from model.circuit import (
    Acceptance,
    Circuit,
    OwnKind,
    Part,
    Place,
    Record,
    Route,
    Settings,
    Sheet,
    Wire,
)
from model.errors import UnknownNameError
from model.kinds.kind import Value
from model.lookup import label, wire_label, wires_at

Table = str


def put(circuit: Circuit, table: Table, record: Record, text: str) -> Change:
    """Return the change that adds the record, or replaces the one of the same id."""
    known: Mapping[str, Record] = getattr(circuit, table)
    old = known.get(record.id)
    index = len(known) if old is None else index_of(known, record.id)
    return Change(text, (Swap(table, record.id, old, record, index),))


def remove(circuit: Circuit, table: Table, keys: Iterable[str], text: str) -> Change:
    """Return the change that removes records of one table."""
    known: Mapping[str, Record] = getattr(circuit, table)
    order = {key: i for i, key in enumerate(known)}
    wanted = sorted(set(keys), key=lambda k: order.get(k, -1), reverse=True)
    missing = [k for k in wanted if k not in known]
    if missing:
        raise UnknownNameError(f"There is no “{missing[0]}” in {table}.")
    return Change(text, tuple(Swap(table, k, known[k], None, order[k]) for k in wanted))


def add_part(
    circuit: Circuit, part: Part, sheet_id: str = "", place: Place | None = None
) -> Change:
    """Return the change that adds a part and, if told, its place on a sheet."""
    text = f"Place {label(part)}"
    change = put(circuit, "parts", part, text)
    if place is None:
        return change
    sheet = _sheet(circuit, sheet_id)
    moved = replace(sheet, places={**sheet.places, place.id: place})
    return change.then(put(circuit, "sheets", moved, text))


def set_part(circuit: Circuit, part: Part, text: str = "") -> Change:
    """Return the change that replaces a part by a new version of itself."""
    return put(circuit, "parts", part, text or f"Change {label(part)}")


def set_rating(circuit: Circuit, part_id: str, key: str, value: Value) -> Change:
    """Return the change that states a rating (None: back to the default)."""
    part = circuit.parts[part_id]
    ratings = {k: v for k, v in part.ratings.items() if k != key}
    if value is not None:
        ratings[key] = value
    return set_part(circuit, replace(part, ratings=ratings), f"Change {key} of {label(part)}")


def rename_part(circuit: Circuit, part_id: str, reference: str) -> Change:
    """Return the change of a reference; links hold ids and stay."""
    part = circuit.parts[part_id]
    text = f"Rename {label(part)} to {reference}"
    return set_part(circuit, replace(part, reference=reference), text)


def add_wire(circuit: Circuit, wire: Wire) -> Change:
    """Return the change that adds a wire."""
    return put(circuit, "wires", wire, f"Wire {wire_label(wire)}")


def set_wire(circuit: Circuit, wire: Wire, text: str = "") -> Change:
    """Return the change that replaces a wire by a new version of itself."""
    return put(circuit, "wires", wire, text or f"Change {wire_label(wire)}")


def delete(circuit: Circuit, parts: Iterable[str] = (), wires: Iterable[str] = ()) -> Change:
    """Return the change that deletes parts with the wires that end at them, and wires.

    Guests of a deleted part leave it and stay; places, routes and acceptances go along.
    """
    gone = set(parts)
    cut = set(wires) | {w.id for p in gone for w in wires_at(circuit, p)}
    names = [label(circuit.parts[p]) for p in gone] or [wire_label(circuit.wires[w]) for w in cut]
    text = "Delete " + ", ".join(sorted(names)[:3]) + (" …" if len(names) > 3 else "")
    swaps: list[Swap] = []
    for part in circuit.parts.values():
        if part.host in gone and part.id not in gone:
            swaps += set_part(circuit, replace(part, host="", slot="")).swaps
    for sheet in circuit.sheets.values():
        slim = _without(sheet, gone, cut)
        if slim != sheet:
            swaps += put(circuit, "sheets", slim, text).swaps
    swaps += _forget(circuit, gone, cut)
    swaps += remove(circuit, "wires", cut, text).swaps if cut else ()
    swaps += remove(circuit, "parts", gone, text).swaps if gone else ()
    return Change(text, tuple(swaps))


def _forget(circuit: Circuit, parts: set[str], wires: set[str]) -> list[Swap]:
    """Return the swaps that drop acceptances and the reference of what is deleted."""
    stale = [
        a.id for a in circuit.accepted.values() if parts & set(a.parts) or wires & set(a.wires)
    ]
    swaps = list(remove(circuit, "accepted", stale, "").swaps) if stale else []
    if circuit.settings.reference_battery in parts:
        swaps += set_settings(circuit, replace(circuit.settings, reference_battery=""), "").swaps
    return swaps


def _without(sheet: Sheet, parts: set[str], wires: set[str]) -> Sheet:
    """Return the sheet without places of these parts and routes of these wires."""
    places = {k: p for k, p in sheet.places.items() if p.part not in parts}
    routes = {k: r for k, r in sheet.routes.items() if r.wire not in wires}
    return replace(sheet, places=places, routes=routes)


def move_places(
    circuit: Circuit, sheet_id: str, places: Iterable[Place], text: str = "Move"
) -> Change:
    """Return the change that puts places of a sheet (known or new ones)."""
    sheet = _sheet(circuit, sheet_id)
    put_in = {p.id: p for p in places}
    return put(circuit, "sheets", replace(sheet, places={**sheet.places, **put_in}), text)


def set_routes(
    circuit: Circuit, sheet_id: str, routes: Iterable[Route], text: str = "Route"
) -> Change:
    """Return the change that keeps routes of wires on a sheet."""
    sheet = _sheet(circuit, sheet_id)
    merged = {**sheet.routes, **{r.wire: r for r in routes}}
    kept = {k: r for k, r in merged.items() if r.bends}
    return put(circuit, "sheets", replace(sheet, routes=kept), text)


def set_settings(circuit: Circuit, settings: Settings, text: str) -> Change:
    """Return the change of the circuit's settings."""
    return Change(text, (Swap("settings", "", circuit.settings, settings),))


def accept(circuit: Circuit, acceptance: Acceptance) -> Change:
    """Return the change that accepts a finding with a reason."""
    return put(circuit, "accepted", acceptance, f"Accept {acceptance.rule}")


def define_kind(circuit: Circuit, own: OwnKind) -> Change:
    """Return the change that adds or replaces a kind of the user's own."""
    return put(circuit, "own_kinds", own, f"Define {own.kind.title}")


def _sheet(circuit: Circuit, sheet_id: str) -> Sheet:
    """Return a sheet by id, the first one if none is named."""
    if not sheet_id and circuit.sheets:
        return next(iter(circuit.sheets.values()))
    if sheet_id not in circuit.sheets:
        raise UnknownNameError(f"There is no sheet “{sheet_id}”.")
    return circuit.sheets[sheet_id]
