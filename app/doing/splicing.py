"""Splicing without the mouse: what is selected says what is joined to which wire."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import pairwise

from model.circuit import Circuit, End, Part, Sheet, Wire
from model.editing import Edit, EditError, Spot, splice_end, splice_from
from model.layout.geometry import Point
from model.lookup import body_of, label, wire_label, wires_at

Ways = Mapping[str, tuple[Point, ...]]
WHAT = "Select a wire and the part to branch off to it, or a wire with an open end and another one."


def splice_selected(circuit: Circuit, ids: Iterable[str], shown: Sheet, ways: Ways) -> Edit:
    """Return the edit that joins what is selected by a new splice.

    Of a wire and a part, a new wire leads from the part's one free terminal to the wire; of two
    wires, the open end of one is joined to the other.

    Parameters
    ----------
    shown
        The sheet as drawn, with every place on it.
    ways
        The way of each wire as drawn; the splice goes to the middle of its longest piece.

    Raises
    ------
    EditError
        Something else is selected, or it does not say which ends are meant.
    """
    chosen = set(ids)
    parts = [p for p in circuit.parts.values() if p.id in chosen]
    wires = [w for w in circuit.wires.values() if w.id in chosen]
    if len(parts) == 1 and len(wires) == 1:
        key = wires[0].id
        spot = _spot(ways.get(key, ()), shown)
        return splice_from(circuit, _free_end(circuit, parts[0]), key, shown, spot)
    if len(wires) != 2 or parts:
        raise EditError(WHAT)
    loose, onto = _loose_first(wires)
    which = "first" if loose.first is None else "second"
    return splice_end(circuit, loose.id, which, onto.id, shown, _spot(ways.get(onto.id, ()), shown))


def _free_end(circuit: Circuit, part: Part) -> End:
    """Return the one terminal of a part that a new wire can mean."""
    body = body_of(circuit, part)
    used = {
        e.node
        for w in wires_at(circuit, part.id)
        for e in (w.first, w.second)
        if e is not None and e.part == part.id
    }
    every = [End(part.id, t.key, t.face) for t in body.terminals]
    free = [e for e in every if e.node not in used] or (every if len(every) == 1 else [])
    if len(free) == 1:
        return free[0]
    count = f"{len(free)} free terminals" if free else "no free terminal"
    raise EditError(f"{label(part)} has {count}; drag from the one meant to the wire.")


def _loose_first(wires: list[Wire]) -> tuple[Wire, Wire]:
    """Return the wire with an open end, and the other."""
    for wire, other in (wires, wires[::-1]):
        if wire.first is None or wire.second is None:
            return wire, other
    names = " nor ".join(wire_label(w) for w in wires)
    raise EditError(
        f"Neither {names} has an open end; open one first or drag its end to the other."
    )


def _spot(way: tuple[Point, ...], shown: Sheet) -> Spot | None:
    """Return the middle of the longest piece of a wire, None where it is not drawn."""
    if len(way) < 2:
        return None
    (ax, ay), (bx, by) = max(
        pairwise(way), key=lambda leg: abs(leg[0][0] - leg[1][0]) + abs(leg[0][1] - leg[1][1])
    )
    return Spot(((ax + bx) / 2, (ay + by) / 2), way, shown.id)
