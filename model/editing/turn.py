"""Turning and mirroring several cards as one picture, around their common middle.

Kept ways of wires between two of the cards go along.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from model.circuit import Circuit, Place, Route, Sheet
from model.editing.draft import Draft, Edit, named, on_grid, within
from model.editing.errors import EditError
from model.editing.room import Room
from model.layout.geometry import GRID, Point, Rect, snap

Move = Callable[[Point], Point]


def mirror(circuit: Circuit, shown: Sheet, part_ids: Iterable[str], axis: str = "x") -> Edit:
    """Return the edit that mirrors cards: left and right ("x") or top and bottom ("y").

    Parameters
    ----------
    shown
        The sheet as drawn, with every place on it.

    Raises
    ------
    EditError
        The axis is neither.
    """
    if axis not in ("x", "y"):
        raise EditError(f"Cards cannot be mirrored along “{axis}”; use x or y.")
    room = Room(circuit, shown)
    chosen = [_gridded(p) for p in room.places_of(part_ids)]
    box = _box(chosen)
    left, top = 2 * box.x + box.w, 2 * box.y + box.h

    def move(at: Point) -> Point:
        return (left - at[0], at[1]) if axis == "x" else (at[0], top - at[1])

    # A card is mirrored before it is turned: mirroring what is turned turns it the other way.
    half = 0 if axis == "x" else 180
    turned = [replace(p, mirrored=not p.mirrored, turn=(half - p.turn) % 360) for p in chosen]
    return _moved(circuit, room, turned, move, "Mirror")


def rotate(circuit: Circuit, shown: Sheet, part_ids: Iterable[str], by: int = 90) -> Edit:
    """Return the edit that turns cards clockwise by quarter turns around their common middle.

    Where the middle lies between two lines of the grid the picture moves by half a step, and back
    with the next turn: four turns leave everything where it was.

    Raises
    ------
    EditError
        The angle is no multiple of 90 degrees.
    """
    if by % 90:
        raise EditError(f"Cards turn by quarter turns, not by {by} degrees; use 90, 180 or 270.")
    room = Room(circuit, shown)
    chosen = [_gridded(p) for p in room.places_of(part_ids)]
    turned = [replace(p, turn=(p.turn + by) % 360) for p in chosen]
    return _moved(circuit, room, turned, _turning(_box(chosen), by % 360), "Turn")


def _turning(box: Rect, by: int) -> Move:
    """Return what a turn around the middle of a box does to a point."""
    cx, cy = box.centre
    odd = (snap(box.w) + snap(box.h)) % (2 * GRID)
    shift = (GRID / 2 if box.w > box.h else -GRID / 2) if odd and by in (90, 270) else 0.0

    def move(at: Point) -> Point:
        dx, dy = at[0] - cx, at[1] - cy
        turned = {0: (dx, dy), 90: (-dy, dx), 180: (-dx, -dy), 270: (dy, -dx)}[by]
        return (cx + turned[0] + shift, cy + turned[1] + shift)

    return move


def _box(places: Sequence[Place]) -> Rect:
    """Return the smallest rectangle around the middles of cards."""
    if not places:
        return Rect(0, 0, 0, 0)
    xs, ys = [p.x for p in places], [p.y for p in places]
    return Rect(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))


def _gridded(place: Place) -> Place:
    return replace(place, x=on_grid(place.x), y=on_grid(place.y), pinned=True)


def _moved(circuit: Circuit, room: Room, turned: Sequence[Place], move: Move, verb: str) -> Edit:
    """Return the edit that moves cards and the kept ways between them."""
    draft = Draft(circuit)
    parts = dict.fromkeys(p.part for p in turned)
    new = [replace(p, x=on_grid(x), y=on_grid(y)) for p in turned for x, y in [move((p.x, p.y))]]
    made, said = room.apart(new)
    draft.put_places(room.shown, made)
    draft.notes += [said] if said else []
    _move_routes(draft, room.shown.id, set(parts), move)
    return draft.done(f"{verb} {named(circuit, parts)}".rstrip(), parts)


def _move_routes(draft: Draft, sheet_id: str, parts: set[str], move: Move) -> None:
    """Move the kept ways of wires with both ends at these parts."""
    sheet = draft.sheets.get(sheet_id)
    if sheet is None:
        return
    routes = dict(sheet.routes)
    for key, route in sheet.routes.items():
        wire = draft.wires.get(key)
        ends = [e.part for e in (wire.first, wire.second) if e] if wire else []
        if len(ends) == 2 and set(ends) <= parts:
            bends = tuple((within(x), within(y)) for x, y in map(move, route.bends))
            routes[key] = Route(key, bends)
    draft.sheets[sheet_id] = replace(sheet, routes=routes)
