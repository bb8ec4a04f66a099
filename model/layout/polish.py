"""Bettering a whole drawing card by card: what is tried is routed, and kept when it is calmer.

A card may go level with what it is wired to, to the other side of it, or be turned over. Supplies
stay; loads stay right of them; ground points stay below what they serve.
"""

from __future__ import annotations

from math import inf

from model.circuit import Circuit, Place
from model.layout.drawn import Drawer, Drawn, Places
from model.layout.field import CROSS
from model.layout.limited import WIRE
from model.layout.moves import Moves
from model.layout.relaxed import BEND
from model.layout.sizes import Sizes
from model.lookup import kind_of

ROUNDS = 3
BEST = 5
"""How many changes of a card are tried, by what they seem to cost."""
HOPE = 150
"""A try up to this much dearer is looked at once more with all wires laid anew."""


class Polish:
    """The steps of bettering one drawing."""

    def __init__(self, circuit: Circuit, sizes: Sizes | None) -> None:
        self.families = {p.id: kind_of(circuit, p).family for p in circuit.parts.values()}
        self.drawer = Drawer(circuit, sizes)
        self.moves = Moves(self.drawer, self.families)

    def drawn(self, places: Places, limit: float = inf) -> Drawn | None:
        """Return a drawing of these places, None where it costs the limit or more."""
        return self.drawer.drawn(places, limit)

    def run(self, now: Drawn, tries: int) -> Drawn:
        """Return the bettered drawing, after so many tries at most."""
        self.drawer.left = tries
        for _ in range(ROUNDS):
            before = now
            for key in self._worst_first(now):
                now = self._bettered(now, key)
            if now is before or self.drawer.left <= 0:
                break
        return now

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
        for guess, place in self._likeliest(now, key):
            if guess >= cost or self.drawer.left <= 0:
                break
            made = self.drawer.card(place)
            if not self.moves.may_stand(now, place, made):
                continue
            places, cards = {**now.places, key: place}, {**now.cards, key: made}
            trial = self.drawer.trial(now, places, cards, HOPE)
            if trial is not None and trial.is_clear:
                return trial
        return now

    def _likeliest(self, now: Drawn, key: str) -> list[tuple[float, Place]]:
        """Return the changes of a card that seem to cost least, with about what they cost."""
        tries = {(p.x, p.y, p.turn, p.mirrored): p for p in self.moves.tries(now, key)}
        guessed = sorted((self.moves.guess(now, p), i, p) for i, p in enumerate(tries.values()))
        return [(guess, place) for guess, _, place in guessed[:BEST]]
