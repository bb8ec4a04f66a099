"""A router that gives up as soon as a drawing costs more than it may."""

from __future__ import annotations

from collections.abc import Mapping

from model.circuit import Circuit, Sheet
from model.layout.field import STEP, STRICT, Leave
from model.layout.geometry import GRID, OUTWARD
from model.layout.path import Path, squared, tidy
from model.layout.relaxed import BEND
from model.layout.route import Router
from model.layout.shape import Card
from model.layout.sketch import Gate, sketch

WIRE = 0.15
"""What a scene unit of wire counts for, against the costs of bends and crossings."""
CROSSING = 160
"""What a crossing counts for: more than to a single wire, which has to get past the other."""
SHORT = 90
TIGHT = 120
"""What a wire counts for that is too short for its number to stand beside it."""
SLACK = 60
"""How much dearer than the least a plain way may be to be taken at once."""


class TooDear(Exception):
    """A drawing costs more than it may before all its wires are laid."""


class Limited(Router):
    """A router that gives up as soon as a drawing cannot come out below a limit.

    `least` are about the least costs of all wires; `spent` what is known by now.
    """

    def __init__(
        self,
        circuit: Circuit,
        sheet: Sheet,
        made: dict[str, Card],
        least: Mapping[str, float],
        limit: float,
    ) -> None:
        super().__init__(circuit, sheet, made)
        self.least, self.limit = least, limit
        self.spent = sum(least.values())
        self._more: dict[str, float] = {}

    def put(self, wire: str, path: Path) -> None:
        """Lay a wire on the grid."""
        more = CROSSING * self.crossings(path) + way_cost(path) - self.least.get(wire, 0.0)
        self._more[wire] = more
        self.spent += more
        if self.spent > self.limit:
            raise TooDear
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


def way_cost(path: Path) -> float:
    """Return what a way costs by itself."""
    length = path.length
    return BEND * len(path.bends) + WIRE * length + (TIGHT if length < SHORT else 0)
