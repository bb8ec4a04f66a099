"""A wire that was cut where it lay: both halves keep its way, so that nothing else jumps."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise

from model.circuit import Circuit, Wire
from model.layout.geometry import OUTWARD, Point
from model.layout.joints import Joint, Joints
from model.layout.path import Path, tidy


def halves(
    circuit: Circuit,
    joints: Joints,
    before: Mapping[str, Wire],
    ways: Mapping[str, tuple[Point, ...]],
) -> dict[str, Path]:
    """Return the ways of wires that were cut, as parts of the way before.

    Parameters
    ----------
    before, ways
        The wires as they were and how they ran.
    """
    new = [w for k, w in circuit.wires.items() if k not in before]
    found: dict[str, Path] = {}
    for key, way in ways.items():
        wire, old = circuit.wires.get(key), before.get(key)
        if wire is None or old is None or wire.first != old.first or wire.second == old.second:
            continue
        other = next((w for w in new if w.second == old.second and _meet(wire, w)), None)
        if other is not None:
            found |= _cut(way, joints, key, other.id)
    return found


def _meet(first: Wire, second: Wire) -> bool:
    """Tell whether the end of one wire and the start of another are at the same part."""
    ends = first.second, second.first
    return None not in ends and len({e.part for e in ends if e is not None}) == 1


def _cut(way: tuple[Point, ...], joints: Joints, first: str, second: str) -> dict[str, Path]:
    """Return the parts of a way before and after the card between two wires; none if it is off."""
    into, out = joints.of(first)[1], joints.of(second)[0]
    if into is None or out is None:
        return {}
    made: dict[str, Path] = {}
    for i, (a, b) in enumerate(pairwise(way)):
        for p in _facing(into, a, b, -1):
            made.setdefault(first, Path(tidy((*way[: i + 1], p))))
        for p in _facing(out, a, b, 1):
            made[second] = Path(tidy((p, *way[i + 1 :])))
    return made


def _facing(joint: Joint, a: Point, b: Point, along: int) -> Iterator[Point]:
    """Yield the spots of a port on a piece of a way that a wire meets straight on.

    `along` is 1 where the wire leaves the port towards `b`, -1 where it comes from `a`.
    """
    way = (_sign(b[0] - a[0]) * along, _sign(b[1] - a[1]) * along)
    for spot in joint.port.spots:
        x, y = joint.at(spot)
        on = min(a[0], b[0]) <= x <= max(a[0], b[0]) and min(a[1], b[1]) <= y <= max(a[1], b[1])
        if on and OUTWARD[spot.side] == way:
            yield x, y


def _sign(value: float) -> int:
    return (value > 0) - (value < 0)
