"""What a card of a drawing might become, about what that costs, and whether it may stand there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from model.circuit import Place
from model.layout.drawn import Drawer, Drawn
from model.layout.geometry import snap
from model.layout.limited import WIRE
from model.layout.relaxed import BEND
from model.layout.shape import Card

ROOM = 20
"""Free room kept around a card that is moved."""
BESIDE = 90
BELOW = 110
GAP_BELOW = 60


class Moves:
    """The changes of one card at a time; `families` are those of the parts."""

    def __init__(self, drawer: Drawer, families: Mapping[str, str]) -> None:
        self.drawer = drawer
        self.families = families

    def tries(self, now: Drawn, key: str) -> Iterator[Place]:
        """Yield what a card might become."""
        place = now.places[key]
        poses = [place]
        if now.cards[key].shape == "card":
            poses += [replace(place, mirrored=not place.mirrored)]
            poses += [replace(p, turn=(p.turn + 180) % 360) for p in poses]
        for pose in poses:
            yield pose
            made = now.cards[key] if pose is place else self.drawer.card(pose)
            for wire in now.router.joints.at(key):
                yield from self._beside(now, pose, made, wire)

    def _beside(self, now: Drawn, pose: Place, made: Card, wire: str) -> Iterator[Place]:
        """Yield places level with, below or beside the other end of a wire."""
        both = now.router.both(wire)
        if both is None:
            return
        mine, far = both if both[0].place.id == pose.id else both[::-1]
        if far.place.id == pose.id or mine.port.node not in made.ports:
            return
        other = now.cards[far.place.id]
        for spot in far.port.spots[:3]:
            x, y = far.at(spot)
            port = made.ports[mine.port.node]
            yield replace(pose, y=y - port.y)
            yield replace(pose, x=x - port.x)
            away = (other.width + made.width) / 2 + BESIDE
            for side in (-1, 1):
                yield replace(pose, x=snap(far.place.x + side * away), y=y - port.y)
        down = (other.height + made.height) / 2 + BELOW
        for side in (-1, 1):
            x = far.place.x
            yield replace(pose, x=snap(x), y=snap(far.place.y + side * down))

    def guess(self, now: Drawn, place: Place) -> float:
        """Return about what the wires of a card would cost, nothing in their way."""
        made = self.drawer.card(place)
        total = 0.0
        for wire in now.router.joints.at(place.id):
            both = now.router.both(wire)
            if both is None:
                continue
            mine, far = both if both[0].place.id == place.id else both[::-1]
            port, spot = made.ports[mine.port.node], far.port.spots[0]
            ends = [(s.x + place.x, s.y + place.y, s.side) for s in port.spots[:5]]
            others = [(*far.at(s), s.side) for s in far.port.spots[:5]]
            total += min(_least(a, b) for a in ends for b in others) if spot else 0
        return total

    def may_stand(self, now: Drawn, place: Place, made: Card) -> bool:
        """Tell whether a card has room at a place, and the drawing keeps its directions."""
        outer = made.outer.moved(place.x, place.y).grown(ROOM)
        others = [(k, p) for k, p in now.places.items() if k != place.id]
        if any(outer.overlaps(now.cards[k].outer.moved(p.x, p.y)) for k, p in others):
            return False
        family = self.families[place.part]
        if family == "load" and any(
            self.families[p.part] == "supply" and p.x > place.x for _, p in others
        ):
            return False
        return all(self._is_below(now, place, w) for w in now.router.joints.at(place.id))

    def _is_below(self, now: Drawn, place: Place, wire: str) -> bool:
        """Tell whether the ground point of a wire, if one end is one, stands below the other."""
        both = now.router.both(wire)
        if both is None:
            return True
        ends = [place if j.place.id == place.id else j.place for j in both]
        grounds = [self.families[p.part] == "ground" for p in ends]
        if grounds[0] == grounds[1]:
            return True
        ground, other = ends if grounds[0] else ends[::-1]
        return ground.y > other.y + GAP_BELOW


End = tuple[float, float, str]


def _least(a: End, b: End) -> float:
    """Return about the least that a wire between two spots costs."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    bends = _bends(a, b, dx, dy)
    return BEND * bends + WIRE * (abs(dx) + abs(dy))


def _bends(a: End, b: End, dx: float, dy: float) -> int:
    """Return the least bends: none when both face each other on one line."""
    level_a, level_b = a[2] in ("left", "right"), b[2] in ("left", "right")
    ahead_a = _ahead(a[2], dx, dy)
    ahead_b = _ahead(b[2], -dx, -dy)
    if level_a == level_b:
        off = dy if level_a else dx
        if a[2] == b[2]:
            return 2
        if ahead_a > 0 and ahead_b > 0:
            return 0 if off == 0 else 2
        return 4
    return 1 if ahead_a > 0 and ahead_b > 0 else 3


def _ahead(side: str, dx: float, dy: float) -> float:
    """Return how far the other end lies in front of a side."""
    return {"left": -dx, "right": dx, "top": -dy, "bottom": dy}[side]
