"""What hangs on what: a plain walk over parts and wires, apart from the one the checks use."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from model.circuit import Circuit, Part
from model.kinds.body import Coil, LoadPath, SourcePath
from model.lookup import body_of, kind_of
from model.survey import Survey
from tests.planting.plant import ends, wires_on

Spot = tuple[str, str]
"""Part id and the name of a node in it (`86`, or `3/a` at a face of a connector)."""
JOINTS = frozenset(("joint", "diode", "protection"))
STOPS = frozenset(("supply", "ground"))
"""Families a walk may reach and does not leave again."""
RETURNS = {"-": "+", "31": "", "b": "a"}
"""Terminals that loads return through, and the one they are fed at ("" where there are more)."""


@dataclass(frozen=True, slots=True)
class Walked:
    """Where a walk came: its first nodes, parts met, wires passed and nodes reached."""

    starts: tuple[Spot, ...]
    parts: frozenset[str]
    wires: frozenset[str]
    spots: frozenset[Spot]


def walk(circuit: Circuit, starts: Iterable[Spot], families: frozenset[str] = JOINTS) -> Walked:
    """Follow wires from some nodes, through parts of these families in any position."""
    begun = tuple(starts)
    todo: deque[Spot] = deque(begun)
    spots, wires, first = set(todo), set(), len(todo)
    while todo:
        here = todo.popleft()
        first -= 1
        if first < 0 and kind_of(circuit, circuit.parts[here[0]]).family in STOPS:
            continue
        for spot, wire in _next(circuit, here, families):
            if wire:
                wires.add(wire)
            if spot not in spots:
                spots.add(spot)
                todo.append(spot)
    return Walked(begun, frozenset(p for p, _ in spots), frozenset(wires), frozenset(spots))


def _next(circuit: Circuit, here: Spot, families: frozenset[str]) -> Iterator[tuple[Spot, str]]:
    """Yield the nodes next to one: over a wire, through the part, through host or guest."""
    for wire in wires_on(circuit, here[0]):
        first, second = ends(wire)
        if here == first.node:
            yield second.node, wire.id
        elif here == second.node:
            yield first.node, wire.id
    part = circuit.parts[here[0]]
    if kind_of(circuit, part).family in families:
        for spot in _inside(circuit, part, here[1]):
            yield spot, ""
    for spot in _seats(circuit)[here]:
        yield spot, ""


def _inside(circuit: Circuit, part: Part, node: str) -> Iterator[Spot]:
    """Yield the nodes of a part that an element joins to one, coils and loads left out."""
    for element in body_of(circuit, part).elements:
        if isinstance(element, Coil | LoadPath | SourcePath):
            continue
        if node in (element.a, element.b):
            other = element.b if node == element.a else element.a
            if other != "(shell)":
                yield part.id, other


class _Seats(dict[Spot, list[Spot]]):
    """Nodes that touch because one part sits in another."""

    def __missing__(self, key: Spot) -> list[Spot]:
        return []


def _seats(circuit: Circuit) -> _Seats:
    """Return which nodes of guests touch which nodes of their hosts, both ways."""
    seats = _Seats()
    for guest in circuit.parts.values():
        host = circuit.parts.get(guest.host)
        slots = body_of(circuit, host).slots if host else ()
        for key, node in (j for s in slots if s.name == guest.slot for j in s.joins):
            for a, b in (
                ((guest.id, key), (guest.host, node)),
                ((guest.host, node), (guest.id, key)),
            ):
                seats[a] = [*seats[a], b]
    return seats


def touching(circuit: Circuit, spot: Spot) -> frozenset[Spot]:
    """Return a node and those that touch it because one part sits in the other."""
    return frozenset((spot, *_seats(circuit)[spot]))


def relays(circuit: Circuit) -> list[Part]:
    """Return the relays."""
    return [p for p in circuit.parts.values() if kind_of(circuit, p).family == "relay"]


def seat(circuit: Circuit, relay: Part) -> str:
    """Return the part the wires of a relay end at: itself, or the socket it sits in."""
    return relay.host or relay.id


def loads(circuit: Circuit) -> list[Part]:
    """Return the loads."""
    return [p for p in circuit.parts.values() if kind_of(circuit, p).family == "load"]


def loads_behind(
    circuit: Circuit, starts: Iterable[Spot], *, relays: bool = False
) -> frozenset[str]:
    """Return the loads whose feed side hangs on some nodes, through relay contacts if told."""
    through = JOINTS | {"control"} | ({"relay"} if relays else set())
    met = walk(circuit, starts, through).spots
    return frozenset(
        p.id
        for p in loads(circuit)
        if any((p.id, t.key) in met for t in body_of(circuit, p).terminals if t.key not in RETURNS)
        or ((p.id, "b") in met and kind_of(circuit, p).key == "motor")
    )


_SOLVED: dict[int, tuple[Circuit, Survey]] = {}


def survey(circuit: Circuit) -> Survey:
    """Return the solved states of a circuit, solved once and kept with it."""
    if id(circuit) not in _SOLVED:
        _SOLVED[id(circuit)] = (circuit, Survey(circuit))
    return _SOLVED[id(circuit)][1]


def terminals_of(circuit: Circuit, part: Part, kind: type[Coil] | type[LoadPath]) -> Iterator[Spot]:
    """Yield both ends of every coil or load in a part."""
    for element in body_of(circuit, part).elements:
        if isinstance(element, kind):
            yield part.id, element.a
            yield part.id, element.b
