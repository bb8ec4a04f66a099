"""Pasting, cutting and duplicating.

What is pasted gets new ids. A reference or wire number that is free is kept, else the next free
one of its form is taken. Records of the harness and kinds of one's own that are there already,
alike, are used; others come along, under a new key where theirs is taken. So do the rows of tables
of one's own that parts and wires rest on.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from model.circuit import Branch, Circuit, End, OwnKind, Part, Place, Route, Sheet, Wire
from model.editing.draft import Draft, Edit, named, on_grid, within
from model.editing.errors import EditError
from model.editing.fragment import copy_text, fragment, read_text, with_guests
from model.editing.naming import Free
from model.editing.own_tables import Brought
from model.editing.room import Room
from model.edits import delete
from model.kinds import KINDS
from model.layout.geometry import GRID, Point, united
from model.lookup import fresh_id, kind_of

ASIDE = 4.0 * GRID
"""How far right and down a duplicate stands from what it was made of, if there is room."""


def paste(circuit: Circuit, text: str, shown: Sheet, at: Point | None = None) -> Edit:
    """Return the edit that adds what `copy_text` gave, in this circuit or another.

    Parameters
    ----------
    shown
        The sheet it goes on, as drawn; made if the circuit has none of its id.
    at
        Where the middle of the pasted cards goes; moved to where all of them have room. None: a
        little beside where they stood.

    Raises
    ------
    EditError
        The text holds no sound circuit.
    """
    loaded = read_text(text)
    if not loaded.circuit.parts and not loaded.circuit.wires:
        raise EditError("The pasted text holds no parts and no wires; copy some first.")
    return _pasted(circuit, loaded.circuit, shown, at, "Paste", loaded.warnings[:1])


def cut(circuit: Circuit, ids: Iterable[str], shown: Sheet | None = None) -> tuple[str, Edit]:
    """Return a selection as text, and the edit that deletes it with the wires at its parts.

    Raises
    ------
    EditError
        Nothing of the circuit is selected.
    """
    chosen = with_guests(circuit, ids)
    text = copy_text(circuit, chosen, shown)
    draft = Draft(circuit)
    draft.apply(delete(circuit, chosen & circuit.parts.keys(), chosen & circuit.wires.keys()))
    return text, draft.done(
        f"Cut {named(circuit, [i for i in (*circuit.parts, *circuit.wires) if i in chosen])}"
    )


def duplicate(circuit: Circuit, ids: Iterable[str], shown: Sheet, at: Point | None = None) -> Edit:
    """Return the edit that adds a selection once more; see `paste`.

    Raises
    ------
    EditError
        Nothing of the circuit is selected.
    """
    made = fragment(circuit, ids, shown)
    if not made.parts and not made.wires:
        raise EditError("Nothing is selected to duplicate; select parts or wires first.")
    return _pasted(circuit, made, shown, at, "Duplicate", ())


def _pasted(
    circuit: Circuit,
    made: Circuit,
    shown: Sheet,
    at: Point | None,
    verb: str,
    warnings: tuple[str, ...],
) -> Edit:
    """Return the edit that adds a fragment."""
    paste_in = _Pasting(Draft(circuit), made)
    draft = paste_in.draft
    ids = [*paste_in.parts.values(), *paste_in.wires.values()]
    paste_in.place(shown, at)
    draft.notes += warnings
    if made.settings.nominal_v != circuit.settings.nominal_v:
        draft.notes.append(
            f"It comes from a {made.settings.nominal_v:g} V circuit into one of "
            f"{circuit.settings.nominal_v:g} V: look over its ratings."
        )
    return draft.done(f"{verb} {named(draft, ids)}", ids)


class _Pasting:
    """One fragment going into a draft: which record of it became which.

    `parts` and `wires` are the new ids by those in the fragment.
    """

    def __init__(self, draft: Draft, made: Circuit) -> None:
        self.draft = draft
        self.made = made
        self._kinds = self._shared("own_kinds", draft.own_kinds, "kind")
        self._tables = Brought(draft, made)
        self._cables = self._shared("cables", draft.cables, "cable")
        self._zones = self._shared("zones", draft.zones, "zone")
        self.made = made = replace(made, branches=self._branches_in_zones(made))
        self._branches = self._shared("branches", draft.branches, "branch")
        self.parts = {k: draft.fresh("p") for k in made.parts}
        self.wires = {k: draft.fresh("w") for k in made.wires}
        references = Free(p.reference for p in draft.parts.values())
        numbers = Free((w.number for w in draft.wires.values()), after_highest=True)
        for part in made.parts.values():
            letter = kind_of(made, part).letter or "X"
            named_so = references.kept(part.reference, letter)
            draft.parts[self.parts[part.id]] = replace(self._part(part), reference=named_so)
        for wire in made.wires.values():
            draft.wires[self.wires[wire.id]] = replace(
                self._wire(wire), number=numbers.kept(wire.number, "W")
            )

    def _branches_in_zones(self, made: Circuit) -> dict[str, Branch]:
        """Return the branches of the fragment, their zones as they are called in the draft."""
        return {k: replace(b, zone=self._zones.get(b.zone, "")) for k, b in made.branches.items()}

    def _shared(self, table: str, known: dict[str, Any], prefix: str) -> Mapping[str, str]:
        """Add records that are not there alike; return the key of each in the draft."""
        keys = {}
        for key, record in getattr(self.made, table).items():
            if known.get(key) == record:
                keys[key] = key
                continue
            free = key not in known and key not in KINDS
            keys[key] = key if free else self._key(record, known, prefix)
            known[keys[key]] = _rekeyed(record, keys[key])
        return keys

    def _key(self, record: Any, known: Mapping[str, Any], prefix: str) -> str:
        """Return the key of an equal record under another key, else a fresh one."""
        alike = (k for k, other in known.items() if _rekeyed(record, k) == other)
        return next(alike, "") or fresh_id(known, prefix)

    def _part(self, part: Part) -> Part:
        return replace(
            self._tables.part(part),
            id=self.parts[part.id],
            kind=self._kinds.get(part.kind, part.kind),
            host=self.parts.get(part.host, ""),
            slot=part.slot if part.host in self.parts else "",
            branch=self._branches.get(part.branch, ""),
            zone=self._zones.get(part.zone, ""),
        )

    def _wire(self, wire: Wire) -> Wire:
        return replace(
            wire,
            id=self.wires[wire.id],
            first=self._end(wire.first),
            second=self._end(wire.second),
            cable=self._cables.get(wire.cable, ""),
            branches=tuple(self._branches[b] for b in wire.branches if b in self._branches),
            zone=self._zones.get(wire.zone, ""),
        )

    def _end(self, end: End | None) -> End | None:
        return replace(end, part=self.parts[end.part]) if end else None

    def place(self, shown: Sheet, at: Point | None) -> None:
        """Put the cards and kept routes of the fragment's first sheet with cards on a sheet."""
        sheets = [s for s in self.made.sheets.values() if s.places]
        if not sheets:
            return
        sheet, taken = sheets[0], dict[str, object](shown.places)
        places = []
        for place in sheet.places.values():
            key = fresh_id(taken, "c")
            taken[key] = None
            places.append(replace(place, id=key, part=self.parts[place.part], pinned=True))
        room = Room(self.draft.circuit, shown)
        dx, dy = self._shift(room, room.drawn(places), at)
        self.draft.put_places(shown, [replace(p, x=p.x + dx, y=p.y + dy) for p in places])
        self._route(sheet, shown.id, dx, dy)

    def _shift(self, room: Room, cards: list[Place], at: Point | None) -> Point:
        """Return by how much all cards move, to where all have room."""
        if not cards:
            return (0.0, 0.0)
        middle = united(room.body(p) for p in cards).centre
        dx, dy = (at[0] - middle[0], at[1] - middle[1]) if at else (ASIDE, ASIDE)
        first = cards[0]
        dx, dy = on_grid(first.x + dx) - first.x, on_grid(first.y + dy) - first.y
        moved = [replace(p, x=p.x + dx, y=p.y + dy) for p in cards]
        cleared = room.together(moved)[0]
        return (cleared.x - first.x, cleared.y - first.y)

    def _route(self, sheet: Sheet, sheet_id: str, dx: float, dy: float) -> None:
        """Put the kept routes of the fragment on a sheet of the draft."""
        held = self.draft.sheets.get(sheet_id)
        if held is None:
            return
        routes = dict(held.routes)
        for route in sheet.routes.values():
            key = self.wires[route.wire]
            bends = tuple((within(x + dx), within(y + dy)) for x, y in route.bends)
            routes[key] = Route(key, bends)
        self.draft.sheets[sheet_id] = replace(held, routes=routes)


def _rekeyed(record: Any, key: str) -> Any:
    """Return a record under another key."""
    if isinstance(record, OwnKind):
        return replace(record, id=key, kind=replace(record.kind, key=key))
    return replace(record, id=key)
