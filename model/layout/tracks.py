"""The ways laid on a sheet so far, on its obstacle grid."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise

import numpy as np

from model.circuit import Circuit, Sheet
from model.layout.card import Card, cards
from model.layout.field import CROSS, Field
from model.layout.geometry import Point
from model.layout.joints import Joint, Joints
from model.layout.path import Path
from model.layout.relaxed import BEND
from model.layout.shape import Spot


class Tracks:
    """The obstacle grid of a sheet and the ways that lie on it.

    Attributes
    ----------
    paths
        The ways by wire.
    """

    def __init__(self, circuit: Circuit, sheet: Sheet, made: dict[str, Card] | None = None) -> None:
        self.circuit = circuit
        self.sheet = sheet
        self.cards = cards(circuit, sheet) if made is None else made
        self.field = Field(sheet, self.cards)
        self.paths: dict[str, Path] = {}
        self._used: dict[tuple[str, str], set[Point]] = {}
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

    def hold(self, paths: Mapping[str, Path]) -> None:
        """Lay ways found before, as they are; wires whose ends have moved since are left out."""
        for wire, path in paths.items():
            joints = self.joints.of(wire)
            ends = zip(joints, (path.points[0], path.points[-1]), strict=True)
            if all(j is None or p in map(j.at, j.port.spots) for j, p in ends):
                self.lift(wire)
                self.put(wire, path)

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

    def both(self, wire: str) -> tuple[Joint, Joint] | None:
        """Return the joints of a wire, None where an end is not on this sheet."""
        a, b = self.joints.of(wire)
        return None if a is None or b is None else (a, b)

    def joined(self, wire: str) -> tuple[Joint, Joint]:
        """Return the joints of a wire that has both on this sheet; ValueError where it has not."""
        found = self.both(wire)
        if found is None:
            raise ValueError(f"The wire {wire} has an end that is not on this sheet.")
        return found

    def effort(self, wire: str) -> tuple[float, float, str]:
        """Return the order of laying: level or upright ones first, then the short ones."""
        a, b = self.joined(wire)
        ax, ay = a.at(a.port.spots[0])
        bx, by = b.at(b.port.spots[0])
        straight = 0 if ay == by or ax == bx else 1
        return (straight, abs(ax - bx) + abs(ay - by), wire)

    def crossings(self, path: Path) -> int:
        """Count the wires that a path crosses."""
        field, count = self.field, 0
        for a, b in pairwise(path.points):
            (ra, ca), (rb, cb) = field.cell(*a), field.cell(*b)
            across = field.upright if ra == rb else field.level
            line = across[min(ra, rb) : max(ra, rb) + 1, min(ca, cb) : max(ca, cb) + 1]
            count += int(np.count_nonzero(line))
        return max(0, count - 2 * len(path.bends))

    def cost(self, path: Path) -> float:
        """Return what a path costs: length, bends and crossings."""
        return path.length + BEND * len(path.bends) + CROSS * self.crossings(path)
