"""Putting several cards in order: aligned, evenly spread, on the grid.

Every act takes the sheet as it is drawn, with every place on it, and moves no card over another:
those that would stand over one are moved aside along the free direction, and named.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from model.circuit import Circuit, Place, Sheet
from model.editing.draft import Draft, Edit, named, on_grid
from model.editing.errors import EditError
from model.editing.room import Room
from model.layout.geometry import GRID, Rect

Line = Callable[[Rect], float]
SIDES: dict[str, tuple[str, Line, Callable[[Iterable[float]], float]]] = {
    "left": ("x", lambda r: r.x, min),
    "right": ("x", lambda r: r.right, max),
    "top": ("y", lambda r: r.y, min),
    "bottom": ("y", lambda r: r.bottom, max),
    "centre": ("x", lambda r: r.centre[0], lambda v: _mean(list(v))),
    "middle": ("y", lambda r: r.centre[1], lambda v: _mean(list(v))),
}
"""The lines to align to: the coordinate that changes, where it is on a card, which one holds."""


def align(circuit: Circuit, shown: Sheet, part_ids: Iterable[str], side: str) -> Edit:
    """Return the edit that brings cards to one line.

    Parameters
    ----------
    shown
        The sheet as drawn, with every place on it.
    side
        left, right, top, bottom: to the outermost edge; centre: under each other on the mean of
        their middles; middle: beside each other likewise.

    Raises
    ------
    EditError
        The side is none of these.
    """
    if side not in SIDES:
        raise EditError(f"Cards cannot be aligned to “{side}”; use one of {', '.join(SIDES)}.")
    room = Room(circuit, shown)
    chosen = room.places_of(part_ids)
    axis, line, choose = SIDES[side]
    if len(chosen) < 2:
        return _put(circuit, room, [], "", "Align")
    at = choose([line(room.body(p)) for p in chosen])
    moved = [_shifted(p, axis, at - line(room.body(p))) for p in chosen]
    return _put(circuit, room, moved, "y" if axis == "x" else "x", f"Align {side}")


def distribute(circuit: Circuit, shown: Sheet, part_ids: Iterable[str], axis: str) -> Edit:
    """Return the edit that leaves the same gap between cards from the first to the last.

    Parameters
    ----------
    shown
        The sheet as drawn, with every place on it.
    axis
        "x" from left to right, "y" from top to bottom. Where they do not fit between the first
        and the last, the last moves on.

    Raises
    ------
    EditError
        The axis is neither.
    """
    if axis not in ("x", "y"):
        raise EditError(f"Cards cannot be spread along “{axis}”; use x or y.")
    room = Room(circuit, shown)
    chosen = room.places_of(part_ids)
    verb = "Space across" if axis == "x" else "Space down"
    if len(chosen) < 3:
        return _put(circuit, room, [], "", verb)
    return _put(circuit, room, _spread(room, chosen, axis), axis, verb)


def snap_places(circuit: Circuit, shown: Sheet, part_ids: Iterable[str]) -> Edit:
    """Return the edit that puts cards on the nearest places of the grid."""
    room = Room(circuit, shown)
    chosen = room.places_of(part_ids)
    off = [p for p in chosen if p.x % GRID or p.y % GRID]
    moved = [replace(p, x=on_grid(p.x), y=on_grid(p.y), pinned=True) for p in off]
    return _put(circuit, room, moved, "", "Put on the grid")


def separate(circuit: Circuit, shown: Sheet, part_ids: Iterable[str]) -> Edit:
    """Return the edit that moves cards aside where they stand over others."""
    room = Room(circuit, shown)
    return _put(circuit, room, room.places_of(part_ids), "", "Move apart")


def _spread(room: Room, chosen: Sequence[Place], axis: str) -> list[Place]:
    """Return the places with equal gaps, to the grid."""
    spans = [(_span(room.body(p), axis), p) for p in chosen]
    spans.sort(key=lambda s: (s[0][0] + s[0][1] / 2, s[1].id))
    (start, _), (last, size) = spans[0][0], spans[-1][0]
    free = last + size - start - sum(size for (_, size), _ in spans)
    gap = max(free / (len(spans) - 1), 2.0 * GRID)
    made, at = [], start
    for (low, size), place in spans:
        made.append(_shifted(place, axis, at - low))
        at += size + gap
    return made


def _span(area: Rect, axis: str) -> tuple[float, float]:
    """Return where a card starts along an axis and how long it is."""
    return (area.x, area.w) if axis == "x" else (area.y, area.h)


def _shifted(place: Place, axis: str, by: float) -> Place:
    """Return a place moved along one axis, to the grid there."""
    if axis == "x":
        return replace(place, x=on_grid(place.x + by), pinned=True)
    return replace(place, y=on_grid(place.y + by), pinned=True)


def _put(circuit: Circuit, room: Room, moved: Sequence[Place], axis: str, verb: str) -> Edit:
    """Return the edit of moved places, none over another card."""
    draft = Draft(circuit)
    made, said = room.apart(moved, axis)
    known = room.shown.places
    draft.put_places(room.shown, [p for p in made if p != known[p.id]])
    draft.notes += [said] if said else []
    parts = [p.part for p in moved]
    return draft.done(f"{verb}: {named(circuit, dict.fromkeys(parts))}".rstrip(": "), parts)


def _mean(values: Sequence[float]) -> float:
    return sum(values) / len(values)
