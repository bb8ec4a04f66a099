"""Acts on sheets: add, rename, put in order, remove; parts moved to another or shown there too.

No act loses what is drawn: of a sheet that is removed, the parts that stand nowhere else go to the
sheet beside it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from model.changes import Change, Swap
from model.circuit import Circuit, Place, Route, Sheet
from model.editing.draft import Draft, Edit, listed
from model.editing.errors import EditError
from model.editing.room import Room, places_meant
from model.layout.geometry import united
from model.lookup import fresh_id, label

GAP = 120.0
"""Free width between what stands on a sheet and what comes to it from one that is removed."""


def name_of(circuit: Circuit | Draft, sheet_id: str) -> str:
    """Return what people call a sheet."""
    return sheet_at(circuit, sheet_id).name or f"Sheet {[*circuit.sheets].index(sheet_id) + 1}"


def sheet_at(circuit: Circuit | Draft, key: str) -> Sheet:
    """Return a sheet.

    Raises
    ------
    EditError
        There is none of that id.
    """
    sheet = circuit.sheets.get(key)
    if sheet is None:
        raise EditError(f"There is no sheet “{key}” in this circuit; choose one that is there.")
    return sheet


def add_sheet(circuit: Circuit, name: str = "") -> Edit:
    """Return the edit that adds an empty sheet after the others; "" takes the next free name."""
    draft = Draft(circuit)
    _add(draft, name)
    return draft.done(f"Add {[*draft.sheets.values()][-1].name}")


def rename_sheet(circuit: Circuit, sheet_id: str, name: str) -> Edit:
    """Return the edit of a sheet's name.

    Raises
    ------
    EditError
        There is no such sheet, the name is blank, or another sheet has it.
    """
    sheet, wanted = sheet_at(circuit, sheet_id), name.strip()
    if not wanted:
        raise EditError("A sheet needs a name, so that marks can say where a wire goes.")
    if any(s.name == wanted for k, s in circuit.sheets.items() if k != sheet_id):
        raise EditError(f"There is another sheet “{wanted}”; give this one a name of its own.")
    draft = Draft(circuit)
    draft.sheets[sheet_id] = replace(sheet, name=wanted)
    return draft.done(f"Rename {name_of(circuit, sheet_id)} to {wanted}")


def move_sheet(circuit: Circuit, sheet_id: str, to: int, shown: Sheet | None = None) -> Edit:
    """Return the edit that puts a sheet at a position among the others, 0 the first.

    Parameters
    ----------
    shown
        The sheet as drawn. Parts without a place are drawn on the first sheet; where that is
        the one shown, they are given the places they are drawn at, so that they stay on it.
    """
    text = f"Move {name_of(circuit, sheet_id)}"
    order = [k for k in circuit.sheets if k != sheet_id]
    index = max(0, min(to, len(order)))
    if [*order[:index], sheet_id, *order[index:]] == [*circuit.sheets]:
        return Edit(Change(text, ()))
    draft = Draft(circuit)
    first = next(iter(circuit.sheets))
    if shown is not None and shown.id == first:
        held = circuit.sheets[first].places
        draft.put_places(shown, (p for k, p in shown.places.items() if k not in held))
    kept = draft.done(text)
    after = kept.change.apply(circuit)
    record, at = after.sheets[sheet_id], [*after.sheets].index(sheet_id)
    swaps = (
        Swap("sheets", sheet_id, record, None, at),
        Swap("sheets", sheet_id, None, record, index),
    )
    return replace(kept, change=kept.change.then(Change("", swaps)))


def remove_sheet(circuit: Circuit, sheet_id: str, shown: Sheet | None = None) -> Edit:
    """Return the edit that removes a sheet; parts that stand only there go to the one beside it.

    Parameters
    ----------
    shown
        The sheet as drawn, where that is the one that is removed.

    Raises
    ------
    EditError
        It is the only sheet.
    """
    sheet, name = sheet_at(circuit, sheet_id), name_of(circuit, sheet_id)
    order = [*circuit.sheets]
    if len(order) < 2:
        raise EditError(f"{name} is the only sheet; a circuit keeps at least one.")
    at = order.index(sheet_id)
    target = circuit.sheets[order[at + 1] if at + 1 < len(order) else order[at - 1]]
    drawn = shown if shown is not None and shown.id == sheet_id else sheet
    draft = Draft(circuit)
    del draft.sheets[sheet_id]
    alone = [
        p for p in drawn.places.values() if all(_not_on(s, [p]) for s in draft.sheets.values())
    ]
    if alone:
        _bring(draft, drawn, alone, target)
        names = listed(_labels(circuit, alone), 5)
        whither = name_of(circuit, target.id)
        draft.notes.append(f"{names} stood on {name} only: now on {whither}.")
    return draft.done(f"Remove {name}", (p.part for p in alone))


def move_to_sheet(circuit: Circuit, shown: Sheet, part_ids: Iterable[str], to: str = "") -> Edit:
    """Return the edit that moves parts from the sheet as drawn to another one.

    Parameters
    ----------
    to
        The id of the other sheet; "" makes a new one.

    Raises
    ------
    EditError
        None of the parts stands on the sheet, or it is the sheet they are on.
    """
    draft, places, target = _chosen(circuit, shown, part_ids, to)
    gone = {p.id for p in places}
    draft.put_places(shown, places)
    held = draft.sheets[shown.id]
    left = {k: p for k, p in held.places.items() if k not in gone}
    draft.sheets[shown.id] = replace(held, places=left, routes=_whole(draft, held, left))
    _bring(draft, held, _not_on(target, places), target, aside=False)
    return draft.done(f"Move {listed(_labels(circuit, places))} to {name_of(draft, target.id)}")


def show_on_sheet(circuit: Circuit, shown: Sheet, part_ids: Iterable[str], to: str = "") -> Edit:
    """Return the edit that shows parts on another sheet too; each is still one part.

    Parameters
    ----------
    to
        The id of the other sheet; "" makes a new one.

    Raises
    ------
    EditError
        None of the parts stands on this sheet, or all stand on the other one already.
    """
    draft, places, target = _chosen(circuit, shown, part_ids, to)
    new = _not_on(target, places)
    names, whither = listed(_labels(circuit, places)), name_of(draft, target.id)
    if not new:
        raise EditError(f"{names}: already shown on {whither}.")
    draft.put_places(shown, places)
    _bring(draft, shown, new, target, aside=False)
    return draft.done(f"Show {names} on {whither} too", (p.part for p in places))


def take_off_sheet(circuit: Circuit, shown: Sheet, part_ids: Iterable[str]) -> Edit:
    """Return the edit that takes parts off the sheet as drawn, where they stand on another too.

    Raises
    ------
    EditError
        A part stands on no other sheet.
    """
    places = _places_of(circuit, shown, part_ids)
    others = [s for k, s in circuit.sheets.items() if k != shown.id]
    alone = [p for p in places if all(_not_on(s, [p]) for s in others)]
    if alone:
        names = listed(_labels(circuit, alone))
        raise EditError(f"{names}: on no other sheet; delete it, or move it to another.")
    draft, gone = Draft(circuit), {p.id for p in places}
    held = sheet_at(draft, shown.id)
    left = {k: p for k, p in held.places.items() if k not in gone}
    draft.sheets[shown.id] = replace(held, places=left, routes=_whole(draft, held, left))
    names = listed(_labels(circuit, places))
    return draft.done(f"Take {names} off {name_of(circuit, shown.id)}")


def _not_on(sheet: Sheet, places: Iterable[Place]) -> list[Place]:
    """Return the places whose part, or the piece of it that they show, is not on a sheet yet."""
    there = {(p.part, p.shows) for p in sheet.places.values()}
    return [p for p in places if not {(p.part, p.shows), (p.part, ())} & there]


def _labels(circuit: Circuit, places: Iterable[Place]) -> list[str]:
    """Return what people call the parts of places, each once."""
    return [*dict.fromkeys(label(circuit.parts[p.part]) for p in places)]


def _add(draft: Draft, name: str = "") -> Sheet:
    """Add an empty sheet; a circuit without any is drawn on one, which is then written too."""
    if not draft.sheets:
        draft.sheets["s1"] = Sheet("s1", "Sheet 1")
    names = {s.name for s in draft.sheets.values()}
    numbers = range(len(draft.sheets) + 1, 2 * len(draft.sheets) + 2)
    wanted = name.strip() or next(f"Sheet {n}" for n in numbers if f"Sheet {n}" not in names)
    key = fresh_id(draft.sheets, "s")
    draft.sheets[key] = Sheet(key, wanted)
    return draft.sheets[key]


def _chosen(
    circuit: Circuit, shown: Sheet, part_ids: Iterable[str], to: str
) -> tuple[Draft, list[Place], Sheet]:
    """Return a draft, the places of the parts on the sheet shown, and the sheet they go to."""
    if to == shown.id:
        raise EditError("The parts are on this sheet already; choose another one.")
    places = _places_of(circuit, shown, part_ids)
    draft = Draft(circuit)
    if shown.id not in draft.sheets:
        draft.sheets[shown.id] = replace(shown, places={})
    target = sheet_at(draft, to) if to else _add(draft)
    return draft, places, target


def _places_of(circuit: Circuit, shown: Sheet, part_ids: Iterable[str]) -> list[Place]:
    """Return the places of parts, of one that sits in another that of its host."""
    parts = circuit.parts
    wanted = {(parts[k].host or k) if k in parts else k for k in part_ids}
    places = places_meant(shown, wanted)
    if not places:
        raise EditError("Select parts that stand on this sheet first.")
    return places


def _bring(
    draft: Draft, source: Sheet, places: Sequence[Place], target: Sheet, aside: bool = True
) -> None:
    """Put places, moved as one, on another sheet, with the kept ways of wires among them.

    `aside` puts them right of everything that stands there; else they stay where they were if
    there is room.
    """
    if not places:
        return
    taken: dict[str, object] = dict(target.places)
    new = []
    for place in places:
        key = place.id if place.id not in taken else fresh_id(taken, "c")
        taken[key] = None
        new.append(replace(place, id=key, pinned=True))
    room = Room(draft.circuit, target)
    standing = [room.area(p) for p in room.drawn(target.places.values())]
    drawn = room.drawn(new)
    dx, dy = 0.0, 0.0
    if standing and aside and drawn:
        here, there = united(room.area(p) for p in drawn), united(standing)
        dx = _even(there.right + GAP - here.x)
        dy = _even(there.y - here.y)
    moved = [replace(p, x=p.x + dx, y=p.y + dy) for p in new]
    if not aside and drawn:
        shifted = room.together([p for p in moved if p in drawn])
        dx, dy = shifted[0].x - drawn[0].x, shifted[0].y - drawn[0].y
        moved = [replace(p, x=p.x + dx, y=p.y + dy) for p in new]
    draft.put_places(target, moved)
    _bring_routes(draft, source, target.id, (dx, dy))


def _bring_routes(draft: Draft, source: Sheet, target_id: str, by: tuple[float, float]) -> None:
    """Keep on the target the ways that wires had, where both their ends stand there now."""
    held = draft.sheets[target_id]
    ways = {
        k: Route(k, tuple((x + by[0], y + by[1]) for x, y in r.bends))
        for k, r in source.routes.items()
        if k not in held.routes
    }
    both = _whole(draft, replace(held, routes=ways), held.places)
    draft.sheets[target_id] = replace(held, routes={**held.routes, **both})


def _whole(draft: Draft, sheet: Sheet, places: Mapping[str, Place]) -> dict[str, Route]:
    """Return the kept ways of the wires whose ends both stand on these places."""
    there = {p.part for p in places.values()}
    found = {}
    for key, route in sheet.routes.items():
        wire = draft.wires.get(key)
        ends = [e.part for e in (wire.first, wire.second) if e is not None] if wire else [""]
        if all(k in there or (k in draft.parts and draft.parts[k].host in there) for k in ends):
            found[key] = route
    return found


def _even(value: float) -> float:
    """Return the nearest step of the grid's larger squares."""
    return round(value / 20.0) * 20.0
