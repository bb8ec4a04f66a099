"""Where the ends of wires are on a sheet: which place's port each terminal is drawn at."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from model.circuit import Circuit, End, Place, Sheet, Wire
from model.layout.card import Card
from model.layout.geometry import Point
from model.layout.shape import Port, Spot

PortKey = tuple[str, str]
"""A port by place id and node."""


@dataclass(frozen=True, slots=True)
class Joint:
    """Where one end of a wire may be: a place's port."""

    place: Place
    port: Port

    @property
    def key(self) -> PortKey:
        """The port."""
        return (self.place.id, self.port.node)

    def at(self, spot: Spot) -> Point:
        """Return where a spot of the port stands on the sheet."""
        return (self.place.x + spot.x, self.place.y + spot.y)


Pair = tuple[Joint | None, Joint | None]


class Joints:
    """The joints of all wires of a sheet."""

    def __init__(self, circuit: Circuit, sheet: Sheet, cards: Mapping[str, Card]) -> None:
        self.circuit = circuit
        self._homes: dict[PortKey, Joint] = {}
        self._keys: dict[str, list[PortKey]] = {}
        for place in sheet.places.values():
            for node, port in cards[place.id].ports.items() if place.id in cards else ():
                if self._homes.setdefault((place.part, node), Joint(place, port)).place is place:
                    self._keys.setdefault(place.id, []).append((place.part, node))
        self._of = {w.id: self._of_wire(w) for w in circuit.wires.values()}
        self._at: dict[str, list[str]] = {}
        for wire, pair in self._of.items():
            for joint in pair:
                if joint is not None:
                    self._at.setdefault(joint.place.id, []).append(wire)

    def of(self, wire: str) -> Pair:
        """Return the joints of a wire, None for an end that is not on the sheet."""
        return self._of.get(wire, (None, None))

    def at(self, place: str) -> list[str]:
        """Return the wires that end at a place."""
        return list(dict.fromkeys(self._at.get(place, ())))

    def every(self) -> Iterator[Joint]:
        """Yield the joint of every end."""
        return (j for pair in self._of.values() for j in pair if j is not None)

    def move(self, place: Place) -> None:
        """Let a place stand elsewhere, with the card that it has."""
        for key in self._keys.get(place.id, ()):
            self._homes[key] = Joint(place, self._homes[key].port)
        for wire in self.at(place.id):
            self._of[wire] = self._of_wire(self.circuit.wires[wire])

    def _of_wire(self, wire: Wire) -> Pair:
        return (self._home(wire.first), self._home(wire.second))

    def _home(self, end: End | None) -> Joint | None:
        """Return where an end is drawn: on its part, or the part's host."""
        if end is None:
            return None
        part, node = end.node
        found = self._homes.get((part, node))
        host = self.circuit.parts[part].host if part in self.circuit.parts else ""
        return found or self._homes.get((host, node))
