"""Which wires hang on which fuse: the circuit cut at its sources, fuses and loads.

From the plus of every source, and from the far side of every fuse, conductors are followed in any
position of the contacts and forwards through diodes, but never through both sides of one
change-over contact, which are never closed together. A stretch ends at the next fuse, at loads and
coils, and at the ground side; one behind a fuse also where a battery feeds without that fuse.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, replace
from functools import partial

from checks.passing import FREE, Been, Held, Mover, after
from checks.structure import movers_of
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


@dataclass(frozen=True, slots=True)
class _Walk:
    """How a stretch is walked: what it starts from, which nodes close it, what was met in it.

    `edges` are the places of all edges that its stretch names, `wires` the ids of its wires.
    """

    source: Edge | None
    fuse: Edge | None
    start: int
    closed: frozenset[int]
    edges: tuple[int, ...] = ()
    wires: tuple[str, ...] = ()


def feeds_of(network: Network, ground: frozenset[int]) -> tuple[Feed, ...]:
    """Return every stretch of a network.

    Which way a stretch goes is found once for all circuits that differ in numbers alone; it is
    walked again where a wire in it is another one.

    Parameters
    ----------
    network
        The network.
    ground
        Nodes of the ground side; a stretch does not enter them.
    """
    frame = network.frame
    walks = frame.fact(("walks", ground), lambda: _walks(network, ground))
    return tuple(
        frame.kept("feed", (n, ground), _records(network, walk), partial(_walk, network, walk))
        for n, walk in enumerate(walks)
    )


def _records(network: Network, walk: _Walk) -> tuple[object, ...]:
    """Return the edges and wires that a stretch rests on."""
    edges, wires = network.edges, network.circuit.wires
    return (*(edges[i] for i in walk.edges), *(wires[w] for w in walk.wires))


def _walks(network: Network, ground: frozenset[int]) -> tuple[_Walk, ...]:
    """Return how every stretch is walked, each fuse after what feeds it."""
    links = links_between(network)
    walks: list[_Walk] = []
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
        walk = _Walk(source, fuse, start, closed if fuse else ground)
        feed = _walk(network, walk)
        walks.append(replace(walk, edges=_places(network, feed), wires=feed.wires))
        inside = feed.nodes
        if is_battery(source):
            closed |= inside
        if fuse or is_battery(source):
            depths.update({node: depth for node in inside if node not in depths})
        for far in feed.fuses:
            end = far.b if far.a in inside else far.a
            if end not in inside and end not in ground:
                todo.append((None, far, end, depth + 1))
    return tuple(walks)


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


def links_between(network: Network) -> dict[int, list[tuple[int, Edge]]]:
    """Return the neighbours of every node by wires, contacts, ways and fuses."""
    return network.frame.fact("feed links", lambda: _links(network))


def _links(network: Network) -> dict[int, list[tuple[int, Edge]]]:
    links: dict[int, list[tuple[int, Edge]]] = {}
    for edge in network.edges:
        if edge.role in PASSABLE or edge.role == "fuse":
            links.setdefault(edge.a, []).append((edge.b, edge))
            links.setdefault(edge.b, []).append((edge.a, edge))
    return links


def _walk(network: Network, walk: _Walk) -> Feed:
    """Follow conductors from a start, nearest first, and return the stretch."""
    links, movers = links_between(network), movers_of(network)
    source, fuse, start, ground = walk.source, walk.fuse, walk.start, walk.closed
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
            if (fuse and edge.key == fuse.key) or left is None or other in ground:
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
    now = partial(_now, network)
    return Feed(
        source and now(source),
        fuse and now(fuse),
        start,
        tuple((now(edge), far) for edge, far in found.values()),
        tuple(map(now, fuses.values())),
    )


def _now(network: Network, edge: Edge) -> Edge:
    """Return an edge as it is now."""
    return network.edges[network.by_key[edge.key]]


def _places(network: Network, feed: Feed) -> tuple[int, ...]:
    """Return the places of all edges that a stretch names."""
    ends = (e for e in (feed.source, feed.fuse, *feed.fuses) if e is not None)
    return tuple(network.by_key[e.key] for e in (*(e for e, _ in feed.edges), *ends))


def _length(network: Network, edge: Edge) -> float:
    """Return the metres of a wire, 0 for anything else or where it is not known."""
    wire = network.circuit.wires.get(edge.owner) if edge.role == "wire" else None
    return wire.length_m or 0.0 if wire else 0.0
