"""What becomes of the kept bends of wires when cards move."""

from __future__ import annotations

from dataclasses import replace

from model.circuit import Circuit, End, Route, Sheet
from model.layout.geometry import Point


def carried(circuit: Circuit, before: Sheet, after: Sheet) -> Sheet:
    """Return the sheet after a move; the bends of wires whose two ends moved alike go along.

    Bends of a wire with one end that moved stay where a person put them: the piece at that end is
    made longer or shorter, or gets a corner, when the wire is drawn.

    Parameters
    ----------
    before, after
        The sheet with every place on it, of the same ids.
    """
    if not after.routes:
        return after
    by = _moved(before, after)
    routes = {k: _with(circuit, r, by) for k, r in after.routes.items()}
    return after if routes == after.routes else replace(after, routes=routes)


def _with(circuit: Circuit, route: Route, by: dict[str, Point]) -> Route:
    """Return the route of a wire moved along with its ends, as it is where they parted."""
    wire = circuit.wires.get(route.wire)
    if wire is None:
        return route
    shifts = {_shift(circuit, end, by) for end in (wire.first, wire.second) if end is not None}
    if len(shifts) != 1:
        return route
    dx, dy = shifts.pop()
    return Route(route.wire, tuple((x + dx, y + dy) for x, y in route.bends))


def _shift(circuit: Circuit, end: End, by: dict[str, Point]) -> Point:
    """Return by how much the card moved that an end is drawn at."""
    part = circuit.parts.get(end.part)
    host = part.host if part and part.host in circuit.parts else end.part
    return by.get(host, (0.0, 0.0))


def _moved(before: Sheet, after: Sheet) -> dict[str, Point]:
    """Return by how much each part moved; nothing where its cards did not move alike."""
    found: dict[str, set[Point]] = {}
    for key, place in after.places.items():
        old = before.places.get(key, place)
        found.setdefault(place.part, set()).add((place.x - old.x, place.y - old.y))
    return {part: next(iter(by)) for part, by in found.items() if len(by) == 1}
