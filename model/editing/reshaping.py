"""Giving a part another shape: what then hangs in the air is cut open in the same edit.

The file takes no wire to a terminal that is not there, no guest in a slot that is gone, no position
that closes a vanished terminal. So every change of a part's terminals, ways, positions or kind, and
of a kind of one's own, goes through here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from model.circuit import Circuit, End, OwnKind, Part, Sheet, Wire
from model.editing.draft import Draft, Edit, part_at
from model.editing.errors import EditError
from model.editing.sound import check_sound
from model.file.part_fields import MAX_WAYS
from model.kinds import KINDS
from model.kinds.body import Position
from model.lookup import body_of, kind_of, label, wire_label

Nodes = Mapping[str, str]
"""Terminals by their old node; a terminal that is not among them is gone."""


def set_ways(circuit: Circuit, part_id: str, ways: int) -> Edit:
    """Return the edit that gives a bus bar, fuse box or connector another number of ways.

    Raises
    ------
    EditError
        There is no such part, it has no ways, or the number is out of range.
    """
    part = part_at(circuit, part_id)
    if kind_of(circuit, part).shape != "ways":
        raise EditError(f"{label(part)} has no ways to set; choose a connector or bus bar.")
    if not 1 <= ways <= MAX_WAYS:
        raise EditError(f"{label(part)} cannot have {ways} ways; give it 1 to {MAX_WAYS}.")
    return reshape(circuit, replace(part, ways=ways), f"Give {label(part)} {ways} ways")


def set_terminals(
    circuit: Circuit, part_id: str, keys: Sequence[str], renamed: Mapping[str, str] | None = None
) -> Edit:
    """Return the edit that gives a control other terminals.

    Parameters
    ----------
    keys
        The terminals, in their order.
    renamed
        New names by old ones: their wires and pairs follow.

    Raises
    ------
    EditError
        There is no such part, its kind has fixed terminals, or the names do not fit.
    """
    part = _control(circuit, part_id)
    names, body = dict(renamed or {}), Draft(circuit).body(part)
    known = {t.key for t in body.terminals}
    nodes = {k: names.get(k, k) for k in known if names.get(k, k) in keys}
    table = tuple(_mapped(p, nodes) for p in body.positions)
    markings = tuple((nodes[k], v) for k, v in part.markings if k in nodes)
    made = replace(part, terminals=tuple(keys), table=table, rest=body.rest, markings=markings)
    return reshape(circuit, made, f"Change terminals of {label(part)}", nodes)


def set_table(circuit: Circuit, part_id: str, table: Sequence[Position], rest: str = "") -> Edit:
    """Return the edit that gives a control other positions.

    Terminals that a pair names and the control does not have yet are added; none are taken away.

    Raises
    ------
    EditError
        There is no such part, its kind has fixed positions, or the positions do not fit.
    """
    part = _control(circuit, part_id)
    keys = [t.key for t in Draft(circuit).body(part).terminals]
    named = [k for p in table for pair in p.closed for k in pair]
    if more := [k for k in dict.fromkeys(named) if k not in keys]:
        part = replace(part, terminals=(*keys, *more))
    start = rest or (part.rest if any(p.name == part.rest for p in table) else "")
    made = replace(part, table=tuple(table), rest=start)
    return reshape(circuit, made, f"Change positions of {label(part)}")


def reshape(circuit: Circuit, part: Part, text: str = "", nodes: Nodes | None = None) -> Edit:
    """Return the edit that replaces a part by a new version of itself, of whatever shape.

    Parameters
    ----------
    part
        The new version; its id is that of a part of the circuit.
    text
        Label of the change.
    nodes
        New terminals by old ones; None: those of the same name.

    Raises
    ------
    EditError
        There is no such part, or the new version is not sound.
    """
    draft = Draft(circuit)
    put_shape(draft, part, nodes)
    return draft.done((text or f"Change {label(part)}") + draft.opened(), [part.id])


def put_shape(draft: Draft, part: Part, nodes: Nodes | None = None) -> None:
    """Put a new version of a part in a draft and cut open what no longer fits.

    Raises
    ------
    EditError
        There is no such part, or the new version is not sound.
    """
    part_at(draft, part.id)
    check_sound(replace(part, host="", slot="", branch=""), draft.own_kinds)
    draft.parts[part.id] = part
    refit(draft, [part.id], {part.id: nodes} if nodes is not None else {})


def refit(draft: Draft, part_ids: Iterable[str], nodes: Mapping[str, Nodes]) -> None:
    """Make wires, guests and places of parts fit their shapes as they are now.

    Parameters
    ----------
    nodes
        By part: new terminals by old ones, where they are not those of the same name.
    """
    changed = set(part_ids)
    for wire in list(draft.wires.values()):
        ends = [_refitted(draft, e, changed, nodes) for e in (wire.first, wire.second)]
        if ends != [wire.first, wire.second]:
            draft.wires[wire.id] = replace(wire, first=ends[0], second=ends[1])
            if None in ends:
                _note_open(draft, wire, ends)
    for part in list(draft.parts.values()):
        if part.host in changed:
            _reseat(draft, part)
    for sheet in list(draft.sheets.values()):
        draft.sheets[sheet.id] = _reshown(draft, sheet, changed)


def define_kind(circuit: Circuit, own: OwnKind) -> Edit:
    """Return the edit that adds a kind of one's own, or changes it with all parts of it.

    Ratings that a part stated and the kind no longer has, or has otherwise, go.

    Raises
    ------
    EditError
        The kind is not sound in itself.
    """
    check_sound(None, {own.id: own})
    draft = Draft(circuit)
    draft.own_kinds[own.id] = own
    parts = [p for p in circuit.parts.values() if p.kind == own.id]
    for part in parts:
        draft.parts[part.id] = fitting(draft, part)
    refit(draft, [p.id for p in parts], {})
    said = f"Define {own.kind.title or own.id}{draft.opened()}"
    return draft.done(said, [p.id for p in parts])


def fitting(draft: Draft, part: Part) -> Part:
    """Return a part without what its kind does not take: ratings, positions, ways, faces."""
    kind = kind_of(Circuit(own_kinds=draft.own_kinds), part)
    blank = Part(part.id, part.kind)
    if kind.shape != "table":
        part = replace(part, terminals=(), table=(), rest="")
    if kind.shape != "ways":
        part = replace(part, ways=0)
    if kind.key != "connector":
        part = replace(part, faces=())
    ratings = {}
    for key, value in part.ratings.items():
        try:
            check_sound(replace(blank, ratings={key: value}), draft.own_kinds)
        except EditError:
            continue
        if key in kind.specs:
            ratings[key] = value
    return replace(part, ratings=ratings)


def _control(circuit: Circuit, part_id: str) -> Part:
    """Return a part that may have terminals and positions of its own."""
    part = part_at(circuit, part_id)
    kind = kind_of(circuit, part)
    if kind.shape != "table":
        raise EditError(
            f"{label(part)} is of the kind “{kind.title}”, whose terminals are fixed; choose a "
            "switch, or define a kind of your own."
        )
    return part


def _mapped(position: Position, nodes: Nodes) -> Position:
    """Return a position with the pairs whose terminals are still there."""
    pairs = ((nodes.get(a), nodes.get(b)) for a, b in position.closed)
    return replace(position, closed=tuple((a, b) for a, b in pairs if a and b))


def _refitted(
    draft: Draft, end: End | None, changed: set[str], nodes: Mapping[str, Nodes]
) -> End | None:
    """Return a wire's end at the terminal as it is now, None where that is gone."""
    if end is None or end.part not in changed:
        return end
    moved = end
    if end.part in nodes:
        node = nodes[end.part].get(end.node[1])
        if node is None:
            return None
        key, _, face = node.partition("/")
        moved = End(end.part, key, face)
    return moved if draft.has(moved) else None


def _note_open(draft: Draft, wire: Wire, ends: Sequence[End | None]) -> None:
    lost = [
        old for old, new in zip((wire.first, wire.second), ends, strict=True) if old and not new
    ]
    for end in lost:
        part = draft.before.parts.get(end.part) or draft.parts[end.part]
        draft.notes.append(
            f"{wire_label(wire)} is open where it ended at {label(part)}.{end.node[1]}."
        )


def _reseat(draft: Draft, guest: Part) -> None:
    """Take a part out of a slot that is gone or takes no such kind."""
    kinds = Circuit(own_kinds=draft.own_kinds)
    slots = {s.name: s for s in draft.body(draft.parts[guest.host]).slots}
    slot = slots.get(guest.slot)
    fits = slot is not None and slot.takes in ("", kind_of(kinds, guest).family)
    had = (
        guest.host in draft.before.parts
        and body_of(draft.before, draft.before.parts[guest.host]).slots
    )
    if (guest.slot and not fits) or (not guest.slot and had and not slots):
        host = label(draft.parts[guest.host])
        draft.notes.append(f"{label(guest)} no longer sits in {host}.")
        draft.parts[guest.id] = replace(guest, host="", slot="")


def _reshown(draft: Draft, sheet: Sheet, changed: set[str]) -> Sheet:
    """Return a sheet whose cards of these parts show no elements that are gone."""
    places = dict(sheet.places)
    for key, place in sheet.places.items():
        if place.part in changed and place.shows:
            there = {e.name for e in draft.body(draft.parts[place.part]).elements}
            shows = tuple(s for s in place.shows if s in there)
            others = [p for p in places.values() if p.part == place.part and p.id != key]
            if shows or not others:
                places[key] = replace(place, shows=shows)
            else:
                del places[key]
    return replace(sheet, places=places)


def is_known(circuit: Circuit, key: str) -> bool:
    """Tell whether there is a kind of that key, the program's or one's own."""
    return key in KINDS or key in circuit.own_kinds
