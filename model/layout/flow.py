"""Which way the current would go: wires turned into arrows between cards, away from the supply.

Every contact counts as closed. Distances are steps from the supply's plus; a load or coil counts
for many, so that its ground side lies farther away than all before it. Ground points end the walk:
wires to them do not order the cards.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator
from dataclasses import dataclass

from model.circuit import Circuit, End, Part
from model.kinds.body import Coil, DiodePath, LoadPath, ShellPath, SourcePath
from model.lookup import body_of, kind_of

Node = tuple[str, str]
LOAD_STEP = 1000
"""Steps that a load or coil counts for."""


@dataclass(frozen=True, slots=True)
class Arrow:
    """A wire from the card nearer to the supply's plus to the one farther from it.

    `returns` marks one that is nearer to the ground than to the plus.
    """

    wire: str
    tail: str
    tail_node: str
    head: str
    head_node: str
    returns: bool = False

    def flipped(self) -> Arrow:
        """Return the arrow the other way round."""
        return Arrow(self.wire, self.head, self.head_node, self.tail, self.tail_node, self.returns)


@dataclass(frozen=True, slots=True)
class Flow:
    """Arrows between cards, and the wires that end at ground points (wire, part, ground)."""

    parts: tuple[str, ...]
    arrows: tuple[Arrow, ...]
    grounds: tuple[str, ...]
    ground_wires: tuple[tuple[str, Node, Node], ...]


def flow(circuit: Circuit) -> Flow:
    """Return the flow of a circuit; parts sitting in others count with their host."""
    walker = _Walker(circuit)
    steps = walker.steps()
    up = walker.steps_from_ground()
    plus = walker.plus()
    arrows: list[Arrow] = []
    down: list[tuple[str, Node, Node]] = []
    for wire in circuit.wires.values():
        if wire.first is None or wire.second is None:
            continue
        ends = [walker.at(wire.first), walker.at(wire.second)]
        if any(e[0] not in circuit.parts for e in ends) or ends[0][0] == ends[1][0]:
            continue
        grounded = [e[0] in walker.grounds for e in ends]
        if any(grounded):
            ground, other = (ends[0], ends[1]) if grounded[0] else (ends[1], ends[0])
            down.append((wire.id, other, ground))
            continue
        nodes = (wire.first.node, wire.second.node)
        near = [-1 if n in plus else steps.get(n, LOAD_STEP) for n in nodes]
        a, b = ends if near[0] <= near[1] else ends[::-1]
        returns = sum(up.get(n, LOAD_STEP) - steps.get(n, LOAD_STEP) for n in nodes) < 0
        arrows.append(Arrow(wire.id, *a, *b, returns=returns))
    cards = tuple(p for p in circuit.parts if walker.host(p) == p and p not in walker.grounds)
    return Flow(cards, tuple(arrows), tuple(walker.grounds), tuple(down))


class _Walker:
    """Walks from the supplies through wires and parts."""

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self.bodies = {p.id: body_of(circuit, p) for p in circuit.parts.values()}
        self.families = {p.id: kind_of(circuit, p).family for p in circuit.parts.values()}
        self.grounds = [p for p, family in self.families.items() if family == "ground"]
        self.links: dict[Node, list[tuple[Node, int]]] = {}
        for part in circuit.parts.values():
            self._inside(part)
        for wire in circuit.wires.values():
            if wire.first is not None and wire.second is not None:
                self._join(wire.first.node, wire.second.node, 1)

    def host(self, part: str) -> str:
        """Return the part on whose card this one is drawn."""
        seen = set()
        while part in self.circuit.parts and self.circuit.parts[part].host and part not in seen:
            seen.add(part)
            if self.circuit.parts[part].host not in self.circuit.parts:
                break
            part = self.circuit.parts[part].host
        return part

    def at(self, end: End) -> Node:
        """Return the card and node an end is drawn at."""
        return (self.host(end.part), end.node[1])

    def _join(self, a: Node, b: Node, cost: int, one_way: bool = False) -> None:
        self.links.setdefault(a, []).append((b, cost))
        if not one_way:
            self.links.setdefault(b, []).append((a, cost))

    def _inside(self, part: Part) -> None:
        """Add the paths through a part, and where it touches its host."""
        for e in self.bodies[part.id].elements:
            if not isinstance(e, SourcePath | ShellPath):
                cost = LOAD_STEP if isinstance(e, LoadPath | Coil) else 1
                self._join((part.id, e.a), (part.id, e.b), cost, isinstance(e, DiodePath))
        if part.host in self.bodies:
            for slot in self.bodies[part.host].slots:
                if slot.name == part.slot:
                    for guest, own in slot.joins:
                        self._join((part.id, guest), (part.host, own), 1)

    def plus(self) -> set[Node]:
        """Return the plus terminals of the supplies."""
        return {(p, e.a) for p, e in self._sources()}

    def steps(self) -> dict[Node, int]:
        """Return the steps of every node from a supply's plus, or from where nothing feeds it.

        Batteries come first: what a battery reaches is not counted from an alternator.
        """
        found: dict[Node, int] = {}
        sources = sorted(self._sources(), key=lambda s: s[1].source != "battery")
        for kind in ("battery", "alternator"):
            self._walk([(0, (p, e.a)) for p, e in sources if e.source == kind], found)
        self._walk([(0, (p, e.b)) for p, e in sources], found)
        for node in self._unfed():
            if node not in found:
                self._walk([(0, node)], found)
        return found

    def steps_from_ground(self) -> dict[Node, int]:
        """Return the steps of every node from a ground point or a supply's minus."""
        found: dict[Node, int] = {}
        starts = [
            (0, other)
            for node, links in self.links.items()
            if node[0] in self.grounds
            for other, _ in links
        ]
        self._walk([*starts, *((0, (p, e.b)) for p, e in self._sources())], found)
        return found

    def _sources(self) -> Iterator[tuple[str, SourcePath]]:
        for part, body in self.bodies.items():
            for element in body.elements:
                if isinstance(element, SourcePath):
                    yield (part, element)

    def _unfed(self) -> Iterator[Node]:
        """Yield starting points for what no supply feeds: protection first, loads last."""
        rank = {"protection": 0, "control": 1, "joint": 2, "relay": 3}
        order = sorted(self.bodies, key=lambda p: rank.get(self.families[p], 4))
        for part in order:
            for terminal in self.bodies[part].terminals:
                yield (part, terminal.node)

    def _walk(self, starts: list[tuple[int, Node]], found: dict[Node, int]) -> None:
        """Walk on from the starts over nodes not found yet (shortest first)."""
        heap = [(steps, node) for steps, node in starts if node not in found]
        heapq.heapify(heap)
        while heap:
            steps, node = heapq.heappop(heap)
            if node in found:
                continue
            found[node] = steps
            if node[0] in self.grounds:
                continue
            for other, cost in self.links.get(node, ()):
                if other not in found:
                    heapq.heappush(heap, (steps + cost, other))
