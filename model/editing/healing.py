"""Taking parts out and healing the wires: what was joined through a splice or fuse stays joined.

Of the wires that met at the part the thickest (of equals the last) goes: each of the others is
led on to its far end, as long as both together and no thicker than the thinner. So taking out what
was put in line gives the wire back as it was.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from model.circuit import Circuit, End, Part, Wire
from model.editing.draft import Draft, Edit, named, part_at
from model.editing.errors import EditError
from model.editing.inline import bridged, wired_nodes
from model.editing.splitting import far_end, join_routes, joined
from model.edits import delete as cut_out
from model.lookup import kind_of, label, wire_label

Meeting = tuple[str, str]
"""A wire and which of its ends is at the part."""


def delete(circuit: Circuit, ids: Iterable[str], heal: bool = False) -> Edit:
    """Return the edit that deletes parts with the wires at them, and wires.

    Parameters
    ----------
    ids
        Parts and wires; others are passed over.
    heal
        Join the wires at parts in line (splices, studs, bus bars, connectors, fuses, controls
        with two wired terminals) instead of deleting them. Wires at loads, coils, diodes and
        resistors are deleted all the same: joined, they would be a short.
    """
    chosen = list(dict.fromkeys(ids))
    parts = [i for i in chosen if i in circuit.parts]
    wires = [i for i in chosen if i in circuit.wires]
    draft = Draft(circuit)
    draft.apply(cut_out(draft.circuit, (), wires))
    for key in parts if heal else ():
        _heal(draft, draft.parts[key])
    draft.apply(cut_out(draft.circuit, parts))
    return draft.done(f"{'Take out' if heal else 'Delete'} {named(circuit, chosen)}")


def remove_splice(circuit: Circuit, part_id: str) -> Edit:
    """Return the edit that takes a splice or other joint out and heals the wires that met there.

    Raises
    ------
    EditError
        There is no such part, or it is no joint.
    """
    part = part_at(circuit, part_id)
    if kind_of(circuit, part).family != "joint":
        raise EditError(f"{label(part)} is no splice or other joint; delete it instead.")
    edit = delete(circuit, [part_id], heal=True)
    return Edit(replace(edit.change, label=f"Heal over {label(part)}"), edit.ids, edit.notes)


def _heal(draft: Draft, part: Part) -> None:
    """Join the wires at a part, group by group of its terminals."""
    circuit = draft.circuit
    body = draft.body(part)
    for group in bridged(body, wired_nodes(circuit, part.id)):
        _drop_loops(draft, part, group)
        _join_group(draft, part, group)


def _at(draft: Draft, part: Part, group: set[str]) -> list[Meeting]:
    """Return the ends of wires at a group of a part's terminals, in file order."""
    found = []
    for wire in draft.wires.values():
        for which, end in (("first", wire.first), ("second", wire.second)):
            if _in(end, part, group):
                found.append((wire.id, which))
    return found


def _in(end: End | None, part: Part, group: set[str]) -> bool:
    return end is not None and end.part == part.id and end.node[1] in group


def _drop_loops(draft: Draft, part: Part, group: set[str]) -> None:
    """Delete the wires from a group of terminals to itself."""
    wires = draft.wires.values()
    loops = [w.id for w in wires if _in(w.first, part, group) and _in(w.second, part, group)]
    if loops:
        draft.apply(cut_out(draft.circuit, (), loops))


def _join_group(draft: Draft, part: Part, group: set[str]) -> None:
    """Lead all wires but one on to the far end of that one."""
    meeting = _at(draft, part, group)
    if len(meeting) < 2:
        for key, which in meeting:
            _open(draft, draft.wires[key], which)
        return
    hub_id, hub_at = _hub(draft, meeting)
    hub = draft.wires[hub_id]
    for key, which in meeting:
        if key != hub_id:
            _lead_on(draft, draft.wires[key], which, hub, hub_at, len(meeting) == 2)
    draft.apply(cut_out(draft.circuit, (), [hub_id]))


def _hub(draft: Draft, meeting: list[Meeting]) -> Meeting:
    """Return the wire that goes: thick, late in the file, and with a far end to lead on to."""

    def rank(item: tuple[int, Meeting]) -> tuple[bool, float, int]:
        index, (key, which) = item
        wire = draft.wires[key]
        area = wire.size.area_mm2 if wire.size else 0.0
        return (far_end(wire, which)[0] is not None, area, index)

    return max(enumerate(meeting), key=rank)[1]


def _lead_on(draft: Draft, wire: Wire, which: str, hub: Wire, hub_at: str, only: bool) -> None:
    """Lead one wire on to the far end of the hub, unless that is where it comes from."""
    far, _ = far_end(hub, hub_at)
    if far is not None and far == far_end(wire, which)[0]:
        draft.apply(cut_out(draft.circuit, (), [wire.id]))
        draft.notes.append(f"{wire_label(wire)} would have ended where it starts and is gone.")
        return
    joined(draft, wire, which, hub, hub_at)
    if only:
        join_routes(draft, wire, which, hub, hub_at)
    else:
        draft.without_routes([wire.id])
    if wire.size != hub.size and wire.size is not None and hub.size is not None:
        size = draft.wires[wire.id].size
        draft.notes.append(
            f"{wire_label(wire)} and {wire_label(hub)} had different sizes: the one wire has the "
            f"thinner, {size.text() if size else 'none'}."
        )


def _open(draft: Draft, wire: Wire, which: str) -> None:
    """Leave one end of a wire open."""
    changed = replace(wire, first=None) if which == "first" else replace(wire, second=None)
    draft.wires[wire.id] = changed
    draft.notes.append(f"{wire_label(wire)} is open at one end.")
