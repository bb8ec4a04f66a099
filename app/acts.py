"""What a person does on a sheet, made into changes of the circuit. No widget in here."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from app.scene.geometry import GRID, SheetGeometry
from model.changes import Change
from model.circuit import Circuit, End, Part, Place, Route, Sheet, Wire
from model.editing.bends import carried
from model.editing.room import places_meant
from model.edits import add_wire, put
from model.kinds import KINDS, Kind
from model.layout.card import card
from model.layout.sizes import Sizes
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
    part = new_part(circuit, kind)
    base = as_drawn(sheet, geometry) if geometry else sheet
    place = Place(fresh_id(base.places, "c"), part.id, snapped(at[0]), snapped(at[1]))
    text = f"Place {part.reference}"
    with_part = put(circuit, "parts", part, text)
    kept = replace(base, places={**base.places, place.id: place})
    return with_part.then(put(with_part.apply(circuit), "sheets", kept, text), text), part.id


def new_part(circuit: Circuit, kind: Kind) -> Part:
    """Return a new part of a kind with the next reference."""
    part_id = fresh_id(circuit.parts, "p", circuit.wires)
    return Part(part_id, kind.key, next_reference(circuit, kind.letter))


def as_drawn(sheet: Sheet, geometry: SheetGeometry) -> Sheet:
    """Return a sheet of the file with the places of the automatic layout written on it.

    Where another layout stands in for that of the file, the bends of the file have no meaning on
    it and are left out.
    """
    auto = {k: p for k, p in geometry.places.items() if k in geometry.auto}  # in their order
    routes = {} if geometry.stood_in else sheet.routes
    return replace(sheet, places={**sheet.places, **auto}, routes=routes)


def as_seen(circuit: Circuit, seen: Mapping[str, SheetGeometry]) -> Circuit:
    """Return the circuit with the places written that the automatic layout made on some sheets.

    What goes out of the program, to a file or onto paper, looks as the person saw it; the circuit
    that is open is not changed by it. Places of a layout that stands in for another are left out.
    """
    sheets = dict(circuit.sheets)
    placed = {p.part for s in sheets.values() for p in s.places.values()}
    for key, geometry in seen.items():
        sheet = sheets.get(key) or Sheet(key, geometry.sheet.name)
        new = {
            k: p
            for k, p in geometry.places.items()
            if k in geometry.auto and k not in sheet.places and p.part not in placed
        }
        new = {k: p for k, p in new.items() if p.part in circuit.parts}
        if new and not geometry.stood_in and (key in sheets or not sheets):
            sheets[key] = replace(sheet, places={**sheet.places, **new})
            placed |= {p.part for p in new.values()}
    return circuit if sheets == circuit.sheets else replace(circuit, sheets=sheets)


def with_places(circuit: Circuit, sheet: Sheet, geometry: SheetGeometry, change: Change) -> Change:
    """Return a change that writes the places of the automatic layout as well.

    So that whatever is put on the sheet, nothing else jumps. A change that writes no place is
    returned as it is.
    """
    after = change.apply(circuit)
    made = after.sheets.get(sheet.id, sheet)
    if made.places == sheet.places and made.routes == sheet.routes:
        return change
    drawn = as_drawn(sheet, geometry)
    new = {k: p for k, p in made.places.items() if sheet.places.get(k) != p}
    routes = {} if geometry.stood_in else made.routes
    places = {**drawn.places, **new}
    places = {k: p for k, p in places.items() if p.part in after.parts}
    whole = replace(made, places=places, routes=routes)
    return change if whole == made else change.then(put(after, "sheets", whole, ""), change.label)


def free_spot(
    circuit: Circuit,
    geometry: SheetGeometry,
    kind: Kind,
    near: tuple[float, float],
    sizes: Sizes | None = None,
) -> tuple[float, float]:
    """Return the middle of a place for a new card, near a point and over no other card.

    `sizes` are those of the cards shown, by default as the circuit has them.
    """
    new = card(circuit, Part("new", kind.key, "X1"), sizes=sizes).outer.grown(ROOM)
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
    wanted = {p.id: p for p in places_meant(geometry.sheet, part_ids)}
    if not wanted or (dx == 0 and dy == 0):
        return None
    new = {k: replace(p, x=p.x + dx, y=p.y + dy, pinned=True) for k, p in wanted.items()}
    return _put_places(circuit, sheet, geometry, new, _text("Move", circuit, new))


def kept_route(
    circuit: Circuit,
    sheet: Sheet,
    geometry: SheetGeometry,
    wire_id: str,
    bends: tuple[tuple[float, float], ...],
) -> Change:
    """Return the change that keeps the bends of a wire; the automatic places are kept with it.

    A wire that is to run straight has none to keep and finds its own way.
    """
    text = f"Bend {wire_label(circuit.wires[wire_id])}"
    drawn = as_drawn(sheet, geometry)
    others = {k: r for k, r in drawn.routes.items() if k != wire_id}
    routes = {**others, wire_id: Route(wire_id, bends)} if bends else others
    return put(circuit, "sheets", replace(drawn, routes=routes), text)


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
    drawn = as_drawn(sheet, geometry)
    after = replace(drawn, places={**drawn.places, **new})
    return put(circuit, "sheets", carried(circuit, geometry.sheet, after), text)


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


def blank() -> Circuit:
    """Return a circuit with one empty sheet."""
    sheet = Sheet("s1", "Sheet 1")
    return Circuit(sheets={sheet.id: sheet})
