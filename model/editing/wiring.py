"""Wires under the hand: a part put in line, a splice made, an end joined elsewhere."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from model.circuit import Circuit, End, Part, Place, Route, Sheet, Wire
from model.editing.draft import Draft, Edit, on_grid, part_at, wire_at
from model.editing.errors import EditError
from model.editing.facing import foot, in_line
from model.editing.inline import pair
from model.editing.room import Room
from model.editing.splitting import Spot, split, turned
from model.layout.flow import flow
from model.layout.geometry import GRID
from model.lookup import end_label, fresh_id, label, wire_label

ENDS = ("first", "second")


def rejoin(circuit: Circuit, wire_id: str, which: str, end: End | None) -> Edit:
    """Return the edit that puts one end of a wire on another terminal, or leaves it open.

    Parameters
    ----------
    which
        "first" or "second".
    end
        The terminal; None leaves the end open.

    Raises
    ------
    EditError
        There is no such wire, end or terminal, or both ends would be at the same one.
    """
    wire = wire_at(circuit, wire_id)
    draft = Draft(circuit)
    _set_end(draft, wire, which, end)
    where = end_label(circuit, end)
    return draft.done(f"Join {wire_label(wire)} to {where}" if end else f"Open {wire_label(wire)}",
                      [wire_id])  # fmt: skip


def swap_ends(circuit: Circuit, wire_ids: Sequence[str]) -> Edit:
    """Return the edit that turns wires round, with what is crimped on their ends and their bends.

    Raises
    ------
    EditError
        There is no such wire.
    """
    draft = Draft(circuit)
    wires = [wire_at(circuit, w) for w in dict.fromkeys(wire_ids)]
    for wire in wires:
        draft.wires[wire.id] = turned(wire)
    for sheet in circuit.sheets.values():
        back = {w.id: sheet.routes[w.id] for w in wires if w.id in sheet.routes}
        routes = {k: Route(k, r.bends[::-1]) for k, r in back.items()}
        draft.sheets[sheet.id] = replace(sheet, routes={**sheet.routes, **routes})
    return draft.done(f"Swap ends of {', '.join(map(wire_label, wires[:3]))}", wire_ids)


def insert_part(
    circuit: Circuit, wire_id: str, part: Part, shown: Sheet, spot: Spot | None = None
) -> Edit:
    """Return the edit that puts a part in line with a wire, its fed side towards the supply.

    Parameters
    ----------
    part
        A new part, or one that is there and whose two terminals in line are free.
    shown
        The sheet as drawn, with every place on it; the part stands where it is cut.
    spot
        Where on the wire; None cuts it in the middle and leaves the part's place to the layout.

    Raises
    ------
    EditError
        There is no such wire, the wire ends at the part, or nothing leads through the part.
    """
    wire, where = wire_at(circuit, wire_id), spot or Spot()
    draft = Draft(circuit)
    if any(e is not None and e.part == part.id for e in (wire.first, wire.second)):
        raise EditError(f"{wire_label(wire)} ends at {label(part)} already; drop another part.")
    draft.parts.setdefault(part.id, part)
    fed, on = pair(draft.circuit, draft.parts[part.id])
    busy = [e for w in circuit.wires.values() for e in (w.first, w.second)]
    if fed != on and (fed in busy or on in busy):
        taken = end_label(circuit, fed if fed in busy else on)
        raise EditError(f"A wire ends at {taken} already; take it off before putting it in line.")
    near, far = (fed, on) if fed_first(circuit, wire) else (on, fed)
    second = split(draft, wire, near, far, replace(where, sheet_id=where.sheet_id or shown.id))
    _place(draft, shown, part.id, where, (near, far))
    text = f"Insert {label(part)} in {wire_label(wire)}"
    return draft.done(text, [part.id, wire.id, second.id])


def splice_end(
    circuit: Circuit, wire_id: str, which: str, onto: str, shown: Sheet, spot: Spot | None = None
) -> Edit:
    """Return the edit that joins one end of a wire to another wire, by a new splice in that.

    Parameters
    ----------
    which
        "first" or "second" end of the wire.
    onto
        The wire it is dropped on.
    shown
        The sheet as drawn, with every place on it.
    spot
        Where on that wire; None cuts it in the middle and leaves the splice's place to the layout.

    Raises
    ------
    EditError
        There is no such wire or end, or both are the same wire.
    """
    wire = wire_at(circuit, wire_id)
    if wire_id == onto:
        raise EditError(f"{wire_label(wire)} cannot be spliced to itself; drop it on another wire.")
    draft = Draft(circuit)
    end = _splice(draft, wire_at(circuit, onto), shown, spot or Spot())
    _set_end(draft, wire, which, end)
    text = f"Splice {wire_label(wire)} to {wire_label(circuit.wires[onto])}"
    return draft.done(text, [wire_id, end.part])


def splice_from(
    circuit: Circuit,
    start: End,
    onto: str,
    shown: Sheet,
    spot: Spot | None = None,
    wire: Wire | None = None,
) -> Edit:
    """Return the edit that draws a new wire from a terminal to another wire, by a new splice.

    Parameters
    ----------
    start
        The terminal.
    onto, shown, spot
        As for `splice_end`.
    wire
        What the new wire is like; its id, number and ends are set here. None: it has the size,
        colours and insulation of the wire it branches off.

    Raises
    ------
    EditError
        There is no such wire or terminal.
    """
    target = wire_at(circuit, onto)
    draft = Draft(circuit)
    _check_end(draft, start)
    end = _splice(draft, target, shown, spot or Spot())
    like = wire or Wire("", size=target.size, colour=target.colour, tracer=target.tracer,
                        insulation=target.insulation)  # fmt: skip
    made = replace(like, id=draft.fresh("w"), number=draft.number(), first=start, second=end)
    draft.wires[made.id] = made
    text = f"Splice {end_label(circuit, start)} to {wire_label(target)}"
    return draft.done(text, [made.id, end.part])


def fed_first(circuit: Circuit, wire: Wire) -> bool:
    """Tell whether a wire's first end is nearer to a supply's plus than its second.

    Where neither is known to be (an open end, nothing feeds it), the first counts as such.
    """
    laid = flow(circuit)
    for arrow in laid.arrows:
        if arrow.wire == wire.id and wire.first and wire.second:
            ends = [(_host(circuit, e), e.node[1]) for e in (wire.first, wire.second)]
            return ends[0] == (arrow.tail, arrow.tail_node)
    for wire_id, _, (ground, _) in laid.ground_wires:
        if wire_id == wire.id and wire.first:
            return _host(circuit, wire.first) != ground
    return True


def _host(circuit: Circuit, end: End) -> str:
    """Return the part whose card an end is drawn at."""
    part, seen = end.part, set[str]()
    while part not in seen and circuit.parts[part].host in circuit.parts:
        seen.add(part)
        part = circuit.parts[part].host
    return part


def _set_end(draft: Draft, wire: Wire, which: str, end: End | None) -> None:
    """Put one end of a wire somewhere; what was crimped on for a terminal stays."""
    if which not in ENDS:
        raise EditError(f"A wire has no end “{which}”; use first or second.")
    if end is not None:
        _check_end(draft, end)
    now = draft.wires[wire.id]
    other = now.second if which == "first" else now.first
    if end is not None and end == other:
        raise EditError(
            f"Both ends of {wire_label(wire)} would be at {end_label(draft.circuit, end)}; choose "
            "another terminal."
        )
    changed = replace(now, first=end) if which == "first" else replace(now, second=end)
    if changed != now:
        draft.without_routes([wire.id])
    draft.wires[wire.id] = changed


def _check_end(draft: Draft, end: End) -> None:
    """Raise when there is no such terminal."""
    part = part_at(draft, end.part)
    if not draft.has(end):
        keys = dict.fromkeys(t.node for t in draft.body(part).terminals)
        known = f"use one of {', '.join(list(keys)[:12])}" if keys else "choose another part"
        raise EditError(f"{label(part)} has no terminal “{end.node[1]}”; {known}.")


def _splice(draft: Draft, target: Wire, shown: Sheet, spot: Spot) -> End:
    """Put a new splice in a wire and return where others join it."""
    part = Part(draft.fresh("p"), "splice", draft.reference("SP"))
    draft.parts[part.id] = part
    end = End(part.id, "s")
    split(draft, target, end, end, replace(spot, sheet_id=spot.sheet_id or shown.id))
    _place(draft, shown, part.id, spot, (end, end))
    return end


def _place(draft: Draft, shown: Sheet, part_id: str, spot: Spot, ends: tuple[End, End]) -> None:
    """Put a part where a wire was cut and the way it runs, or as near as there is room."""
    circuit = draft.circuit
    room = Room(circuit, shown, spot.sizes)
    known = room.places_of([part_id])
    if spot.at is None or len(known) > 1:
        return
    x, y = map(on_grid, foot(spot))
    new = known[0] if known else Place(fresh_id(shown.places, "c"), part_id)
    wish = in_line(circuit, replace(new, x=x, y=y, pinned=True), *ends, spot)
    made = room.together([wish], gap=0.0 if ends[0] == ends[1] else GRID)
    if made != [wish]:
        draft.notes.append(f"{label(draft.parts[part_id])} stands beside, where there is room.")
    draft.put_places(shown, made)
