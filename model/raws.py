"""The edges of parts and wires before their nodes have numbers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.circuit import Circuit, End, Part, Wire
from model.kinds.body import (
    SHELL,
    Bond,
    Coil,
    Contact,
    DiodePath,
    Element,
    FusePath,
    LoadPath,
    Resistance,
    ShellPath,
    SourcePath,
    Way,
)
from model.lookup import body_of, number, word
from model.resistances import coil_ohm, fuse_ohm, wire_ohm

Node = tuple[str, str]
"""Part id and inner node name; the shell is ("", SHELL)."""
SHELL_NODE: Node = ("", SHELL)
ROLES = {
    Contact: "contact",
    Coil: "coil",
    Resistance: "resistor",
    DiodePath: "diode",
    FusePath: "fuse",
    LoadPath: "load",
    SourcePath: "source",
    Way: "way",
    ShellPath: "ground",
}


@dataclass(frozen=True, slots=True)
class Raw:
    """An edge before nodes have numbers."""

    owner: str
    table: str
    element: str
    a: Node
    b: Node
    ohm: float
    role: str
    inner: Element | None = None


FIXED = frozenset(("wire", "way", "ground", "bond"))
"""Roles of what never opens."""


def is_metal(raw: Raw) -> bool:
    """Tell whether an edge joins its nodes to one piece: no resistance, and it never opens."""
    return raw.ohm <= 0.0 and raw.role in FIXED


def part_nodes(circuit: Circuit, part: Part) -> tuple[Node, ...]:
    """Return the nodes of a part."""
    return tuple((part.id, terminal.node) for terminal in body_of(circuit, part).terminals)


def part_raws(circuit: Circuit, part: Part) -> tuple[Raw, ...]:
    """Return the edges of a part, and its bonds to what it sits in."""
    raws = [
        _element_edge(circuit, part, element)
        for element in body_of(circuit, part).elements
        if _exists(circuit, part, element)
    ]
    return (*raws, *_guest_bonds(circuit, part))


def wire_raw(circuit: Circuit, wire: Wire) -> Raw:
    """Return the edge of a wire with both ends joined."""
    assert wire.first is not None and wire.second is not None
    ends = (end_node(circuit, wire.first), end_node(circuit, wire.second))
    return Raw(wire.id, "wires", "", *ends, wire_ohm(circuit, wire), "wire")


def end_node(circuit: Circuit, end: End) -> Node:
    """Return the node a wire's end joins; at a connector without a stated face, face a."""
    part = circuit.parts.get(end.part)
    terminal = body_of(circuit, part).terminal(end.terminal, end.face) if part else None
    return (end.part, terminal.node) if terminal else end.node


def _exists(circuit: Circuit, part: Part, element: Element) -> bool:
    """Tell whether an element is there: some depend on a choice (suppression)."""
    return element.when is None or word(circuit, part, element.when[0]) == element.when[1]


def _element_edge(circuit: Circuit, part: Part, element: Element) -> Raw:
    """Return the edge of one inner element."""
    role = ROLES.get(type(element), "bond")
    b = SHELL_NODE if isinstance(element, ShellPath) else (part.id, element.b)
    ohm = _element_ohm(circuit, part, element)
    return Raw(part.id, "parts", element.name, (part.id, element.a), b, ohm, role, element)


def _element_ohm(circuit: Circuit, part: Part, element: Element) -> float:
    """Return the resistance of an inner element, 0 for those with a law of their own."""
    if isinstance(element, FusePath):
        return fuse_ohm(circuit, part)
    if isinstance(element, Coil):
        return coil_ohm(circuit, part, element.ohm)
    if isinstance(element, Contact | Resistance | Way | ShellPath):
        return number(circuit, part, element.ohm)
    return 0.0


def _guest_bonds(circuit: Circuit, part: Part) -> Iterator[Raw]:
    """Yield the bonds between a part and the slot it sits in."""
    host = circuit.parts.get(part.host) if part.host else None
    if host is None:
        return
    mine = {t.key for t in body_of(circuit, part).terminals}
    for slot in body_of(circuit, host).slots:
        if slot.name != part.slot:
            continue
        for key, node in slot.joins:
            if key in mine:
                yield Raw(
                    part.id,
                    "parts",
                    f"slot {key}",
                    (part.id, key),
                    (host.id, node),
                    0.0,
                    "bond",
                    Bond(name=key, a=key, b=node),
                )
