"""Bettering a whole drawing card by card: what is tried is routed, and kept when it is calmer.

A card may go level with what it is wired to, to the other side of it, or be turned over. Supplies
stay; loads stay right of them; ground points stay below what they serve.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from math import inf

import numpy as np

from model.circuit import Circuit, Place, Sheet
from model.layout.card import Card, card, joins
from model.layout.field import CROSS, STEP, STRICT, Leave
from model.layout.geometry import GRID, OUTWARD, snap
from model.layout.labels import place_labels
from model.layout.measure import measure
from model.layout.path import Path, squared, tidy
from model.layout.route import Router
from model.layout.search import BEND
from model.layout.sizes import Sizes
from model.layout.sketch import Gate, sketch
from model.lookup import kind_of

ROUNDS = 3
ROOM = 20
"""Free room kept around a card that is moved."""
BESIDE = 90
BELOW = 110
WIRE = 0.15
"""What a scene unit of wire counts for, against the costs of bends and crossings."""
BEST = 5
"""How many changes of a card are tried, by what they seem to cost."""
HOPE = 150
"""A try up to this much dearer is looked at once more with all wires laid anew."""
GAP_BELOW = 60
CROSSING = 160
"""What a crossing counts for: more than to a single wire, which has to get past the other."""
OVER = 60
"""What a card that is drawn upside down counts for."""
SHORT = 90
TIGHT = 120
"""What a wire counts for that is too short for its number to stand beside it."""
SLACK = 60
"""How much dearer than the least a plain way may be to be taken at once."""
SHARED = 500
"""What a cell that two wires share counts for."""
Cards = dict[str, Card]
Places = dict[str, Place]
Pose = tuple[str, float, float, int, bool]


class _TooDear(Exception):
    """A drawing costs more than it may before all its wires are laid."""


class _Limited(Router):
    """A router that gives up as soon as a drawing cannot come out below a limit.

    `least` are about the least costs of all wires; `spent` what is known by now.
    """

    def __init__(
        self, circuit: Circuit, sheet: Sheet, made: Cards, least: Mapping[str, float], limit: float
    ) -> None:
        super().__init__(circuit, sheet, made)
        self.least, self.limit = least, limit
        self.spent = sum(least.values())
        self._more: dict[str, float] = {}

    def put(self, wire: str, path: Path) -> None:
        """Lay a wire on the grid."""
        more = CROSSING * self.crossings(path) + _way_cost(path) - self.least.get(wire, 0.0)
        self._more[wire] = more
        self.spent += more
        if self.spent > self.limit:
            raise _TooDear
        super().put(wire, path)

    def find(self, wire: str, leave: Leave = STRICT) -> Path | None:
        """Return a way of a wire: a plain one if that is free, else the cheapest."""
        return self._plain(wire) or super().find(wire, leave)

    def _plain(self, wire: str) -> Path | None:
        """Return a way of two bends at most that crosses nothing; None where there is none."""
        both = self.joined(wire)
        if any(len(j.port.spots) > 1 for j in both):
            return None
        gates = []
        for joint in both:
            spot = joint.port.spots[0]
            (x, y), (dx, dy) = joint.at(spot), OUTWARD[spot.side]
            gates.append(Gate(self.field.cell(x + dx * GRID, y + dy * GRID), (dy, dx)))
        found = sketch(self.field, *gates)
        if found is None or not found.is_clear:
            return None
        ends = [j.at(j.port.spots[0]) for j in both]
        path = Path(tidy(squared((ends[0], *map(self.field.point, found.cells), ends[1]))))
        (ra, ca), (rb, cb) = (g.cell for g in gates)
        least = STEP * (abs(ra - rb) + abs(ca - cb)) + BEND * len(path.bends)
        return path if len(path.bends) <= 2 and found.cost <= least + SLACK else None

    def lift(self, wire: str) -> None:
        """Take a wire off the grid."""
        self.spent -= self._more.pop(wire, 0.0)
        super().lift(wire)


def _way_cost(path: Path) -> float:
    """Return what a way costs by itself."""
    length = path.length
    return BEND * len(path.bends) + WIRE * length + (TIGHT if length < SHORT else 0)


@dataclass(frozen=True, slots=True)
class Drawn:
    """A drawing and what it costs."""

    places: Places
    cards: Cards
    router: Router
    cost: float

    @property
    def crossings(self) -> int:
        """How many crossings there are."""
        return sum(map(self.router.crossings, self.router.paths.values())) // 2

    @property
    def is_clear(self) -> bool:
        """Whether nothing overlaps as its wires lie now."""
        return measure(Sheet("", places=self.places), self.cards, self.router.paths).sound

    def shown(self) -> tuple[bool, int]:
        """Return whether nothing overlaps as it is shown, and how many wires have their numbers."""
        router = Router(self.router.circuit, Sheet("", places=self.places), self.cards)
        paths = router.route()
        if not measure(router.sheet, self.cards, paths).sound:
            return False, 0
        labels = place_labels(router.circuit, router.sheet, paths, self.cards)
        return True, sum(label is not None for label in labels.values())


class Polish:
    """The steps of bettering one drawing."""

    def __init__(self, circuit: Circuit, sizes: Sizes | None) -> None:
        self.circuit = circuit
        self.sizes = sizes
        self.counts = joins(circuit)
        self.families = {p.id: kind_of(circuit, p).family for p in circuit.parts.values()}
        self.left = 0
        self._made: dict[tuple[str, int, bool], Card] = {}
        self._known: dict[frozenset[Pose], Drawn | float] = {}

    def drawn(self, places: Places, limit: float = inf) -> Drawn | None:
        """Return a drawing of these places, None where it costs the limit or more."""
        return self._anew(places, {k: self._card(p) for k, p in places.items()}, limit)

    def _anew(self, places: Places, cards: Cards, limit: float) -> Drawn | None:
        """Return a drawing with all its wires laid anew, None where it costs the limit or more."""
        key = frozenset((p.part, p.x, p.y, p.turn, p.mirrored) for p in places.values())
        known = self._known.get(key)
        if known is None or (isinstance(known, float) and known < limit):
            self.left -= 1
            try:
                known = self._drawn(places, cards, limit=limit)
            except _TooDear:
                known = limit
            self._known[key] = known
        return known if isinstance(known, Drawn) and known.cost < limit else None

    def run(self, now: Drawn, tries: int) -> Drawn:
        """Return the bettered drawing, after so many tries at most."""
        self.left = tries
        for _ in range(ROUNDS):
            before = now
            for key in self._worst_first(now):
                now = self._bettered(now, key)
            if now is before or self.left <= 0:
                break
        return now

    def _card(self, place: Place) -> Card:
        key = (place.part, place.turn, place.mirrored)
        if key not in self._made:
            part = self.circuit.parts[place.part]
            self._made[key] = card(self.circuit, part, place, self.counts, self.sizes)
        return self._made[key]

    def _drawn(
        self, places: Places, cards: Cards, before: Drawn | None = None, limit: float = inf
    ) -> Drawn:
        """Return a drawing; wires that the change from one before does not concern are held.

        Raises
        ------
        _TooDear
            When it is clear that it costs more than the limit.
        """
        sheet = Sheet("", places=places)
        over = OVER * sum(c.turn == 180 for c in cards.values())
        router = _Limited(self.circuit, sheet, cards, {}, limit - over)
        router.least = least = self._least_costs(router)
        router.spent = sum(least.values())
        if before is not None:
            router.hold(_untouched(places, cards, before))
        router.route([w for w in self.circuit.wires if w not in router.paths], again=0)
        paths = router.paths.values()
        crossings = sum(router.crossings(p) for p in paths) / 2
        cost = crossings * CROSSING + sum(map(_way_cost, paths))
        shared = np.count_nonzero(router.field.level > 1) + np.count_nonzero(
            router.field.upright > 1
        )
        return Drawn(places, cards, router, cost + over + SHARED * int(shared))

    def _least_costs(self, router: Router) -> dict[str, float]:
        """Return about the least that every wire costs."""
        found = {}
        for wire in self.circuit.wires:
            if both := router.both(wire):
                (ax, ay), (bx, by) = (j.at(j.port.spots[0]) for j in both)
                found[wire] = WIRE * 0.9 * (abs(ax - bx) + abs(ay - by))
        return found

    def _worst_first(self, now: Drawn) -> list[str]:
        """Return the places, those with the dearest wires first."""
        cost = {k: self._wires_cost(now, k) for k in now.places}
        return sorted(cost, key=lambda k: -cost[k])

    def _wires_cost(self, now: Drawn, key: str) -> float:
        paths = (now.router.paths.get(w) for w in now.router.joints.at(key))
        return sum(
            BEND * len(p.bends) + CROSS * now.router.crossings(p) + WIRE * p.length
            for p in paths
            if p is not None
        )

    def _bettered(self, now: Drawn, key: str) -> Drawn:
        """Return the drawing with one card changed for the better, or as it is."""
        if self.families[now.places[key].part] == "supply":
            return now
        cost = self._wires_cost(now, key)
        tries = {(p.x, p.y, p.turn, p.mirrored): p for p in self._tries(now, key)}
        guessed = sorted((self._guess(now, p), i, p) for i, p in enumerate(tries.values()))
        for guess, _, place in guessed[:BEST]:
            if guess >= cost or self.left <= 0:
                break
            made = self._card(place)
            if not self._may_stand(now, place, made):
                continue
            places, cards = {**now.places, key: place}, {**now.cards, key: made}
            trial = self._trial(now, places, cards)
            if trial is not None and trial.is_clear:
                return trial
        return now

    def _trial(self, now: Drawn, places: Places, cards: Cards) -> Drawn | None:
        """Return the drawing after a change, None where it is not better."""
        try:
            self._drawn(places, cards, now, now.cost + HOPE)
        except _TooDear:
            self.left -= 1
            return None
        return self._anew(places, cards, now.cost - 1)

    def _tries(self, now: Drawn, key: str) -> Iterator[Place]:
        """Yield what a card might become."""
        place = now.places[key]
        poses = [place]
        if now.cards[key].shape == "card":
            poses += [replace(place, mirrored=not place.mirrored)]
            poses += [replace(p, turn=(p.turn + 180) % 360) for p in poses]
        for pose in poses:
            yield pose
            made = now.cards[key] if pose is place else self._card(pose)
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

    def _guess(self, now: Drawn, place: Place) -> float:
        """Return about what the wires of a card would cost, nothing in their way."""
        made = self._card(place)
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

    def _may_stand(self, now: Drawn, place: Place, made: Card) -> bool:
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


def _untouched(places: Places, cards: Cards, before: Drawn) -> dict[str, Path]:
    """Return the ways of wires that end at no changed card and do not come near one."""
    changed = [k for k, p in places.items() if p is not before.places[k]]
    joined = {w for k in changed for w in before.router.joints.at(k)}
    areas = [cards[k].outer.moved(places[k].x, places[k].y).grown(GRID) for k in changed]
    return {
        w: path
        for w, path in before.router.paths.items()
        if w not in joined
        and not any(r.crossed_by(a, b) for r in areas for a, b in pairwise(path.points))
    }


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
