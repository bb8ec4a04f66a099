"""Wires laid anew at every step of a drag, on a grid that is kept from step to step.

What is shown depends on where the cards stand now, not on how they came there: wires that a
dragged card pushes aside go back to their ways when it has passed.
"""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise

import numpy as np

from model.circuit import Place, Sheet
from model.layout.card import Card
from model.layout.geometry import GRID, OUTWARD, Rect
from model.layout.joints import Joint
from model.layout.path import Path, squared, tidy
from model.layout.route import Router
from model.layout.shape import Spot
from model.layout.sketch import Gate, sketch

CLEAR = 10.0
"""Room that a wire which keeps its way must have from a card that moved."""


class Live:
    """Follows the cards of a sheet; all wires not concerned lie where they lay at rest.

    Parameters
    ----------
    router
        A router that has laid the wires at rest; it belongs to this object from now on.
    """

    def __init__(self, router: Router) -> None:
        self.router = router
        self.rest = dict(router.paths)
        self._at_rest = dict(router.sheet.places)
        self._keys = list(self.rest)
        self._boxes = np.array([_box(p) for p in self.rest.values()]).reshape(-1, 4)

    def follow(self, sheet: Sheet, cards: Mapping[str, Card]) -> dict[str, Path] | None:
        """Return the ways of the wires that do not lie as at rest, with the cards as they are now.

        None where that needs a grid of its own: other cards, or a card outside of it.
        """
        router = self.router
        moved = self._moved(sheet, cards)
        if moved is None or not all(router.field.covers(_around(p, cards)) for p in moved):
            return None
        for wire in [w for w, p in router.paths.items() if p is not self.rest[w]]:
            router.lift(wire)
        router.stand(sheet)
        joined = {w for p in moved for w in router.joints.at(p.id)}
        loose = joined | self._under(moved, cards)
        for wire in loose:
            router.lift(wire)
        for wire, path in self.rest.items():
            if wire not in router.paths and wire not in loose:
                router.put(wire, path)
        ends = [w for w in loose if router.both(w) is None]
        whole = sorted(loose.difference(ends), key=lambda w: (w not in joined, router.effort(w)))
        return self._lay([*ends, *whole])

    def _moved(self, sheet: Sheet, cards: Mapping[str, Card]) -> list[Place] | None:
        """Return the places that stand elsewhere than at rest; None where there are others."""
        if sheet.places.keys() != self._at_rest.keys():
            return None
        moved = [p for k, p in sheet.places.items() if p is not self._at_rest[k]]
        moved = [p for p in moved if p != self._at_rest[p.id]]
        return moved if all(cards[p.id] == self.router.cards[p.id] for p in moved) else None

    def _under(self, moved: list[Place], cards: Mapping[str, Card]) -> set[str]:
        """Return the wires whose ways at rest lead through cards where they stand now."""
        found = set()
        for area in (_around(p, cards) for p in moved):
            b = self._boxes
            near = (b[:, 0] < area.right) & (b[:, 2] > area.x)
            near &= (b[:, 1] < area.bottom) & (b[:, 3] > area.y)
            for i in np.flatnonzero(near):
                points = self.rest[self._keys[i]].points
                if any(area.crossed_by(p, q) for p, q in pairwise(points)):
                    found.add(self._keys[i])
        return found

    def _lay(self, wires: list[str]) -> dict[str, Path]:
        """Lay wires one by one."""
        for wire in wires:
            path = self._sketch(wire)
            if path is not None:
                self.router.put(wire, path)
        return {w: self.router.paths[w] for w in wires if w in self.router.paths}

    def _sketch(self, wire: str) -> Path | None:
        """Return a quick way of a wire."""
        router = self.router
        ends = router.both(wire)
        if ends is None:
            return router.open_end(wire)
        if wire in router.sheet.routes:
            return router.kept(wire)
        spots = [self._spot(j, wire, i) for i, j in enumerate(ends)]
        gates = [self._gate(j, s) for j, s in zip(ends, spots, strict=True)]
        found = sketch(router.field, gates[0], gates[1])
        if found is None:
            return router.corner(*ends)
        first, last = (j.at(s) for j, s in zip(ends, spots, strict=True))
        inner = map(router.field.point, found.cells)
        return Path(tidy(squared((first, *inner, last))))

    def _gate(self, joint: Joint, spot: Spot) -> Gate:
        dx, dy = OUTWARD[spot.side]
        x, y = joint.at(spot)
        return Gate(self.router.field.cell(x + dx * GRID, y + dy * GRID), (dy, dx))

    def _spot(self, joint: Joint, wire: str, end: int) -> Spot:
        """Return the spot that the wire has at rest, if it is free, else the first free one."""
        free = self.router.free(joint)
        path = self.rest.get(wire)
        if path is not None:
            place = self._at_rest[joint.place.id]
            x, y = path.points[-end]
            mine = [s for s in free if (place.x + s.x, place.y + s.y) == (x, y)]
            return mine[0] if mine else free[0]
        return free[0]


def _around(place: Place, cards: Mapping[str, Card]) -> Rect:
    return cards[place.id].outer.moved(place.x, place.y).grown(CLEAR)


def _box(path: Path) -> tuple[float, float, float, float]:
    xs, ys = [x for x, _ in path.points], [y for _, y in path.points]
    return (min(xs) - 1, min(ys) - 1, max(xs) + 1, max(ys) + 1)
