"""The way of one wire among those that lie on a sheet already."""

from __future__ import annotations

from model.circuit import Circuit, Sheet
from model.layout.card import Card
from model.layout.field import STRICT, Leave
from model.layout.geometry import GRID, OUTWARD, Point
from model.layout.joints import Joint
from model.layout.path import Path, squared, tidy
from model.layout.search import LOOSER, Gate, Work, search
from model.layout.shape import Spot
from model.layout.tracks import Tracks

WORK = 8_000_000
"""How many cells are looked at while wires are laid; a drawing of 200 parts needs about half."""


class Finder(Tracks):
    """Finds ways for wires.

    Attributes
    ----------
    ends
        Where wires are to end if they can, as they were shown ending a moment before.
    """

    def __init__(self, circuit: Circuit, sheet: Sheet, made: dict[str, Card] | None = None) -> None:
        super().__init__(circuit, sheet, made)
        self.ends: dict[str, tuple[Point, Point]] = {}
        self._work = Work(WORK)

    def find(self, wire: str, leave: Leave = STRICT) -> Path | None:
        """Return the cheapest way of a wire, None where it is walled in."""
        a, b = self.joined(wire)
        first_at, last_at = self.ends.get(wire, (None, None))
        starts, goals = self._gates(a, first_at), self._gates(b, last_at)
        found = search(
            self.field,
            [g for g, _ in starts],
            [g for g, _ in goals],
            (a.key, b.key),
            leave,
            self._work,
        )
        if found is None:
            return self.find(wire, leave) if self.ends.pop(wire, None) else None
        first = next(p for g, p in starts if g.cell == found[0])
        last = next(p for g, p in goals if g.cell == found[-1])
        return Path(tidy(squared((first, *map(self.field.point, found), last))))

    def _gates(self, joint: Joint, wish: Point | None = None) -> list[tuple[Gate, Point]]:
        """Return the gates in front of a port's free spots, each with its spot.

        Only the one at the wish, if it is free.
        """
        made = []
        for spot in self.free(joint):
            x, y = joint.at(spot)
            dx, dy = OUTWARD[spot.side]
            cell = self.field.cell(x + dx * GRID, y + dy * GRID)
            made.append((Gate(cell, dy == 0, GRID + self._preference(joint, spot)), (x, y)))
        return [g for g in made if g[1] == wish] or made

    def _preference(self, joint: Joint, spot: Spot) -> int:
        """Return what a spot costs: those off the middle a little."""
        first = joint.port.spots[0]
        if spot.side != first.side:
            return 0
        return int(abs(spot.x - first.x) + abs(spot.y - first.y)) // GRID

    def squeezed(self, wire: str) -> Path:
        """Return a way of a wire that is walled in, through as little as can be."""
        found = (self.find(wire, x) for x in (LOOSER if self._work.left > 0 else LOOSER[-1:]))
        return next((p for p in found if p is not None), None) or self.corner(*self.joined(wire))

    def corner(self, a: Joint, b: Joint) -> Path:
        """Return a way with one bend, whatever lies there."""
        start, end = a.at(self.free(a)[0]), b.at(self.free(b)[0])
        return Path(tidy((start, (end[0], start[1]), end)))
