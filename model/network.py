"""The circuit as a network: terminals are nodes, everything that conducts is an edge.

Metal without resistance (splices, bus bars, a part in its socket) is one node. Edges keep their
owner, so that every volt and ampere finds its way back to a part or a wire.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property

import networkx as nx
import numpy as np
from numpy.typing import NDArray

from model.circuit import Circuit
from model.frame import Frame
from model.kinds.body import Element
from model.latest import Raws, raws_of
from model.raws import SHELL_NODE, Node, Raw, end_node, is_metal

__all__ = ["SHELL_NODE", "Edge", "Network", "Node", "end_node"]
Ints = NDArray[np.intp]
LEAST_OHM = 1e-6
"""Smallest resistance of something that can open, so that its current has a meaning."""


@dataclass(frozen=True, slots=True, eq=False)
class Edge:
    """Something that conducts between nodes `a` and `b` (indices); current counts a to b.

    `ohm` is its resistance as drawn; devices with a law of their own have 0 there.
    """

    owner: str
    table: str
    element: str
    a: int
    b: int
    ohm: float
    role: str
    inner: Element | None = None
    key: tuple[str, str] = field(init=False)
    """Owner and element: what a current is asked by."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "key", (self.owner, self.element))


class _Joined:
    """Union of nodes that are one piece of metal."""

    def __init__(self) -> None:
        self._up: dict[Node, Node] = {}

    def find(self, node: Node) -> Node:
        """Return the node that stands for this one's piece of metal."""
        up = self._up.setdefault(node, node)
        while up != self._up[up]:
            self._up[up] = self._up[self._up[up]]
            up = self._up[up]
        self._up[node] = up
        return up

    def join(self, a: Node, b: Node) -> None:
        """Make two nodes one."""
        self._up[self.find(a)] = self.find(b)

    def nodes(self) -> list[Node]:
        """Return every node met so far."""
        return list(self._up)


@dataclass(frozen=True, slots=True)
class _Numbering:
    """Numbers of nodes, and which raw edges are edges and which are metal, by place."""

    index: dict[Node, int]
    count: int
    conducts: list[int]
    metal: list[int]


class Network:
    """Nodes and edges of a circuit.

    Attributes
    ----------
    circuit
        The circuit it was built from.
    frame
        What stays of it while only numbers change; networks that differ in no more share it.
    edges
        Everything that can conduct, whether it does or not.
    merged
        Wires, ways and bonds without resistance that were taken as metal.
    index, count
        The number of every node, and how many nodes there are.
    by_key
        The place of every edge, by owner and element.
    assumed
        Ids of wires whose size or length was missing and had to be assumed.
    """

    def __init__(self, circuit: Circuit, apart: frozenset[str] = frozenset()) -> None:
        """Build the network; owners in `apart` keep a small resistance instead of none."""
        self.circuit = circuit
        raws = raws_of(circuit)
        self.frame = Frame() if apart else raws.frame
        numbering = self.frame.fact("numbering", lambda: _number(raws, apart))
        self.index, self.count = numbering.index, numbering.count
        self._raws = [raws.edges[i] for i in numbering.conducts]
        self._metal = [raws.edges[i] for i in numbering.metal]
        self.edges = self._numbered("edges", self._raws)
        self.by_key = self.frame.fact(
            "by key", lambda: {e.key: i for i, e in enumerate(self.edges)}
        )
        ends = self.frame.fact("ends", lambda: _ends(self.edges))
        self.a, self.b = ends

    def _numbered(self, name: str, raws: list[Raw]) -> list[Edge]:
        """Return raw edges with their nodes numbered, those of the network before where the same.

        Edges are records; the list of the latest network of the frame is kept beside the frame.
        """
        old: list[tuple[Raw, Edge]] = self.frame.latest.get(name, [])
        if len(old) != len(raws):
            pairs = [(r, self._edge(r)) for r in raws]
        else:
            pairs = [
                pair if pair[0] is raw else (raw, self._edge(raw))
                for pair, raw in zip(old, raws, strict=True)
            ]
        self.frame.latest[name] = pairs
        return [edge for _, edge in pairs]

    def _edge(self, raw: Raw) -> Edge:
        """Return a raw edge with its nodes numbered; what may open has some resistance."""
        a, b = self.index[raw.a], self.index[raw.b]
        own_law = raw.role in ("diode", "load", "source")
        ohm = raw.ohm if own_law else max(raw.ohm, LEAST_OHM)
        return Edge(raw.owner, raw.table, raw.element, a, b, ohm, raw.role, raw.inner)

    @cached_property
    def merged(self) -> list[Edge]:
        """Wires, ways and bonds without resistance that were taken as metal."""
        return [self._edge(r) for r in self._metal]

    @property
    def merged_nodes(self) -> list[tuple[Node, Node]]:
        """The nodes that each of `merged` joined."""
        return [(r.a, r.b) for r in self._metal]

    @property
    def edge_nodes(self) -> list[tuple[Node, Node]]:
        """The nodes at the ends of every edge."""
        return [(r.a, r.b) for r in self._raws]

    @cached_property
    def assumed(self) -> frozenset[str]:
        """Ids of wires whose size or length was missing and had to be assumed."""
        wires = self.circuit.wires.values()
        return frozenset(w.id for w in wires if w.size is None or w.length_m is None)

    def node_of(self, part_id: str, node: str) -> int | None:
        """Return the index of a part's inner node, None where nothing conducts at it."""
        return self.index.get((part_id, node))

    @property
    def shell(self) -> int:
        """Index of the shell."""
        return self.index[SHELL_NODE]

    def of_role(self, *roles: str) -> Iterator[tuple[int, Edge]]:
        """Return index and edge of every edge with one of these roles, in order."""
        edges, by_role = self.edges, self._by_role
        if len(roles) == 1:
            indices = by_role.get(roles[0], [])
        else:
            indices = sorted(i for role in set(roles) for i in by_role.get(role, ()))
        return iter([(index, edges[index]) for index in indices])

    @property
    def _by_role(self) -> dict[str, list[int]]:
        """The indices of the edges of every role."""
        return self.frame.fact("by role", lambda: _by_role(self.edges))

    @property
    def edges_at(self) -> list[list[int]]:
        """The indices of the edges at every node, in order."""
        return self.frame.fact("edges at", lambda: _edges_at(self.count, self.edges))

    @cached_property
    def graph(self) -> nx.MultiGraph[int]:
        """The networkx multigraph: nodes are indices, each edge carries its `Edge`."""
        graph: nx.MultiGraph[int] = nx.MultiGraph()
        graph.add_nodes_from(range(self.count))
        for index, edge in enumerate(self.edges):
            graph.add_edge(edge.a, edge.b, key=index, edge=edge)
        return graph

    @cached_property
    def reference(self) -> int:
        """The node that counts as 0 V: the reference battery's minus, else the shell."""
        wanted = self.circuit.settings.reference_battery
        sources = [e for e in self.edges if e.role == "source"]
        for edge in sources:
            if edge.owner == wanted:
                return edge.b
        batteries = [e for e in sources if getattr(e.inner, "source", "") == "battery"]
        for edge in batteries or sources:
            return edge.b
        return self.shell


def _number(raws: Raws, apart: frozenset[str]) -> _Numbering:
    """Give nodes their numbers; sort edges into those that conduct and those that are metal."""
    joined = _Joined()
    joined.find(SHELL_NODE)
    for node in raws.nodes:
        joined.find(node)
    conducts, metal = [], []
    for place, raw in enumerate(raws.edges):
        joined.find(raw.a)
        joined.find(raw.b)
        if is_metal(raw) and raw.owner not in apart:
            joined.join(raw.a, raw.b)
            metal.append(place)
        else:
            conducts.append(place)
    names = joined.nodes()
    roots = {root: i for i, root in enumerate(dict.fromkeys(map(joined.find, names)))}
    index = {name: roots[joined.find(name)] for name in names}
    return _Numbering(index, len(roots), conducts, metal)


def _ends(edges: Sequence[Edge]) -> tuple[Ints, Ints]:
    """Return the end nodes of edges, each of shape (edges,)."""
    a = np.fromiter((e.a for e in edges), np.intp, len(edges))
    return a, np.fromiter((e.b for e in edges), np.intp, len(edges))


def _by_role(edges: Sequence[Edge]) -> dict[str, list[int]]:
    """Return the indices of the edges of every role."""
    found: dict[str, list[int]] = {}
    for index, edge in enumerate(edges):
        found.setdefault(edge.role, []).append(index)
    return found


def _edges_at(count: int, edges: Sequence[Edge]) -> list[list[int]]:
    """Return the indices of the edges at every node, in order."""
    found: list[list[int]] = [[] for _ in range(count)]
    for index, edge in enumerate(edges):
        found[edge.a].append(index)
        if edge.b != edge.a:
            found[edge.b].append(index)
    return found
