"""The circuit as a network: terminals are nodes, everything that conducts is an edge.

Metal without resistance (splices, bus bars, a part in its socket) is one node. Edges keep their
owner, so that every volt and ampere finds its way back to a part or a wire.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import cached_property

import networkx as nx
import numpy as np

from model.circuit import Circuit
from model.kinds.body import Element
from model.raws import SHELL_NODE, Node, Raw, end_node, raws_of

__all__ = ["SHELL_NODE", "Edge", "Network", "Node", "end_node"]
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

    @property
    def key(self) -> tuple[str, str]:
        """Owner and element: what a current is asked by."""
        return (self.owner, self.element)


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


@dataclass(slots=True)
class _Gathered:
    """What is collected while a circuit is walked."""

    raw: list[Raw] = field(default_factory=list)
    merged: list[Raw] = field(default_factory=list)
    joined: _Joined = field(default_factory=_Joined)


class Network:
    """Nodes and edges of a circuit.

    Attributes
    ----------
    circuit
        The circuit it was built from.
    edges
        Everything that can conduct, whether it does or not.
    merged
        Wires, ways and bonds without resistance that were taken as metal.
    count
        Number of nodes.
    assumed
        Ids of wires whose size or length was missing and had to be assumed.
    """

    def __init__(self, circuit: Circuit, apart: frozenset[str] = frozenset()) -> None:
        """Build the network; owners in `apart` keep a small resistance instead of none."""
        self.circuit = circuit
        gathered = _Gathered()
        gathered.joined.find(SHELL_NODE)
        nodes, raws = raws_of(circuit)
        for node in nodes:
            gathered.joined.find(node)
        for raw in raws:
            _gather(gathered, raw, raw.owner in apart)
        self._number(gathered)
        self.assumed = frozenset(
            w.id for w in circuit.wires.values() if w.size is None or w.length_m is None
        )

    def _number(self, gathered: _Gathered) -> None:
        """Give nodes their indices and edges theirs."""
        joined = gathered.joined
        names = joined.nodes()
        roots = {root: i for i, root in enumerate(dict.fromkeys(map(joined.find, names)))}
        self.index: dict[Node, int] = {name: roots[joined.find(name)] for name in names}
        self.count = len(roots)
        self.edges = [self._edge(r) for r in gathered.raw]
        self.merged = [self._edge(r) for r in gathered.merged]
        self.merged_nodes = [(r.a, r.b) for r in gathered.merged]
        self.edge_nodes = [(r.a, r.b) for r in gathered.raw]
        self.by_key = {e.key: i for i, e in enumerate(self.edges)}
        self.a = np.fromiter((e.a for e in self.edges), np.intp, len(self.edges))
        self.b = np.fromiter((e.b for e in self.edges), np.intp, len(self.edges))

    def _edge(self, raw: Raw) -> Edge:
        """Return a raw edge with its nodes numbered."""
        a, b = self.index[raw.a], self.index[raw.b]
        return Edge(raw.owner, raw.table, raw.element, a, b, raw.ohm, raw.role, raw.inner)

    def node_of(self, part_id: str, node: str) -> int | None:
        """Return the index of a part's inner node, None where nothing conducts at it."""
        return self.index.get((part_id, node))

    @property
    def shell(self) -> int:
        """Index of the shell."""
        return self.index[SHELL_NODE]

    def of_role(self, *roles: str) -> Iterator[tuple[int, Edge]]:
        """Yield index and edge of every edge with one of these roles."""
        indices = sorted(i for role in set(roles) for i in self._by_role.get(role, ()))
        for index in indices:
            yield index, self.edges[index]

    @cached_property
    def _by_role(self) -> dict[str, list[int]]:
        """The indices of the edges of every role."""
        found: dict[str, list[int]] = {}
        for index, edge in enumerate(self.edges):
            found.setdefault(edge.role, []).append(index)
        return found

    @cached_property
    def edges_at(self) -> list[list[int]]:
        """The indices of the edges at every node, in order."""
        found: list[list[int]] = [[] for _ in range(self.count)]
        for index, edge in enumerate(self.edges):
            found[edge.a].append(index)
            if edge.b != edge.a:
                found[edge.b].append(index)
        return found

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


def _gather(gathered: _Gathered, raw: Raw, apart: bool) -> None:
    """Take an edge in: as metal where it has no resistance and never opens."""
    gathered.joined.find(raw.a)
    gathered.joined.find(raw.b)
    fixed = raw.role in ("wire", "way", "ground", "bond")
    if fixed and raw.ohm <= 0.0 and not apart:
        gathered.joined.join(raw.a, raw.b)
        gathered.merged.append(raw)
        return
    own_law = raw.role in ("diode", "load", "source")
    ohm = raw.ohm if own_law else max(raw.ohm, LEAST_OHM)
    gathered.raw.append(raw if ohm == raw.ohm else replace(raw, ohm=ohm))
