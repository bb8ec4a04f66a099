"""Marks where a wire leaves the sheet: which sheet its other end is on, and at which terminal.

A mark is a small paper at the end of a short way out of the terminal. For the layout of the wires
it is one more card, without terminals, so that other wires and labels stay clear of it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

from model.circuit import Circuit, End, Place, Sheet
from model.layout.card import Card, nodes_shown
from model.layout.geometry import GRID, OUTWARD, Point, Rect
from model.layout.joints import Joint, Joints
from model.layout.path import Path, tidy
from model.layout.sizes import Sizes
from model.lookup import body_of, end_label, label, wire_label

OUT = 20.0
"""How far the way goes straight out before it may turn."""
REACHES = (30.0, 60.0, 100.0, 150.0)
ASIDE = (0.0, -30.0, 30.0, -60.0, 60.0, -100.0, 100.0, -150.0, 150.0)
CLEAR = 6.0
RAY = 150.0
"""How far in front of another terminal with wires a mark stands in their way."""
IN_THE_WAY = 90.0
KEY = "→"
"""What the id of a mark's place starts with, for the layout."""


@dataclass(frozen=True, slots=True)
class Mark:
    """Where a wire goes: the text, the area it stands in, the way there from the wire's first end.

    `sheet` is the id of the sheet with the other end.
    """

    text: str
    sheet: str
    rect: Rect
    path: Path


def marks(
    circuit: Circuit, sheet: Sheet, cards: Mapping[str, Card], sizes: Sizes
) -> dict[str, Mark]:
    """Return the marks of a sheet by wire: one for each wire with one of its two ends elsewhere."""
    if len(circuit.sheets) < 2:
        return {}
    joints = Joints(circuit, sheet, cards)
    room = _Room(sheet, cards, joints)
    found: dict[str, Mark] = {}
    for key, joint, far, outward in _leaving(circuit, joints):
        away, name = _sheet_of(circuit, sheet, far)
        text = f"{wire_label(circuit.wires[key])} → {name}, {_said(circuit, far)}"
        rect, points = room.find(joint, sizes.label_area(text))
        found[key] = Mark(text, away, rect, Path(points if outward else points[::-1]))
    return found


def with_marks(
    sheet: Sheet, cards: Mapping[str, Card], found: Mapping[str, Mark]
) -> tuple[Sheet, Mapping[str, Card]]:
    """Return sheet and cards with a card for every mark, for the layout of wires and labels."""
    if not found:
        return sheet, cards
    places, made = dict(sheet.places), dict(cards)
    none = Rect(0, 0, 0, 0)
    for wire, mark in found.items():
        key, rect = KEY + wire, mark.rect
        places[key] = Place(key, key, rect.x + rect.w / 2, rect.y + rect.h / 2)
        made[key] = Card(rect.w, rect.h, {}, none, none, none)
    return replace(sheet, places=places), made


def _leaving(circuit: Circuit, joints: Joints) -> Iterator[tuple[str, Joint, End, bool]]:
    """Yield the wires with one end here: its joint, the far end, whether the first is the one."""
    for key, wire in circuit.wires.items():
        first, second = joints.of(key)
        if wire.first is None or wire.second is None:
            continue
        if first is not None and second is None:
            yield key, first, wire.second, True
        elif second is not None and first is None:
            yield key, second, wire.first, False


def _said(circuit: Circuit, end: End) -> str:
    """Return an end as people write it, K1.86; of a ground point or stud its reference alone."""
    part = circuit.parts.get(end.part)
    only = part is not None and len(body_of(circuit, part).terminals) == 1
    return label(part) if part is not None and only else end_label(circuit, end)


def _sheet_of(circuit: Circuit, here: Sheet, end: End) -> tuple[str, str]:
    """Return id and name of the sheet where an end is drawn; the first has what stands nowhere."""
    part = circuit.parts.get(end.part)
    wanted = {end.part, part.host if part else ""}
    others = [(i, k, s) for i, (k, s) in enumerate(circuit.sheets.items(), 1) if k != here.id]
    for number, key, sheet in others:
        if any(p.part in wanted and _has(circuit, p, end) for p in sheet.places.values()):
            return key, sheet.name or f"Sheet {number}"
    number, key, sheet = others[0]
    return key, sheet.name or f"Sheet {number}"


def _has(circuit: Circuit, place: Place, end: End) -> bool:
    """Tell whether the terminal of an end is shown at a place of its part."""
    part = circuit.parts.get(place.part)
    return part is None or not place.shows or end.node[1] in nodes_shown(circuit, part, place)


class _Room:
    """What stands on the sheet while marks look for their places, one after the other."""

    def __init__(self, sheet: Sheet, cards: Mapping[str, Card], joints: Joints) -> None:
        self._cards = {
            k: cards[k].outer.moved(p.x, p.y).grown(CLEAR)
            for k, p in sheet.places.items()
            if k in cards
        }
        self._taken: list[Rect] = []
        self._used: dict[tuple[str, str], int] = {}
        self._rays = [(j.key, _ray(j)) for j in joints.every()]

    def find(self, joint: Joint, size: tuple[float, float]) -> tuple[Rect, tuple[Point, ...]]:
        """Return the area of a mark and the way to it, and keep both free from now on."""
        count = self._used.get(joint.key, 0)
        self._used[joint.key] = count + 1
        spots = joint.port.spots
        spot = spots[-1 - count % len(spots)]
        tries = [_try(joint.at(spot), spot.side, size, r, a) for r in REACHES for a in ASIDE]
        rect, points = min(tries, key=lambda t: self._cost(joint, *t))
        self._taken += [rect.grown(4), *(_thin(a, b) for a, b in pairwise(points[1:]))]
        return rect, points

    def _cost(self, joint: Joint, rect: Rect, points: tuple[Point, ...]) -> float:
        """Return what a place costs: the length of the way, and dearly what it lies on."""
        length = sum(abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in pairwise(points))
        legs = [*pairwise(points)]
        others = [r for k, r in self._cards.items() if k != joint.place.id]
        own = self._cards[joint.place.id]
        hit = rect.overlaps(own) + sum(own.crossed_by(a, b) for a, b in legs[1:])
        for area in (*others, *self._taken):
            hit += rect.overlaps(area) + any(area.crossed_by(a, b) for a, b in legs)
        rays = sum(rect.overlaps(ray) for key, ray in self._rays if key != joint.key)
        return length + IN_THE_WAY * rays + 1000.0 * hit


def _try(
    at: Point, side: str, size: tuple[float, float], reach: float, aside: float
) -> tuple[Rect, tuple[Point, ...]]:
    """Return an area so far out of a terminal and so far aside, and the way to it."""
    (x, y), (dx, dy), (w, h) = at, OUTWARD[side], size
    turn = (x + dx * OUT, y + dy * OUT)
    if dx:
        end = (x + dx * reach, y + aside)
        rect = Rect(end[0] if dx > 0 else end[0] - w, end[1] - h / 2, w, h)
        return rect, tidy((at, turn, (turn[0], end[1]), end))
    end = (x + aside, y + dy * reach)
    rect = Rect(end[0] - w / 2, end[1] if dy > 0 else end[1] - h, w, h)
    return rect, tidy((at, turn, (end[0], turn[1]), end))


def _ray(joint: Joint) -> Rect:
    """Return the area in front of a terminal."""
    spot = joint.port.spots[0]
    (x, y), (dx, dy) = joint.at(spot), OUTWARD[spot.side]
    return _thin((x, y), (x + dx * RAY, y + dy * RAY))


def _thin(a: Point, b: Point) -> Rect:
    """Return the area along a line, half a grid to each side."""
    x, y = min(a[0], b[0]), min(a[1], b[1])
    return Rect(x, y, abs(a[0] - b[0]), abs(a[1] - b[1])).grown(GRID / 2)
