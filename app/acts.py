"""What a person does on a sheet, made into changes of the circuit. No widget in here."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from app.scene.geometry import GRID, SheetGeometry
from model.changes import Change
from model.circuit import Circuit, End, Part, Place, Route, Sheet, Wire
from model.edits import add_part, add_wire, move_places, put, set_wire
from model.kinds import KINDS, Kind
from model.layout.card import card
from model.lookup import (
    fresh_id,
    kind_of,
    label,
    next_reference,
    next_wire_number,
    wire_label,
    wires_at,
)

ROOM = 20.0
STEP = 40.0


def snapped(value: float) -> float:
    """Return the nearest place on the grid."""
    return round(value / GRID) * GRID


def find_kind(circuit: Circuit, key: str) -> Kind | None:
    """Return a kind by key, the program's or the user's own."""
    own = circuit.own_kinds.get(key)
    return KINDS.get(key) or (own.kind if own else None)


def placed(
    circuit: Circuit,
    sheet: Sheet,
    kind: Kind,
    at: tuple[float, float],
    geometry: SheetGeometry | None = None,
) -> tuple[Change, str]:
    """Return the change that places a new part with its middle at a point, and the part's id.

    Where the sheet as drawn is given, its automatic places are kept along with the new one.
    """
    part = Part(
        fresh_id(circuit.parts, "p", circuit.wires), kind.key, next_reference(circuit, kind.letter)
    )
    place = Place(fresh_id(sheet.places, "c"), part.id, snapped(at[0]), snapped(at[1]))
    text = f"Place {part.reference}"
    auto = {k: geometry.places[k] for k in geometry.auto} if geometry else {}
    if sheet.id in circuit.sheets and auto:
        place = replace(place, id=fresh_id({**sheet.places, **auto}, "c"))
        with_part = put(circuit, "parts", part, text)
        kept = replace(sheet, places={**sheet.places, **auto, place.id: place})
        return with_part.then(put(with_part.apply(circuit), "sheets", kept, text), text), part.id
    if sheet.id in circuit.sheets:
        return add_part(circuit, part, sheet.id, place), part.id
    with_sheet = replace(sheet, places={**auto, place.id: place})
    added = put(circuit, "sheets", with_sheet, text)
    return added.then(put(circuit, "parts", part, text), text), part.id


def free_spot(
    circuit: Circuit, geometry: SheetGeometry, kind: Kind, near: tuple[float, float]
) -> tuple[float, float]:
    """Return the middle of a place for a new card, near a point and over no other card."""
    new = card(circuit, Part("new", kind.key, "X1")).outer.grown(ROOM)
    held = [geometry.cards[k].outer.moved(p.x, p.y) for k, p in geometry.places.items()]
    for ring in range(40):
        for dx, dy in _ring(ring):
            x, y = snapped(near[0]) + dx * STEP, snapped(near[1]) + dy * STEP
            if not any(new.moved(x, y).overlaps(h) for h in held):
                return x, y
    return snapped(near[0]), snapped(near[1])


def _ring(size: int) -> list[tuple[int, int]]:
    """Return the steps that lie `size` away from the middle, to the right first."""
    across = range(-size, size + 1)
    return sorted(
        ((x, y) for x in across for y in across if max(abs(x), abs(y)) == size),
        key=lambda s: (abs(s[1]), -s[0]),
    )


def moved(
    circuit: Circuit,
    sheet: Sheet,
    geometry: SheetGeometry,
    part_ids: Iterable[str],
    by: tuple[float, float],
) -> Change | None:
    """Return the change that moves parts, None when nothing moves."""
    dx, dy = snapped(by[0]), snapped(by[1])
    wanted = {p.id: p for p in geometry.places.values() if p.part in set(part_ids)}
    if not wanted or (dx == 0 and dy == 0):
        return None
    new = {k: replace(p, x=p.x + dx, y=p.y + dy, pinned=True) for k, p in wanted.items()}
    return _put_places(circuit, sheet, geometry, new, _text("Move", circuit, new))


def turned(
    circuit: Circuit, sheet: Sheet, geometry: SheetGeometry, part_ids: Iterable[str], by: int = 90
) -> Change | None:
    """Return the change that turns parts clockwise about their own middles."""
    wanted = [p for p in geometry.places.values() if p.part in set(part_ids)]
    new = {p.id: replace(p, turn=(p.turn + by) % 360, pinned=True) for p in wanted}
    return _put_places(circuit, sheet, geometry, new, _text("Turn", circuit, new)) if new else None


def kept_route(
    circuit: Circuit,
    sheet: Sheet,
    geometry: SheetGeometry,
    wire_id: str,
    bends: tuple[tuple[float, float], ...],
) -> Change:
    """Return the change that keeps the bends of a wire; the automatic places are kept with it."""
    text = f"Bend {wire_label(circuit.wires[wire_id])}"
    auto = {k: geometry.places[k] for k in geometry.auto}
    routes = {**sheet.routes, wire_id: Route(wire_id, bends)}
    new = replace(sheet, places={**sheet.places, **auto}, routes=routes)
    return put(circuit, "sheets", new, text)


def freed_routes(circuit: Circuit, sheet: Sheet, wire_ids: Iterable[str]) -> Change | None:
    """Return the change that lets wires find their own way again, None where all of them do."""
    gone = sheet.routes.keys() & set(wire_ids)
    if not gone:
        return None
    left = {k: r for k, r in sheet.routes.items() if k not in gone}
    text = f"Let {', '.join(wire_label(circuit.wires[w]) for w in sorted(gone))} find its way"
    return put(circuit, "sheets", replace(sheet, routes=left), text)


def _text(verb: str, circuit: Circuit, places: dict[str, Place]) -> str:
    names = [label(circuit.parts[p.part]) for p in places.values()]
    return f"{verb} {', '.join(names[:3])}{' …' if len(names) > 3 else ''}"


def _put_places(
    circuit: Circuit, sheet: Sheet, geometry: SheetGeometry, new: dict[str, Place], text: str
) -> Change:
    """Return the change of some places; those of the automatic layout are kept along with them."""
    auto = {k: geometry.places[k] for k in geometry.auto}
    kept = {**auto, **new}
    if sheet.id in circuit.sheets:
        return move_places(circuit, sheet.id, kept.values(), text)
    return put(circuit, "sheets", replace(sheet, places=kept), text)


def wired(circuit: Circuit, first: End, second: End | None) -> tuple[Change | None, str]:
    """Return the change that joins two terminals by a new wire, and the wire's id."""
    if second is None or first == second:
        return None, ""
    colour, tracer = _colour(circuit, first, second)
    wire = Wire(
        fresh_id(circuit.wires, "w"),
        next_wire_number(circuit),
        first,
        second,
        colour=colour,
        tracer=tracer,
    )
    return add_wire(circuit, wire), wire.id


def _colour(circuit: Circuit, *ends: End) -> tuple[str, str]:
    """Return the colour a new wire starts with: that of its neighbours, else black for ground."""
    for end in ends:
        family = kind_of(circuit, circuit.parts[end.part]).family
        if family == "ground" or end.terminal in ("-", "31"):
            return ("BK", "")
    for end in ends:
        for wire in wires_at(circuit, end.part):
            if end in (wire.first, wire.second) and wire.colour:
                return (wire.colour, wire.tracer)
    plus = any(end.terminal in ("+", "B+", "30") and _is_supply(circuit, end) for end in ends)
    return ("RD", "") if plus else ("", "")


def _is_supply(circuit: Circuit, end: End) -> bool:
    return kind_of(circuit, circuit.parts[end.part]).family == "supply"


def loose_wire(circuit: Circuit) -> Change:
    """Return the change that adds a wire whose ends are not known yet."""
    return add_wire(circuit, Wire(fresh_id(circuit.wires, "w"), next_wire_number(circuit)))


def rejoined(circuit: Circuit, wire_id: str, second: bool, end: End | None) -> Change | None:
    """Return the change that puts one end of a wire on another terminal."""
    wire = circuit.wires[wire_id]
    new = replace(wire, second=end) if second else replace(wire, first=end)
    same = new == wire or new.first == new.second
    return None if same else set_wire(circuit, new, f"Move an end of {wire.number or 'a wire'}")


def blank() -> Circuit:
    """Return a circuit with one empty sheet."""
    sheet = Sheet("s1", "Sheet 1")
    return Circuit(sheets={sheet.id: sheet})
