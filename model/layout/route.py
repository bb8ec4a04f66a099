"""Orthogonal routes of wires around cards: no wire through a card or along another wire.

`Router` builds the obstacle grid once; wires are laid on it one by one, the straight and short
ones first, then each is lifted and laid again while that makes the drawing better.
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from model.circuit import Circuit, End, Place, Sheet, Wire
from model.layout.card import Card, cards
from model.layout.field import BLOCK, CROSS, Field
from model.layout.geometry import GRID, OUTWARD, Point, share
from model.layout.path import Path, off, squared, tidy
from model.layout.search import BEND, SHARED, Gate, search
from model.layout.shape import Port, Spot

__all__ = ["Path", "Router", "route"]

ROUNDS = 3
AGAIN = 50
"""How many wires are laid again, worst first, to better the drawing."""
PUSHES = 5
"""How often a wire may be pushed aside by others that are walled in."""
STUBS = (50, 40, 30, 20, 10)
"""How far a wire with an open end sticks out, if there is room."""


def route(circuit: Circuit, sheet: Sheet, wires: Collection[str] | None = None) -> dict[str, Path]:
    """Return the ways of the wires of a sheet.

    Parameters
    ----------
    wires
        Only these; None routes all. Kept bends of the sheet are honoured.

    Returns
    -------
    dict
        Ways by wire id, from the wire's first end to its second. A wire with an end that is not
        on this sheet has none.
    """
    return Router(circuit, sheet).route(wires)


@dataclass(frozen=True, slots=True)
class _Joint:
    """Where one end of a wire may be: a place's port."""

    place: Place
    port: Port

    @property
    def key(self) -> tuple[str, str]:
        return (self.place.id, self.port.node)

    def at(self, spot: Spot) -> Point:
        return (self.place.x + spot.x, self.place.y + spot.y)


class Router:
    """Lays wires on a sheet; holds the obstacle grid and the ways laid so far."""

    def __init__(self, circuit: Circuit, sheet: Sheet, made: dict[str, Card] | None = None) -> None:
        self.circuit = circuit
        self.sheet = sheet
        self.cards = cards(circuit, sheet) if made is None else made
        self.field = Field(sheet, self.cards)
        self.paths: dict[str, Path] = {}
        self._used: dict[tuple[str, str], set[Point]] = {}
        self._homes: dict[tuple[str, str], _Joint] = {}
        for place in sheet.places.values():
            for node, port in self.cards[place.id].ports.items() if place.id in self.cards else ():
                self._homes.setdefault((place.part, node), _Joint(place, port))
        self._joints = {w.id: self._joints_of(w) for w in circuit.wires.values()}
        for joints in self._joints.values():
            for j in joints:
                if j is not None:
                    self.field.reserve(j.port.spots, j.place.x, j.place.y, j.key)

    def route(self, wires: Collection[str] | None = None, *, again: int = AGAIN) -> dict[str, Path]:
        """Lay the wires asked for (all by default) and return their ways.

        `again` is how many wires are tried a second time to better the drawing; 0 while a part
        is being dragged.
        """
        ids = [w for w in self.circuit.wires if wires is None or w in wires]
        for wire in ids:
            self.lift(wire)
        kept = [w for w in ids if w in self.sheet.routes and self._both(w)]
        for wire in kept:
            self._put(wire, self._kept(wire))
        for wire in ids:
            if not self._both(wire):
                self._open_end(wire)
        loose = [w for w in ids if w not in kept and self._both(w)]
        self._lay_all(sorted(loose, key=self._effort), again)
        return {w: self.paths[w] for w in ids if w in self.paths}

    def hold(self, paths: Mapping[str, Path]) -> None:
        """Lay ways found before, as they are; wires whose ends have moved since are left out."""
        for wire, path in paths.items():
            joints = self._joints.get(wire, (None, None))
            ends = zip(joints, (path.points[0], path.points[-1]), strict=True)
            if all(j is None or p in map(j.at, j.port.spots) for j, p in ends):
                self.lift(wire)
                self._put(wire, path)

    def lift(self, wire: str) -> None:
        """Take a wire off the grid."""
        path = self.paths.pop(wire, None)
        if path is None:
            return
        self.field.lay(path.points, -1)
        for joint in self._joints[wire]:
            if joint is not None:
                self._used.get(joint.key, set()).difference_update(path.points)

    def _joints_of(self, wire: Wire) -> tuple[_Joint | None, _Joint | None]:
        return (self._home(wire.first), self._home(wire.second))

    def _home(self, end: End | None) -> _Joint | None:
        """Return where an end is drawn: on its part, or the part's host."""
        if end is None:
            return None
        part, node = end.node
        found = self._homes.get((part, node))
        host = self.circuit.parts[part].host if part in self.circuit.parts else ""
        return found or self._homes.get((host, node))

    def _both(self, wire: str) -> bool:
        return all(j is not None for j in self._joints[wire])

    def _effort(self, wire: str) -> tuple[float, float, str]:
        """Return the order of laying: level or upright ones first, then the short ones."""
        a, b = self._ends(wire)
        ax, ay = a.at(a.port.spots[0])
        bx, by = b.at(b.port.spots[0])
        straight = 0 if ay == by or ax == bx else 1
        return (straight, abs(ax - bx) + abs(ay - by), wire)

    def _ends(self, wire: str) -> tuple[_Joint, _Joint]:
        a, b = self._joints[wire]
        if a is None or b is None:
            raise ValueError(f"The wire {wire} has an end that is not on this sheet.")
        return a, b

    def _lay_all(self, wires: list[str], budget: int) -> None:
        """Lay the wires, then lift and lay each again while the whole gets cheaper."""
        self._lay_with_room(wires)
        for _ in range(ROUNDS if budget else 0):
            changed = False
            worst = sorted(wires, key=lambda w: (-self.cost(self.paths[w]), w))
            for wire in [w for w in worst if self._improvable(w)][:budget]:
                before = self.paths[wire]
                self.lift(wire)
                after = self._find(wire) or before
                self._put(wire, after)
                changed = changed or after != before
                budget -= 1
            if not changed:
                return

    def _lay_with_room(self, wires: Sequence[str]) -> None:
        """Lay the wires; one that is walled in pushes those in its way, which are laid anew."""
        tries: Counter[str] = Counter()
        todo = deque(wires)
        while todo:
            wire = todo.popleft()
            tries[wire] += 1
            path = self._find(wire)
            if path is None:
                path = self._find(wire, SHARED) or self._corner(*self._ends(wire))
                for other in self._in_the_way(path):
                    if other in wires and tries[other] < PUSHES:
                        self.lift(other)
                        todo.append(other)
            self._put(wire, path)

    def _in_the_way(self, path: Path) -> list[str]:
        """Return the wires that a path would run along or bend on."""
        mine = list(pairwise(path.points))
        return [w for w, p in self.paths.items() if share(mine, list(pairwise(p.points)))]

    def _improvable(self, wire: str) -> bool:
        """Tell whether a way has crossings or more than two bends: only then is it tried again."""
        path = self.paths[wire]
        return len(path.bends) > 2 or self.crossings(path) > 0

    def cost(self, path: Path) -> float:
        """Return what a path costs: length, bends and crossings."""
        return path.length + BEND * len(path.bends) + CROSS * self.crossings(path)

    def crossings(self, path: Path) -> int:
        """Count the wires that a path crosses."""
        field, count = self.field, 0
        for a, b in pairwise(path.points):
            (ra, ca), (rb, cb) = field.cell(*a), field.cell(*b)
            across = field.upright if ra == rb else field.level
            line = across[min(ra, rb) : max(ra, rb) + 1, min(ca, cb) : max(ca, cb) + 1]
            count += int(np.count_nonzero(line))
        return max(0, count - 2 * len(path.bends))

    def _put(self, wire: str, path: Path) -> None:
        self.paths[wire] = path
        self.field.lay(path.points)
        for joint, point in zip(self._joints[wire], (path.points[0], path.points[-1]), strict=True):
            if joint is not None:
                self._used.setdefault(joint.key, set()).add(point)

    def _free(self, joint: _Joint) -> list[Spot]:
        """Return the spots of a port that no wire has yet; all of them when none is left."""
        used = self._used.get(joint.key, set())
        return [s for s in joint.port.spots if joint.at(s) not in used] or list(joint.port.spots)

    def _find(self, wire: str, block: int = BLOCK) -> Path | None:
        """Return the cheapest way of a wire, None where it is walled in."""
        a, b = self._ends(wire)
        starts, goals = self._gates(a), self._gates(b)
        found = search(
            self.field, [g for g, _ in starts], [g for g, _ in goals], (a.key, b.key), block
        )
        if found is None:
            return None
        first = next(p for g, p in starts if g.cell == found[0])
        last = next(p for g, p in goals if g.cell == found[-1])
        return Path(tidy(squared((first, *map(self.field.point, found), last))))

    def _gates(self, joint: _Joint) -> list[tuple[Gate, Point]]:
        """Return the gates in front of a port's free spots, each with its spot."""
        made = []
        for spot in self._free(joint):
            x, y = joint.at(spot)
            dx, dy = OUTWARD[spot.side]
            cell = self.field.cell(x + dx * GRID, y + dy * GRID)
            made.append((Gate(cell, dy == 0, GRID + self._preference(joint, spot)), (x, y)))
        return made

    def _preference(self, joint: _Joint, spot: Spot) -> int:
        """Return what a spot costs: those off the middle a little."""
        first = joint.port.spots[0]
        if spot.side != first.side:
            return 0
        return int(abs(spot.x - first.x) + abs(spot.y - first.y)) // GRID

    def _corner(self, a: _Joint, b: _Joint) -> Path:
        """Return a way with one bend, whatever lies there."""
        start, end = a.at(self._free(a)[0]), b.at(self._free(b)[0])
        return Path(tidy((start, (end[0], start[1]), end)))

    def _kept(self, wire: str) -> Path:
        """Return the way with the bends a person chose, made orthogonal at its ends."""
        a, b = self._ends(wire)
        bends = self.sheet.routes[wire].bends
        if not bends:
            return self._find(wire) or self._corner(a, b)
        start = min(self._free(a), key=lambda s: off(a.at(s), bends[0]))
        end = min(self._free(b), key=lambda s: off(b.at(s), bends[-1]))
        points = [a.at(start)]
        level = start.side in ("left", "right")
        for bend in (*bends, b.at(end)):
            last = points[-1]
            if last[0] != bend[0] and last[1] != bend[1]:
                points.append((bend[0], last[1]) if level else (last[0], bend[1]))
            points.append(bend)
            level = points[-1][1] != points[-2][1]
        return Path(tidy(points))

    def _open_end(self, wire: str) -> None:
        """Lay a short straight end for a wire with one end on this sheet."""
        joint = next((j for j in self._joints[wire] if j is not None), None)
        if joint is None:
            return
        record = self.circuit.wires[wire]
        if record.first is not None and record.second is not None:
            return
        spot = self._free(joint)[0]
        x, y = joint.at(spot)
        dx, dy = OUTWARD[spot.side]
        ends = [(x + dx * far, y + dy * far) for far in STUBS]
        end = next((e for e in ends if self._clear((x + dx * GRID, y + dy * GRID), e)), ends[-1])
        points = ((x, y), end)
        self._put(wire, Path(points if record.first is not None else points[::-1]))

    def _clear(self, a: Point, b: Point) -> bool:
        """Tell whether no card and no wire lies on a straight line or right beyond it."""
        (ra, ca), (rb, cb) = self.field.cell(*a), self.field.cell(*b)
        lines = slice(min(ra, rb), max(ra, rb) + 1), slice(min(ca, cb), max(ca, cb) + 1)
        taken = self.field.level[lines].any() or self.field.upright[lines].any()
        return not taken and bool((self.field.base[lines] < BLOCK).all())
