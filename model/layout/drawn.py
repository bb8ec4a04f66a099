"""Whole drawings of places: every wire laid, and what that costs."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import inf

import numpy as np

from model.circuit import Circuit, Place, Sheet
from model.layout.card import Card, card, joins
from model.layout.geometry import GRID
from model.layout.labels import place_labels
from model.layout.limited import CROSSING, WIRE, Limited, TooDear, way_cost
from model.layout.measure import measure
from model.layout.path import Path
from model.layout.route import Router
from model.layout.sizes import Sizes

OVER = 60
"""What a card that is drawn upside down counts for."""
SHARED = 500
"""What a cell that two wires share counts for."""
Cards = dict[str, Card]
Places = dict[str, Place]
Pose = tuple[str, float, float, int, bool]


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


class Drawer:
    """Makes drawings of a circuit, each once.

    `left` is how many more are made anew before whoever tries them gives up.
    """

    def __init__(self, circuit: Circuit, sizes: Sizes | None) -> None:
        self.circuit = circuit
        self.sizes = sizes
        self.counts = joins(circuit)
        self.left = 0
        self._made: dict[tuple[str, int, bool], Card] = {}
        self._known: dict[frozenset[Pose], Drawn | float] = {}

    def drawn(self, places: Places, limit: float = inf) -> Drawn | None:
        """Return a drawing of these places, None where it costs the limit or more."""
        return self.anew(places, {k: self.card(p) for k, p in places.items()}, limit)

    def anew(self, places: Places, cards: Cards, limit: float) -> Drawn | None:
        """Return a drawing with all its wires laid anew, None where it costs the limit or more."""
        key = frozenset((p.part, p.x, p.y, p.turn, p.mirrored) for p in places.values())
        known = self._known.get(key)
        if known is None or (isinstance(known, float) and known < limit):
            self.left -= 1
            try:
                known = self._drawn(places, cards, limit=limit)
            except TooDear:
                known = limit
            self._known[key] = known
        return known if isinstance(known, Drawn) and known.cost < limit else None

    def card(self, place: Place) -> Card:
        """Return the card of a place."""
        key = (place.part, place.turn, place.mirrored)
        if key not in self._made:
            part = self.circuit.parts[place.part]
            self._made[key] = card(self.circuit, part, place, self.counts, self.sizes)
        return self._made[key]

    def trial(self, now: Drawn, places: Places, cards: Cards, hope: float) -> Drawn | None:
        """Return the drawing after a change, None where it is not better.

        One up to `hope` dearer while the other wires are held is looked at with all laid anew.
        """
        try:
            self._drawn(places, cards, now, now.cost + hope)
        except TooDear:
            self.left -= 1
            return None
        return self.anew(places, cards, now.cost - 1)

    def _drawn(
        self, places: Places, cards: Cards, before: Drawn | None = None, limit: float = inf
    ) -> Drawn:
        """Return a drawing; wires that the change from one before does not concern are held.

        Raises
        ------
        TooDear
            When it is clear that it costs more than the limit.
        """
        sheet = Sheet("", places=places)
        over = OVER * sum(c.turn == 180 for c in cards.values())
        router = Limited(self.circuit, sheet, cards, {}, limit - over)
        router.least = least = self._least_costs(router)
        router.spent = sum(least.values())
        if before is not None:
            router.hold(_untouched(places, cards, before))
        router.route([w for w in self.circuit.wires if w not in router.paths], again=0)
        return Drawn(places, cards, router, _cost(router) + over)

    def _least_costs(self, router: Router) -> dict[str, float]:
        """Return about the least that every wire costs."""
        found = {}
        for wire in self.circuit.wires:
            if both := router.both(wire):
                (ax, ay), (bx, by) = (j.at(j.port.spots[0]) for j in both)
                found[wire] = WIRE * 0.9 * (abs(ax - bx) + abs(ay - by))
        return found


def _cost(router: Router) -> float:
    """Return what the ways of a drawing cost: crossings, bends, length, cells that two share."""
    paths, field = router.paths.values(), router.field
    crossings = sum(router.crossings(p) for p in paths) / 2
    shared = np.count_nonzero(field.level > 1) + np.count_nonzero(field.upright > 1)
    return crossings * CROSSING + sum(map(way_cost, paths)) + SHARED * int(shared)


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
