"""Walks over what conducts, by terminal: the ground under selections."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from heapq import heappop, heappush
from itertools import combinations

from model.circuit import Circuit
from model.kinds.body import Coil, Contact
from model.lookup import body_of
from model.network import SHELL_NODE, Edge, Network, Node

PASSED = ("wire", "contact", "way", "bond", "diode", "fuse")
"""Roles that carry current on; loads, coils and resistors end a walk."""
STEPS = {"fuse": 1_000_000, "contact": 1}
"""How much farther from the supply something leads: one fuse counts for more than all contacts."""
MANY = 10**15
"""Farther than anything is."""
METAL = ("wire", "way", "bond")
Mover = tuple[str, str]
Held = tuple[tuple[Mover, frozenset[str]], ...]


@dataclass(frozen=True, slots=True)
class Link:
    """An edge with its nodes by name."""

    edge: Edge
    a: Node
    b: Node


class Graph:
    """What conducts in a circuit, by the names of terminals and inner nodes."""

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        net = Network(circuit)
        pairs = (*zip(net.edges, net.edge_nodes, strict=True),
                 *zip(net.merged, net.merged_nodes, strict=True))  # fmt: skip
        self._links: dict[Node, list[Link]] = {}
        self.links = [Link(edge, a, b) for edge, (a, b) in pairs]
        for link in self.links:
            self._links.setdefault(link.a, []).append(link)
            self._links.setdefault(link.b, []).append(link)
        self._choosy = _choosy(self.links)
        self._ground: set[Node] = set()
        self._ground = self._grounded()

    def nodes_of(self, ids: Iterable[str]) -> set[Node]:
        """Return the nodes of parts and at the ends of wires."""
        found: set[Node] = set()
        for key in ids:
            if part := self.circuit.parts.get(key):
                body = body_of(self.circuit, part)
                found |= {(key, t.node) for t in body.terminals}
            elif wire := self.circuit.wires.get(key):
                found |= {e.node for e in (wire.first, wire.second) if e}
        return found

    def parts_at(self, nodes: set[Node]) -> set[str]:
        """Return the parts with a terminal among these nodes."""
        return {part for part, _ in nodes if part in self.circuit.parts}

    def wires_at(self, nodes: set[Node], every_end: bool = False) -> set[str]:
        """Return the wires with an end (or all of their ends) among these nodes."""
        found = set()
        for wire in self.circuit.wires.values():
            there = [e.node in nodes for e in (wire.first, wire.second) if e]
            if there and (all(there) if every_end else any(there)):
                found.add(wire.id)
        return found

    def joined(self, start: set[Node], ends: set[str], *, by_coils: bool) -> set[Node]:
        """Return the nodes joined to these by anything at all, parts in `ends` not passed."""
        coils = self._coils() if by_coils else {}
        found, todo = set(start), deque(start)
        while todo:
            node = todo.popleft()
            near = [other for other, link in self._near(node) if link.edge.owner not in ends]
            for other in (*near, *coils.get(node, ())):
                if other not in found and other != SHELL_NODE:
                    found.add(other)
                    if other[0] not in ends:
                        todo.append(other)
        return found

    def fed(
        self, start: set[Node], depths: Mapping[Node, int], least: int, without: str
    ) -> set[Node]:
        """Return the nodes that current from these comes to, as far as loads and the ground side.

        Parameters
        ----------
        depths
            From `depths`: no fuse is passed from behind.
        least
            Nodes nearer to the supply than this are not entered.
        without
            A part that is not passed.
        """

        def passes(link: Link, node: Node, other: Node) -> bool:
            if (
                link.edge.owner == without
                or other in self._ground
                or depths.get(other, MANY) < least
            ):
                return False
            back = depths.get(other, MANY) <= depths.get(node, MANY) and other in depths
            return node == link.a if link.edge.role == "diode" else not (
                link.edge.role == "fuse" and back)  # fmt: skip

        return self._walk(start, passes)

    def returning(self, start: set[Node]) -> set[Node]:
        """Return the nodes that current to these comes from, as far as loads."""
        return self._walk(start, lambda link, node, _: link.edge.role != "diode" or node == link.b)

    def depths(self) -> dict[Node, int]:
        """Return how far each node is from a supply's plus: fuses in between, then contacts."""
        sources = [link.a for link in self.links if link.edge.role == "source"]
        found: dict[Node, int] = {}
        todo = [(0, node) for node in sorted(sources) if node not in self._ground]
        while todo:
            depth, node = heappop(todo)
            if node in found:
                continue
            found[node] = depth
            for other, link in self._near(node):
                if link.edge.role not in PASSED or other in self._ground:
                    continue
                if link.edge.role != "diode" or node == link.a:
                    heappush(todo, (depth + STEPS.get(link.edge.role, 0), other))
        return found

    def _walk(self, start: set[Node], passes: Callable[[Link, Node, Node], bool]) -> set[Node]:
        """Follow conductors where `passes` lets through from one node to the other."""
        seen: dict[Node, list[Held]] = {}
        todo: deque[tuple[Node, Held]] = deque((n, ()) for n in start)
        while todo:
            node, held = todo.popleft()
            if not _is_new(seen.setdefault(node, []), held):
                continue
            for other, link in self._near(node):
                if link.edge.role in PASSED and passes(link, node, other):
                    left = self._after(link.edge, held)
                    if left is not None:
                        todo.append((other, left))
        return set(seen)

    def _near(self, node: Node) -> Iterator[tuple[Node, Link]]:
        for link in self._links.get(node, ()):
            yield (link.b if node == link.a else link.a), link

    def _grounded(self) -> set[Node]:
        """Return the nodes that metal joins to the shell."""
        found = {n for link in self.links if link.edge.role == "ground" for n in (link.a, link.b)}
        todo = deque(found)
        while todo:
            for other, link in self._near(todo.popleft()):
                if link.edge.role in METAL and other not in found:
                    found.add(other)
                    todo.append(other)
        return found

    def _coils(self) -> dict[Node, list[Node]]:
        """Return by node the others of the same armature: the coil's and its contacts'."""
        groups: dict[Mover, set[Node]] = {}
        for link in self.links:
            inner = link.edge.inner
            moves = inner.moves if isinstance(inner, Coil) else ""
            moves = moves or (inner.by if isinstance(inner, Contact) else "")
            if moves:
                groups.setdefault((link.edge.owner, moves), set()).update((link.a, link.b))
        found: dict[Node, list[Node]] = {}
        for group in groups.values():
            for node in group:
                found.setdefault(node, []).extend(group - {node})
        return found

    def _after(self, edge: Edge, held: Held) -> Held | None:
        """Return the positions left open once a contact is passed, None where it cannot close."""
        if not isinstance(edge.inner, Contact):
            return held
        key = (edge.owner, edge.inner.by)
        if key not in self._choosy:
            return held
        open_now = dict(held)
        left = open_now.get(key, frozenset(edge.inner.closed)) & frozenset(edge.inner.closed)
        if not left:
            return None
        return tuple(sorted({**open_now, key: left}.items(), key=lambda item: item[0]))


def _choosy(links: Iterable[Link]) -> set[Mover]:
    """Return what moves contacts that are never closed together."""
    closed: dict[Mover, list[frozenset[str]]] = {}
    for link in links:
        if isinstance(link.edge.inner, Contact):
            key = (link.edge.owner, link.edge.inner.by)
            closed.setdefault(key, []).append(frozenset(link.edge.inner.closed))
    return {k for k, sets in closed.items() if any(not a & b for a, b in combinations(sets, 2))}


def _is_new(known: list[Held], held: Held) -> bool:
    """Note how a node was come to; tell whether no earlier visit left at least as much open."""
    mine = dict(held)
    for one in known:
        if all(key in mine and mine[key] <= positions for key, positions in one):
            return False
    known.append(held)
    return True
