"""What lies where in a network: facts that hold while only numbers change, kept with its frame.

Edges in them may be those of a circuit before; their ohms are never read.
"""

from __future__ import annotations

from checks.passing import Mover, choosy
from model.circuit import Circuit
from model.network import Edge, Network, end_node
from model.state import CONDUCTORS

METAL = frozenset(("wire", "way", "ground"))
"""Roles of what never opens."""
PASSING = CONDUCTORS | {"resistor"}
"""Roles that join a load to its supply; a resistor of its own may stand in the way."""


def _inside(circuit: Circuit, edge: Edge) -> bool:
    """Tell whether a resistor or diode is part of something else: a coil's suppression."""
    owner = circuit.parts.get(edge.owner)
    return (
        edge.role in ("resistor", "diode")
        and owner is not None
        and (owner.kind not in ("resistor", "diode") and owner.kind not in circuit.own_kinds)
    )


def movers_of(network: Network) -> frozenset[Mover]:
    """Return the parts with contacts that are never closed together."""
    return network.frame.fact("movers", lambda: choosy(network.edges))


def links_of(network: Network) -> dict[int, list[tuple[int, Edge]]]:
    """Return the neighbours of every node by conductors, contacts taken as closed."""
    links: dict[int, list[tuple[int, Edge]]] = {}
    for edge in network.edges:
        if edge.role in PASSING and not _inside(network.circuit, edge):
            links.setdefault(edge.a, []).append((edge.b, edge))
            links.setdefault(edge.b, []).append((edge.a, edge))
    return links


def parts_by_node(network: Network) -> dict[int, frozenset[str]]:
    """Return the parts that have a terminal at each node of a network."""
    found: dict[int, set[str]] = {}
    for (part, _), index in network.index.items():
        if part:
            found.setdefault(index, set()).add(part)
    return {node: frozenset(parts) for node, parts in found.items()}


def wires_by_node(circuit: Circuit) -> dict[tuple[str, str], list[str]]:
    """Return the ids of the wires that end at each node."""
    found: dict[tuple[str, str], list[str]] = {}
    for wire in circuit.wires.values():
        for end in (wire.first, wire.second):
            if end is not None:
                found.setdefault(end_node(circuit, end), []).append(wire.id)
    return found
