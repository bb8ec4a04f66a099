"""What a dead short draws: the current of a bolted fault behind a fuse, and the ohms on its way.

The way out is that of least resistance from a battery's plus, contacts taken as closed (but not
those that lead round a wire at whose far end the short is); the way back is the shell, or, where
the shell is not joined to the supply, a wire like the way out.
Copper is taken at the circuit's own temperature; alternators are left out, as their current is
limited and adds to the battery's.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

import networkx as nx

from checks.basis import Basis
from checks.feeds import Feed, is_battery
from checks.structure import METAL
from model.network import Edge
from model.resistances import battery_emf, battery_inner_ohm

OUT = frozenset(("wire", "contact", "way", "fuse"))
"""Roles that the way out may run through."""
SAME = 1e-9


@dataclass(frozen=True, slots=True)
class Fault:
    """A dead short at one place: the battery that drives it and the ohms around the loop.

    Attributes
    ----------
    battery : str
        Id of the battery.
    volts : float
        Its voltage without load, resting.
    inner_ohm, out_ohm, back_ohm : float
        Inside the battery, from its plus to the fault, and from the fault to its minus.
    """

    battery: str
    volts: float
    inner_ohm: float
    out_ohm: float
    back_ohm: float

    @property
    def amps(self) -> float:
        """Amperes that flow."""
        return self.volts / (self.inner_ohm + self.out_ohm + self.back_ohm)


@dataclass(frozen=True, slots=True)
class _Head:
    """How a fuse is reached from a battery: its near node and the ohms up to there."""

    battery: Edge
    ohm: float


class Faults:
    """Dead shorts behind the fuses of a circuit.

    Parameters
    ----------
    basis
        The circuit, analysed.
    """

    def __init__(self, basis: Basis) -> None:
        self.basis = basis

    def behind(self, feed: Feed) -> Fault | None:
        """Return a short right behind a fuse, None where no battery feeds it."""
        return self._at(feed, 0.0)

    def at_far_end(self, feed: Feed, wire_id: str) -> Fault | None:
        """Return a short at the far end of a wire in a fuse's stretch.

        Where only contacts lead to that end another way they are taken as open: then the wire
        alone feeds the short, which draws least.
        """
        ohms = self._ohms(feed)
        ends = [
            self._far_ohm(feed, e, ohms)
            for e, _ in feed.edges
            if e.owner == wire_id and e.role == "wire" and {e.a, e.b} & ohms.keys()
        ]
        return self._at(feed, max(ends)) if ends else None

    def _far_ohm(self, feed: Feed, wire: Edge, ohms: dict[int, float]) -> float:
        """Return the ohms from a fuse to the far end of a wire behind it."""
        near, far = sorted(ohms.get(n, math.inf) for n in (wire.a, wire.b))
        through = near + wire.ohm
        if far >= through * (1 - SAME):
            return through
        apart = _graph(e for e, _ in feed.edges if e.role in METAL and e is not wire)
        ends = wire.a in apart and wire.b in apart
        return far if ends and nx.has_path(apart, wire.a, wire.b) else through

    def _at(self, feed: Feed, ohm: float) -> Fault | None:
        """Return a short at so many ohms behind a fuse."""
        head = self._head(feed)
        if head is None or feed.fuse is None:
            return None
        battery = head.battery.owner
        out = head.ohm + feed.fuse.ohm + ohm
        back = self._shell_ohm.get(head.battery.b)
        return Fault(
            battery,
            *self._source(battery),
            out,
            out if back is None else back,
        )

    def _source(self, battery: str) -> tuple[float, float]:
        """Return the rest voltage and the inner resistance of a battery."""
        circuit = self.basis.circuit
        part = circuit.parts[battery]

        def make() -> tuple[float, float]:
            return battery_emf(circuit, part, "resting"), battery_inner_ohm(circuit, part)

        return self.basis.network.frame.kept("battery", battery, (part,), make)

    def _head(self, feed: Feed) -> _Head | None:
        """Return the best way from a battery to the near side of a fuse."""
        fuse = feed.fuse
        if fuse is None:
            return None
        near = fuse.b if feed.start == fuse.a else fuse.a
        heads = [
            _Head(source, ohm)
            for source in self.basis.sources
            if is_battery(source) and (ohm := self._up_to(source, fuse, near)) is not None
        ]
        return min(heads, key=lambda h: h.ohm, default=None)

    def _up_to(self, source: Edge, fuse: Edge, near: int) -> float | None:
        """Return the ohms from a battery's plus to the near side of a fuse, not through it."""
        if source.key not in self._reached:
            self._reached[source.key] = _distances(_graph(self._out), source.a)
        ohms = self._reached[source.key]
        far = fuse.a if near == fuse.b else fuse.b
        if near not in ohms or ohms[near] <= ohms[far]:
            return ohms.get(near)
        # The best way leads through the fuse itself: look for one beside it.
        apart = _graph(e for e in self._out if e is not fuse)
        return _distances(apart, source.a).get(near)

    @cached_property
    def _out(self) -> list[Edge]:
        """Everything that the way out may run through."""
        return [e for e in self.basis.network.edges if e.role in OUT]

    def _ohms(self, feed: Feed) -> dict[int, float]:
        """Return the ohms from the far side of a fuse to the nodes of its stretch."""
        key = id(feed)
        if key not in self._inside:
            self._inside[key] = _distances(_graph(e for e, _ in feed.edges), feed.start)
        return self._inside[key]

    @cached_property
    def _reached(self) -> dict[tuple[str, str], dict[int, float]]:
        """Ohms from each battery's plus, those asked for so far."""
        return {}

    @cached_property
    def _inside(self) -> dict[int, dict[int, float]]:
        """Ohms inside stretches, those asked for so far; the basis keeps its feeds."""
        return {}

    @cached_property
    def _shell_ohm(self) -> dict[int, float]:
        """Ohms from the shell to every node that metal joins to it."""
        network = self.basis.network
        if not self.basis.shell_joined:
            return {}
        return _distances(_graph(e for e in network.edges if e.role in METAL), network.shell)


def _graph(edges: Iterable[Edge]) -> nx.Graph[int]:
    """Return conductors as a plain graph, the best one of several side by side."""
    graph: nx.Graph[int] = nx.Graph()
    for edge in edges:
        held = graph.get_edge_data(edge.a, edge.b)
        if held is None or edge.ohm < held["ohm"]:
            graph.add_edge(edge.a, edge.b, ohm=edge.ohm)
    return graph


def _distances(graph: nx.Graph[int], start: int) -> dict[int, float]:
    """Return the least ohms from a node to every node it is joined to."""
    if start not in graph:
        return {start: 0.0}
    found: dict[int, float] = nx.single_source_dijkstra_path_length(graph, start, weight="ohm")
    return found
