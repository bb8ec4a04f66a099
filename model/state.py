"""One solved state of a circuit, asked by part, terminal and wire."""

from __future__ import annotations

from collections import deque
from functools import cached_property

import numpy as np

from model.circuit import End
from model.linear import Floats
from model.lookup import body_of, rest_of
from model.network import Edge, Network, Node
from model.solve import Solved
from model.states import Armature, Memory, Setting

CONDUCTORS = frozenset(("wire", "contact", "fuse", "way", "ground", "diode"))
"""Roles that pass a feed or a return on; loads, coils and resistors do not."""


class State:
    """Volts, amperes and relay positions of a circuit at rest in one setting.

    Attributes
    ----------
    setting
        What was asked for, its engine as it came out.
    pulled
        Armatures that are in, as (part id, armature).
    engine, supply
        The engine after it followed the circuit; the supply that applied.
    memory
        What to hand to the next settling.
    """

    def __init__(
        self,
        network: Network,
        setting: Setting,
        pulled: frozenset[Armature],
        engine: str,
        supply: str,
        solved: Solved,
    ) -> None:
        self.network = network
        self.setting = setting
        self.pulled = pulled
        self.engine = engine
        self.supply = supply
        self.solved = solved
        self.memory = Memory(pulled)

    def position(self, part_id: str) -> str:
        """Return the position of a control, its rest position if it was not moved."""
        stated = self.setting.positions.get(part_id)
        circuit = self.network.circuit
        return stated or rest_of(circuit, circuit.parts[part_id])

    def volt(self, part_id: str, node: str) -> float | None:
        """Return volts at a part's node against the reference, None where it floats."""
        index = self.network.node_of(part_id, node)
        if index is None:
            part = self.network.circuit.parts.get(part_id)
            terminal = body_of(self.network.circuit, part).terminal(node) if part else None
            index = self.network.node_of(part_id, terminal.node) if terminal else None
        if index is None or not self.solved.joined[index]:
            return None
        return float(self.solved.volts[index]) + 0.0

    def volt_at(self, end: End | None) -> float | None:
        """Return volts at a wire's end."""
        return None if end is None else self.volt(*end.node)

    def current(self, owner: str, element: str = "") -> float:
        """Return amperes from a to b of an element, or first to second end of a wire."""
        index = self.network.by_key.get((owner, element))
        if index is not None:
            return float(self.solved.amps[index]) if self.solved.on[index] else 0.0
        return self._merged_amps.get((owner, element), 0.0)

    def across(self, part_id: str, element: str) -> float:
        """Return volts from a to b of an element."""
        index = self.network.by_key.get((part_id, element))
        if index is None:
            return 0.0
        edge = self.network.edges[index]
        return float(self.solved.volts[edge.a] - self.solved.volts[edge.b])

    def conducting(self, owner: str, element: str = "") -> bool:
        """Tell whether an element or wire conducts (whether current flows or not)."""
        index = self.network.by_key.get((owner, element))
        return True if index is None else bool(self.solved.on[index])

    def closed(self, edge: Edge) -> bool:
        """Tell whether an edge of the network conducts."""
        return bool(self.solved.on[self.network.by_key[edge.key]])

    def side(self, part_id: str, node: str) -> str:
        """Return fed, ground, both or none: what conductors join this node to."""
        index = self.network.node_of(part_id, node)
        return "none" if index is None else self.node_side(index)

    def node_side(self, index: int) -> str:
        """Return fed, ground, both or none for a node of the network."""
        fed, ground = index in self.fed_nodes, index in self.ground_nodes
        return "both" if fed and ground else "fed" if fed else "ground" if ground else "none"

    def wire_side(self, wire_id: str) -> str:
        """Return the side of a wire: that of either end."""
        wire = self.network.circuit.wires[wire_id]
        sides = {self.side(*end.node) for end in (wire.first, wire.second) if end is not None}
        sides.discard("none")
        return "both" if len(sides) > 1 else next(iter(sides), "none")

    @cached_property
    def ground_nodes(self) -> frozenset[int]:
        """Nodes that conductors join to the reference battery's minus."""
        return self._reach({self.network.reference})

    @cached_property
    def fed_nodes(self) -> frozenset[int]:
        """Nodes that conductors join to the plus of a source that is alive."""
        plus = {
            edge.a
            for index, edge in self.network.of_role("source")
            if self.solved.on[index] and edge.a not in self.ground_nodes
        }
        return self._reach(plus)

    def _reach(self, start: set[int]) -> frozenset[int]:
        """Return the nodes that conductors join to the start nodes."""
        links = self._links
        found, todo = set(start), deque(start)
        while todo:
            for other in links.get(todo.popleft(), ()):
                if other not in found:
                    found.add(other)
                    todo.append(other)
        return frozenset(found)

    @cached_property
    def _links(self) -> dict[int, list[int]]:
        """Neighbours by conductors that conduct; touching faults count."""
        links: dict[int, list[int]] = {}
        for index, edge in enumerate(self.network.edges):
            if edge.role in CONDUCTORS and self.solved.on[index]:
                links.setdefault(edge.a, []).append(edge.b)
                links.setdefault(edge.b, []).append(edge.a)
        return links

    @cached_property
    def _merged_amps(self) -> dict[tuple[str, str], float]:
        """Amperes in wires and ways taken as metal: what balances their ends.

        Where several lie side by side the current is shared evenly (the limit of equal small
        resistances).
        """
        net = self.network
        if not net.merged:
            return {}
        ends = dict.fromkeys(node for pair in net.merged_nodes for node in pair)
        names = {node: i for i, node in enumerate(ends)}
        incidence = np.zeros((len(names), len(net.merged)))
        for k, (a, b) in enumerate(net.merged_nodes):
            incidence[names[a], k] += 1.0
            incidence[names[b], k] -= 1.0
        flows = np.linalg.lstsq(incidence, self._into_metal(names), rcond=None)[0]
        return {e.key: float(f) for e, f in zip(net.merged, flows, strict=True)}

    def _into_metal(self, names: dict[Node, int]) -> Floats:
        """Return the amperes that other edges bring to each named node."""
        into = np.zeros(len(names))
        amps = self.solved.amps * self.solved.on
        for (a, b), flow in zip(self.network.edge_nodes, amps.tolist(), strict=False):
            if a in names:
                into[names[a]] -= flow
            if b in names:
                into[names[b]] += flow
        return into
