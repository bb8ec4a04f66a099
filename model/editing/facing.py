"""How a part stands in line with a wire: which way round, and where on it.

The wire goes straight through where it can: in at the terminal that faces where it comes from, out
at the one that faces where it goes. A part of two terminals is turned for that; one of more is
only mirrored, for its other wires come from the sides that its kind has them at.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from model.circuit import Circuit, End, Place
from model.editing.draft import on_grid
from model.editing.splitting import Spot, nearest
from model.layout.card import Card, card
from model.layout.geometry import OUTWARD, Point
from model.layout.shape import Port

MARGIN = 20.0
"""What of a straight piece is left at either end of a part put in line with it, if it is long."""
TURNED, MIRRORED = 0.5, 0.2
"""What standing otherwise than before costs against a wire that leaves sideways, which costs 1."""


def in_line(circuit: Circuit, place: Place, near: End, far: End, spot: Spot) -> Place:
    """Return the place of a part put in line with a wire, turned and mirrored to suit it.

    Parameters
    ----------
    circuit
        With the part in it and its wires ending there.
    place
        Where it would stand if nothing were known of the wire.
    near, far
        Its terminals at which the wire comes in and goes on, along the path.
    spot
        Where on the wire, with its path. Without one, or where both terminals are the same (a
        splice), the place is returned as it is.
    """
    if spot.at is None or len(spot.path) < 2 or near == far:
        return place
    a, b = list(pairwise(spot.path))[nearest(spot.path, spot.at)[0]]
    way = (_sign(b[0] - a[0]), _sign(b[1] - a[1]))
    poses = [(p, _card(circuit, p, spot)) for p in _poses(circuit, place)]
    poses = [(p, c) for p, c in poses if {near.node[1], far.node[1]} <= c.ports.keys()]
    if not poses:
        return place
    ends = near.node[1], far.node[1]
    best, made = min(poses, key=lambda pose: _cost(pose[0], pose[1], place, ends, way))
    x, y = _middle(made.ports[ends[0]], made.ports[ends[1]], foot(spot), (a, b))
    return replace(best, x=on_grid(x), y=on_grid(y))


def foot(spot: Spot) -> Point:
    """Return the point of the wire that is nearest to where something was let go."""
    if spot.at is None or len(spot.path) < 2:
        return spot.at or (0.0, 0.0)
    index, along = nearest(spot.path, spot.at)
    (ax, ay), (bx, by) = spot.path[index], spot.path[index + 1]
    length = abs(bx - ax) + abs(by - ay)
    share = along / length if length else 0.0
    return (ax + (bx - ax) * share, ay + (by - ay) * share)


def _poses(circuit: Circuit, place: Place) -> Iterator[Place]:
    """Yield the ways in which a part may stand, the one it has first."""
    ports = card(circuit, circuit.parts[place.part], place).ports
    turns = (0, 90, 270, 180) if len(ports) == 2 else (0,)
    for by in turns:
        for other in (False, True):
            turn, mirrored = (place.turn + by) % 360, place.mirrored is not other
            yield replace(place, turn=turn, mirrored=mirrored)


def _cost(pose: Place, made: Card, was: Place, ends: tuple[str, str], way: Point) -> float:
    """Return how ill a pose suits a wire that runs along `way`."""
    into = _mismatch(made.ports[ends[0]], (-way[0], -way[1]))
    out = _mismatch(made.ports[ends[1]], way)
    changed = TURNED * (pose.turn != was.turn) + MIRRORED * (pose.mirrored != was.mirrored)
    return into + out + changed


def _mismatch(port: Port, wanted: Point) -> float:
    """Return 0 where a terminal faces the way wanted, 1 where it is across, 3 where opposite."""
    dx, dy = OUTWARD[port.direction]
    facing = dx * wanted[0] + dy * wanted[1]
    return 0.0 if facing > 0 else 3.0 if facing < 0 else 1.0


def _middle(near: Port, far: Port, at: Point, leg: tuple[Point, Point]) -> Point:
    """Return where the card's middle comes so that the wire meets its terminal in line."""
    (ax, ay), (bx, by) = leg
    if ay == by:
        across = _within(at[0], (near.x, far.x), (ax, bx))
        return across, at[1] - near.y
    return at[0] - near.x, _within(at[1], (near.y, far.y), (ay, by))


def _within(at: float, ports: tuple[float, float], ends: tuple[float, float]) -> float:
    """Return the middle along a piece with both terminals on it, as near to a point as may be."""
    wish = at - sum(ports) / 2
    low, high = min(ends) + MARGIN - min(ports), max(ends) - MARGIN - max(ports)
    return min(max(wish, low), high) if low <= high else wish


def _card(circuit: Circuit, place: Place, spot: Spot) -> Card:
    return card(circuit, circuit.parts[place.part], place, sizes=spot.sizes)


def _sign(value: float) -> float:
    return float((value > 0) - (value < 0))
