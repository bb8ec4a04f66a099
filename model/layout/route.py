"""Orthogonal routes of wires around cards: no wire through a card or along another wire.

`Router` builds the obstacle grid once; wires are laid on it one by one, the straight and short
ones first, then each is lifted and laid again while that makes the drawing better.
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Collection, Mapping, Sequence
from itertools import pairwise

import numpy as np

from model.circuit import Circuit, Sheet
from model.layout.card import Card, cards
from model.layout.field import BLOCK, CROSS, STRICT, Field, Leave
from model.layout.geometry import GRID, OUTWARD, Point, share
from model.layout.joints import Joint, Joints
from model.layout.path import Path, off, squared, tidy
from model.layout.search import BEND, LOOSER, Gate, Work, search
from model.layout.shape import Spot

__all__ = ["Path", "Router", "route"]

ROUNDS = 3
AGAIN = 50
"""How many wires are laid again, worst first, to better the drawing."""
PUSHES = 5
"""How often a wire may be pushed aside by others that are walled in."""
ALL_PUSHES = 60
"""How often that may happen in all; beyond it wires lie on each other."""
WORK = 8_000_000
"""How many cells are looked at while wires are laid; a drawing of 200 parts needs about half."""
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


class Router:
    """Lays wires on a sheet; holds the obstacle grid and the ways laid so far.

    Attributes
    ----------
    paths
        The ways by wire.
    ends
        Where wires are to end if they can, as they were shown ending a moment before.
    """

    def __init__(self, circuit: Circuit, sheet: Sheet, made: dict[str, Card] | None = None) -> None:
        self.circuit = circuit
        self.sheet = sheet
        self.cards = cards(circuit, sheet) if made is None else made
        self.field = Field(sheet, self.cards)
        self.paths: dict[str, Path] = {}
        self.ends: dict[str, tuple[Point, Point]] = {}
        self._used: dict[tuple[str, str], set[Point]] = {}
        self._work = Work(WORK)
        self.joints = Joints(circuit, sheet, self.cards)
        for joint in self.joints.every():
            self._reserve(joint)

    def _reserve(self, joint: Joint) -> None:
        self.field.reserve(joint.port.spots, joint.place.x, joint.place.y, joint.key)

    def stand(self, sheet: Sheet) -> None:
        """Take other places of the same cards; wires lie as they are until they are laid again."""
        moved = [p for k, p in sheet.places.items() if p is not self.sheet.places[k]]
        self.sheet = sheet
        for place in moved:
            made = self.cards[place.id]
            for node in made.ports:
                self.field.release((place.id, node))
            self.field.stand(place, made)
            self.joints.move(place)
        for joint in (j for p in moved for w in self.joints.at(p.id) for j in self.joints.of(w)):
            if joint is not None:
                self._reserve(joint)

    def route(self, wires: Collection[str] | None = None, *, again: int = AGAIN) -> dict[str, Path]:
        """Lay the wires asked for (all by default) and return their ways.

        `again` is how many wires are tried a second time to better the drawing; 0 while a part
        is being dragged.
        """
        self._work.left = WORK
        ids = [w for w in self.circuit.wires if wires is None or w in wires]
        for wire in ids:
            self.lift(wire)
        kept = [w for w in ids if w in self.sheet.routes and self.both(w)]
        for wire in kept:
            self.put(wire, self.kept(wire))
        for wire in ids:
            stub = None if self.both(wire) else self.open_end(wire)
            if stub is not None:
                self.put(wire, stub)
        loose = [w for w in ids if w not in kept and self.both(w)]
        self._lay_all(sorted(loose, key=self.effort), again)
        return {w: self.paths[w] for w in ids if w in self.paths}

    def hold(self, paths: Mapping[str, Path]) -> None:
        """Lay ways found before, as they are; wires whose ends have moved since are left out."""
        for wire, path in paths.items():
            joints = self.joints.of(wire)
            ends = zip(joints, (path.points[0], path.points[-1]), strict=True)
            if all(j is None or p in map(j.at, j.port.spots) for j, p in ends):
                self.lift(wire)
                self.put(wire, path)

    def lift(self, wire: str) -> None:
        """Take a wire off the grid."""
        path = self.paths.pop(wire, None)
        if path is None:
            return
        self.field.lay(path.points, -1)
        self._end(wire, path, -1)
        for joint in self.joints.of(wire):
            if joint is not None:
                self._used.get(joint.key, set()).difference_update(path.points)

    def both(self, wire: str) -> tuple[Joint, Joint] | None:
        """Return the joints of a wire, None where an end is not on this sheet."""
        a, b = self.joints.of(wire)
        return None if a is None or b is None else (a, b)

    def effort(self, wire: str) -> tuple[float, float, str]:
        """Return the order of laying: level or upright ones first, then the short ones."""
        a, b = self._ends(wire)
        ax, ay = a.at(a.port.spots[0])
        bx, by = b.at(b.port.spots[0])
        straight = 0 if ay == by or ax == bx else 1
        return (straight, abs(ax - bx) + abs(ay - by), wire)

    def _ends(self, wire: str) -> tuple[Joint, Joint]:
        found = self.both(wire)
        if found is None:
            raise ValueError(f"The wire {wire} has an end that is not on this sheet.")
        return found

    def _lay_all(self, wires: list[str], budget: int) -> None:
        """Lay the wires, then lift and lay each again while the whole gets cheaper."""
        self._lay_with_room(wires)
        for _ in range(ROUNDS if budget else 0):
            changed = False
            worst = sorted(wires, key=lambda w: (-self.cost(self.paths[w]), w))
            for wire in [w for w in worst if self._improvable(w)][:budget]:
                if self._work.left <= 0:
                    return
                before = self.paths[wire]
                self.lift(wire)
                after = self.find(wire) or before
                self.put(wire, after)
                changed = changed or after != before
                budget -= 1
            if not changed:
                return

    def _lay_with_room(self, wires: Sequence[str]) -> None:
        """Lay the wires; one that is walled in pushes those in its way, which are laid anew."""
        tries: Counter[str] = Counter()
        todo, mine, pushes = deque(wires), set(wires), ALL_PUSHES
        while todo:
            wire = todo.popleft()
            tries[wire] += 1
            path = self.find(wire)
            if path is None:
                path = self.squeezed(wire)
                mine = {w for w in mine if tries[w] < PUSHES}
                for other in (
                    self._in_the_way(path, mine)[:pushes] if pushes and self._work.left > 0 else ()
                ):
                    self.lift(other)
                    todo.append(other)
                    pushes -= 1
            self.put(wire, path)

    def _in_the_way(self, path: Path, wires: set[str]) -> list[str]:
        """Return those of the wires that a path would run along or bend on."""
        mine = list(pairwise(path.points))
        box = path.box.grown(1)
        near = [
            (w, p) for w, p in self.paths.items() if w in wires and p.box.grown(1).overlaps(box)
        ]
        return [w for w, p in near if share(mine, list(pairwise(p.points)))]

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

    def put(self, wire: str, path: Path) -> None:
        """Lay a wire on the grid."""
        self.paths[wire] = path
        self.field.lay(path.points)
        self._end(wire, path, 1)
        for joint, point in zip(
            self.joints.of(wire), (path.points[0], path.points[-1]), strict=True
        ):
            if joint is not None:
                self._used.setdefault(joint.key, set()).add(point)

    def _end(self, wire: str, path: Path, count: int) -> None:
        """Mark or clear where a wire with one end on this sheet ends."""
        for joint, point in zip(
            self.joints.of(wire), (path.points[0], path.points[-1]), strict=True
        ):
            if joint is None:
                self.field.end(point, count)

    def free(self, joint: Joint) -> list[Spot]:
        """Return the spots of a port that no wire has yet; all of them when none is left."""
        used = self._used.get(joint.key, set())
        return [s for s in joint.port.spots if joint.at(s) not in used] or list(joint.port.spots)

    def squeezed(self, wire: str) -> Path:
        """Return a way of a wire that is walled in, through as little as can be."""
        found = (self.find(wire, x) for x in (LOOSER if self._work.left > 0 else LOOSER[-1:]))
        return next((p for p in found if p is not None), None) or self.corner(*self._ends(wire))

    def find(self, wire: str, leave: Leave = STRICT) -> Path | None:
        """Return the cheapest way of a wire, None where it is walled in."""
        a, b = self._ends(wire)
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

    def corner(self, a: Joint, b: Joint) -> Path:
        """Return a way with one bend, whatever lies there."""
        start, end = a.at(self.free(a)[0]), b.at(self.free(b)[0])
        return Path(tidy((start, (end[0], start[1]), end)))

    def kept(self, wire: str) -> Path:
        """Return the way with the bends a person chose, made orthogonal at its ends.

        Where that leads through a card, which has been moved since, the wire finds a way of its
        own until there is room again.
        """
        a, b = self._ends(wire)
        bends = self.sheet.routes[wire].bends
        if not bends:
            return self.find(wire) or self.squeezed(wire)
        start, end = self._toward(a, bends[0]), self._toward(b, bends[-1])
        points = [a.at(start)]
        level = start.side in ("left", "right")
        for bend in bends:
            points += [*_corner(points[-1], bend, level), bend]
            level = points[-1][1] != points[-2][1]
        tip = b.at(end)
        points += [*_corner(points[-1], tip, end.side in ("top", "bottom")), tip]
        path = Path(tidy(points))
        return path if self._is_sound(path, start, end) else self.find(wire) or self.squeezed(wire)

    def _is_sound(self, path: Path, start: Spot, end: Spot) -> bool:
        """Tell whether a way leaves both its spots outwards and leads through no card."""
        if len(path.points) < 2:
            return False
        ends = ((path.points[0], path.points[1], start), (path.points[-1], path.points[-2], end))
        return self._is_clear(path) and all(_ahead(p, q, s) for p, q, s in ends)

    def _toward(self, joint: Joint, bend: Point) -> Spot:
        """Return the free spot from which a bend is reached straight, if there is one."""
        spots = self.free(joint)
        return min(spots, key=lambda s: (off(joint.at(s), bend), not _ahead(joint.at(s), bend, s)))

    def _is_clear(self, path: Path) -> bool:
        """Tell whether a way leads through no card."""
        places = (p for p in self.sheet.places.values() if p.id in self.cards)
        bodies = [self.cards[p.id].body.moved(p.x, p.y) for p in places]
        return not any(r.crossed_by(a, b) for r in bodies for a, b in pairwise(path.points))

    def open_end(self, wire: str) -> Path | None:
        """Return a short straight end for a wire with one end on this sheet, if it is open."""
        joint = next((j for j in self.joints.of(wire) if j is not None), None)
        record = self.circuit.wires[wire]
        if joint is None or (record.first is not None and record.second is not None):
            return None
        spot = self.free(joint)[0]
        x, y = joint.at(spot)
        dx, dy = OUTWARD[spot.side]
        ends = [(x + dx * far, y + dy * far) for far in STUBS]
        end = next((e for e in ends if self._clear((x + dx * GRID, y + dy * GRID), e)), ends[-1])
        points = ((x, y), end)
        return Path(points if record.first is not None else points[::-1])

    def _clear(self, a: Point, b: Point) -> bool:
        """Tell whether no card and no wire lies on a straight line or right beyond it."""
        (ra, ca), (rb, cb) = self.field.cell(*a), self.field.cell(*b)
        lines = slice(min(ra, rb), max(ra, rb) + 1), slice(min(ca, cb), max(ca, cb) + 1)
        taken = self.field.level[lines].any() or self.field.upright[lines].any()
        return not taken and bool((self.field.base[lines] < BLOCK).all())


def _ahead(at: Point, to: Point, spot: Spot) -> bool:
    """Tell whether a point lies on the side to which a wire leaves a spot."""
    dx, dy = OUTWARD[spot.side]
    return (to[0] - at[0]) * dx + (to[1] - at[1]) * dy > 0


def _corner(a: Point, b: Point, level: bool) -> list[Point]:
    """Return the corner between two points, none where one is level or upright to the other."""
    if a[0] == b[0] or a[1] == b[1]:
        return []
    return [(b[0], a[1]) if level else (a[0], b[1])]
