"""Drawing a part's coil and contacts apart, and as one again; it stays one part throughout.

A piece is what hangs together inside by its nodes: a coil with what suppresses it, the contacts
that share a terminal. Each has a place of its own that says which elements it shows.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from model.circuit import Circuit, Part, Place, Sheet
from model.editing.draft import Draft, Edit, listed
from model.editing.errors import EditError
from model.editing.room import Room, places_meant
from model.kinds.body import Body, Coil, Contact, Element
from model.layout.sizes import Sizes
from model.lookup import body_of, fresh_id, label

BESIDE = 160.0
"""How far from the first piece the next one is put, where there is room."""


def pieces(body: Body) -> tuple[tuple[str, ...], ...]:
    """Return the names of the elements of every piece; () where a part is of one piece.

    Only a part with a coil that shares no terminal with its contacts has more than one.
    """
    groups: list[tuple[set[str], list[str]]] = []
    for element in body.elements:
        joined = [g for g in groups if g[0] & {element.a, element.b}]
        nodes = {element.a, element.b}.union(*(g[0] for g in joined))
        names = [n for g in joined for n in g[1]] + [element.name]
        groups = [g for g in groups if g not in joined] + [(nodes, names)]
    coils = {e.name for e in body.elements if isinstance(e, Coil)}
    apart = any(coils & set(g[1]) for g in groups) and any(not coils & set(g[1]) for g in groups)
    reached = set().union(*(g[0] for g in groups)) if groups else set()
    if not apart or any(t.node not in reached for t in body.terminals):
        return ()
    order = {e.name: i for i, e in enumerate(body.elements)}
    return tuple(sorted((tuple(g[1]) for g in groups), key=lambda g: order[g[0]]))


def draw_apart(
    circuit: Circuit, shown: Sheet, part_ids: Iterable[str], sizes: Sizes | None = None
) -> Edit:
    """Return the edit that gives coil and contacts of parts places of their own on the sheet.

    Raises
    ------
    EditError
        None of the parts stands on the sheet, or one is of one piece or drawn apart already.
    """
    draft, done = Draft(circuit), []
    whole = shown
    for place in places_meant(shown, _hosts(circuit, part_ids)):
        part = circuit.parts[place.part]
        whole = _parted(circuit, whole, place, _pieces_of(circuit, part, place), sizes)
        done.append(part)
    if not done:
        raise EditError("Select a relay that stands on this sheet first.")
    draft.put_places(whole, whole.places.values())
    names = listed([label(p) for p in done])
    return draft.done(f"Draw coil and contacts of {names} apart", (p.id for p in done))


def draw_as_one(circuit: Circuit, shown: Sheet, part_ids: Iterable[str]) -> Edit:
    """Return the edit that draws parts as one again, on the sheet as drawn, at their contacts.

    Raises
    ------
    EditError
        None of the parts is drawn apart on the sheet.
    """
    wanted = _hosts(circuit, part_ids)
    here = [p for p in places_meant(shown, wanted) if p.shows]
    parts = list(dict.fromkeys(p.part for p in here))
    if not parts:
        raise EditError("Select a part whose coil and contacts are drawn apart first.")
    draft = Draft(circuit)
    draft.put_places(shown, ())
    for part in parts:
        kept = [p for p in here if p.part == part][-1]
        for key, sheet in draft.sheets.items():
            left = {k: p for k, p in sheet.places.items() if p.part != part or not p.shows}
            if key == shown.id:
                left[kept.id] = replace(kept, shows=())
            draft.sheets[key] = replace(sheet, places=left)
    one = draft.sheets[shown.id]
    room = Room(draft.circuit, one)
    again = room.together([p for p in one.places.values() if p.part in parts])
    draft.put_places(one, again)
    names = listed([label(circuit.parts[p]) for p in parts])
    return draft.done(f"Draw {names} as one", parts)


def _hosts(circuit: Circuit, ids: Iterable[str]) -> list[str]:
    """Return the ids with the part in which another sits in its stead."""
    parts = circuit.parts
    return [(parts[k].host or k) if k in parts else k for k in ids]


def _pieces_of(circuit: Circuit, part: Part, place: Place) -> tuple[tuple[str, ...], ...]:
    """Return the pieces of a part that is drawn as one."""
    if place.shows:
        raise EditError(f"{label(part)}: its coil and contacts are drawn apart already.")
    body = body_of(circuit, part)
    found = pieces(body)
    if not found:
        raise EditError(_whole_since(label(part), body, dict(part.markings)))
    return found


def _whole_since(name: str, body: Body, markings: dict[str, str]) -> str:
    """Return in a sentence why a part stays of one piece."""
    coils = [e for e in body.elements if isinstance(e, Coil)]
    moved = [e for e in body.elements if isinstance(e, Contact) and e.by]
    if not coils or not moved:
        return f"{name} has no coil that moves contacts: only a relay's are drawn apart."
    held = {n for e in coils for n in (e.a, e.b)}
    others = {n for e in body.elements if e not in coils for n in _reached(body, e, held)}
    shared = [markings.get(t.key, t.key) for t in body.terminals if t.node in held & others]
    if not shared:
        return f"{name} stays of one piece: not every terminal belongs to its coil or its contacts."
    word = "terminal" if len(shared) == 1 else "terminals"
    return (
        f"{name} stays of one piece: its coil and its contacts share {word} {listed(shared)}, and "
        "a terminal stands with its wires in one place only."
    )


def _reached(body: Body, element: Element, held: set[str]) -> set[str]:
    """Return the nodes of what hangs on a coil's other side: contacts and loads, no suppression."""
    ends = {element.a, element.b}
    return set() if ends <= held and not isinstance(element, Contact) else ends


def _parted(
    circuit: Circuit,
    shown: Sheet,
    place: Place,
    found: tuple[tuple[str, ...], ...],
    sizes: Sizes | None,
) -> Sheet:
    """Return the sheet with the coil where the part was, and every other piece where room is."""
    places = dict(shown.places)
    places[place.id] = replace(place, shows=found[0], pinned=True)
    for number, names in enumerate(found[1:], 1):
        key = fresh_id(places, "c")
        new = replace(place, id=key, y=place.y - BESIDE * number, shows=names, pinned=True)
        room = Room(circuit, replace(shown, places={**places, key: new}), sizes)
        places[key] = room.together([new], 20.0)[0]
    return replace(shown, places=places)
