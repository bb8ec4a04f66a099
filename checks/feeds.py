"""Which wires hang on which fuse: the circuit cut at its sources, fuses and loads.

From the plus of every source, and from the far side of every fuse, conductors are followed in any
position of the contacts and forwards through diodes, but never through both sides of one
change-over contact, which are never closed together. A stretch ends at the next fuse, at loads and
coils, and at the ground side; one behind a fuse also where a battery feeds without that fuse.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

from checks.passing import FREE, Been, Held, Mover, after, choosy
from model.kinds.body import SourcePath
from model.network import Edge, Network

PASSABLE = frozenset(("wire", "contact", "way", "diode"))


@dataclass(frozen=True, slots=True)
class Feed:
    """A stretch without a fuse in it.

    `fuse` is the edge it hangs on, None for one that starts at a source (`source` then is that
    source's edge). `edges` are the wires, contacts and ways in it, with the metres of wire from
    its start to the near end of each; `fuses` those that end it.
    """

    source: Edge | None
    fuse: Edge | None
    start: int
    edges: tuple[tuple[Edge, float], ...]
    fuses: tuple[Edge, ...]

    @property
    def nodes(self) -> frozenset[int]:
        """Every node in it."""
        return frozenset({self.start} | {n for e, _ in self.edges for n in (e.a, e.b)})

    @property
    def wires(self) -> tuple[str, ...]:
        """Ids of the wires in it, near ones first."""
        return tuple(dict.fromkeys(e.owner for e, _ in self.edges if e.role == "wire"))


def feeds_of(network: Network, ground: frozenset[int]) -> tuple[Feed, ...]:
    """Return every stretch of a network.

    Parameters
    ----------
    network
        The network.
    ground
        Nodes of the ground side; a stretch does not enter them.
    """
    links, movers = _links(network), choosy(network.edges)
    feeds: list[Feed] = []
    closed: frozenset[int] = ground
    depths: dict[int, int] = {}
    todo: deque[tuple[Edge | None, Edge | None, int, int]] = deque()
    seen: set[tuple[str, int]] = set()
    for edge in network.edges:
        if edge.role == "source" and edge.a in links and edge.a not in ground:
            todo.append((edge, None, edge.a, 0))
    while todo:
        source, fuse, start, depth = todo.popleft()
        key = (fuse.owner if fuse else "", start)
        # A fuse met from behind leads back to where the current comes from.
        if key in seen or (fuse and depths.get(start, depth) < depth):
            continue
        seen.add(key)
        feed = _walk(network, links, movers, closed if fuse else ground, source, fuse, start)
        feeds.append(feed)
        inside = feed.nodes
        if is_battery(source):
            closed |= inside
        if fuse or is_battery(source):
            depths.update({node: depth for node in inside if node not in depths})
        for far in feed.fuses:
            end = far.b if far.a in inside else far.a
            if end not in inside and end not in ground:
                todo.append((None, far, end, depth + 1))
    return tuple(feeds)


def is_battery(source: Edge | None) -> bool:
    """Tell whether a stretch starts at a battery, which can burn any wire."""
    return source is not None and (
        isinstance(source.inner, SourcePath) and source.inner.source == "battery"
    )


def could_reach(
    links: dict[int, list[tuple[int, Edge]]],
    start: set[int],
    roles: frozenset[str],
    movers: frozenset[Mover],
) -> frozenset[int]:
    """Return the nodes that conductors of these roles could join to the start nodes.

    Contacts count in any position, but never both sides of one change-over contact (`movers` are
    those with such contacts) on one way.
    """
    free, beyond = _freely(links, start, roles, movers)
    been = Been()
    todo = deque((node, held) for node, held in beyond if node not in free)
    while todo:
        node, held = todo.popleft()
        if node in free or not been.new(node, held):
            continue
        for other, edge in links.get(node, ()):
            left = after(edge, held, movers) if edge.role in roles and other not in free else None
            if left is not None:
                todo.append((other, left))
    return been.nodes | free


def _freely(
    links: dict[int, list[tuple[int, Edge]]],
    start: set[int],
    roles: frozenset[str],
    movers: frozenset[Mover],
) -> tuple[frozenset[int], list[tuple[int, Held]]]:
    """Return what is reached with every position left open, and the first steps beyond that."""
    free, todo, beyond = set(start), list(start), []
    while todo:
        for other, edge in links.get(todo.pop(), ()):
            if other in free or edge.role not in roles:
                continue
            left = after(edge, FREE, movers) if edge.role == "contact" else FREE
            if left is None:
                continue
            if left:
                beyond.append((other, left))
            else:
                free.add(other)
                todo.append(other)
    return frozenset(free), beyond


def _links(network: Network) -> dict[int, list[tuple[int, Edge]]]:
    """Return the neighbours of every node by wires, contacts, ways and fuses."""
    links: dict[int, list[tuple[int, Edge]]] = {}
    for edge in network.edges:
        if edge.role in PASSABLE or edge.role == "fuse":
            links.setdefault(edge.a, []).append((edge.b, edge))
            links.setdefault(edge.b, []).append((edge.a, edge))
    return links


def _walk(
    network: Network,
    links: dict[int, list[tuple[int, Edge]]],
    movers: frozenset[Mover],
    ground: frozenset[int],
    source: Edge | None,
    fuse: Edge | None,
    start: int,
) -> Feed:
    """Follow conductors from a start, nearest first, and return the stretch."""
    metres = {start: 0.0}
    found: dict[tuple[str, str], tuple[Edge, float]] = {}
    fuses: dict[tuple[str, str], Edge] = {}
    been = Been()
    been.new(start, FREE)
    todo: deque[tuple[int, Held]] = deque([(start, FREE)])
    while todo:
        node, held = todo.popleft()
        for other, edge in links.get(node, ()):
            left = after(edge, held, movers)
            if edge is fuse or left is None or other in ground:
                continue
            if edge.role == "diode" and node != edge.a:
                continue
            if edge.role == "fuse":
                fuses[edge.key] = edge
                continue
            found.setdefault(edge.key, (edge, metres[node]))
            metres.setdefault(other, metres[node] + _length(network, edge))
            if been.new(other, left):
                todo.append((other, left))
    return Feed(source, fuse, start, tuple(found.values()), tuple(fuses.values()))


def _length(network: Network, edge: Edge) -> float:
    """Return the metres of a wire, 0 for anything else or where it is not known."""
    wire = network.circuit.wires.get(edge.owner) if edge.role == "wire" else None
    return wire.length_m or 0.0 if wire else 0.0
