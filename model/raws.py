"""The edges of parts and wires before their nodes have numbers, kept from circuit to circuit.

A change leaves most records as they were, and circuits share those. What a part or wire conducts
depends on its record, on those it is joined to and on the settings; while all of these are the
very same objects, the edges reckoned for the circuit before still hold.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, fields

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
from model.zones import DEEPEST

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


Line = tuple[Part, ...]
"""A part, the part it sits in, and so on: all that its surroundings may depend on."""


@dataclass(frozen=True, slots=True)
class _OfPart:
    """What was found for a part, and the records that it holds for: itself, and what it sits in."""

    line: Line
    nodes: tuple[Node, ...]
    raws: tuple[Raw, ...]


@dataclass(frozen=True, slots=True)
class _OfWire:
    """What was found for a wire, and the records that it holds for, those at its ends too."""

    wire: Wire
    ends: tuple[Line, Line]
    raw: Raw


@dataclass(slots=True)
class _Kept:
    """What the last circuit gave: `given` are all its records but parts and wires."""

    given: tuple[object, ...] = ()
    parts: dict[str, _OfPart] = field(default_factory=dict)
    wires: dict[str, _OfWire] = field(default_factory=dict)


_GIVEN = tuple(f.name for f in fields(Circuit) if f.name not in ("parts", "wires"))
_LAST = [_Kept()]
"""One place, replaced as a whole, so that threads never see half of it."""


def raws_of(circuit: Circuit) -> tuple[list[Node], list[Raw]]:
    """Return the nodes of every part, and the edges of every part and wire."""
    given = tuple(getattr(circuit, name) for name in _GIVEN)
    old, new = _LAST[0], _Kept(given)
    if list(map(id, old.given)) != list(map(id, given)):
        old = _Kept()
    for part in circuit.parts.values():
        new.parts[part.id] = _of_part(circuit, part, old.parts.get(part.id))
    for wire in circuit.wires.values():
        if wire.first is not None and wire.second is not None:
            new.wires[wire.id] = _of_wire(circuit, wire, old.wires.get(wire.id))
    _LAST[0] = new
    nodes = [n for found in new.parts.values() for n in found.nodes]
    raws = [r for found in new.parts.values() for r in found.raws]
    return nodes, raws + [found.raw for found in new.wires.values()]


def _of_part(circuit: Circuit, part: Part, held: _OfPart | None) -> _OfPart:
    """Return the nodes and edges of a part, those held where they still hold."""
    line = _line(circuit, part.id)
    if held is not None and _same(held.line, line):
        return held
    body = body_of(circuit, part)
    nodes = tuple((part.id, terminal.node) for terminal in body.terminals)
    raws = [
        _element_edge(circuit, part, element)
        for element in body.elements
        if _exists(circuit, part, element)
    ]
    return _OfPart(line, nodes, (*raws, *_guest_bonds(circuit, part)))


def _of_wire(circuit: Circuit, wire: Wire, held: _OfWire | None) -> _OfWire:
    """Return the edge of a joined wire, the one held where it still holds."""
    assert wire.first is not None and wire.second is not None
    lines = (_line(circuit, wire.first.part), _line(circuit, wire.second.part))
    if held is not None and held.wire is wire and all(map(_same, held.ends, lines)):
        return held
    ends = (end_node(circuit, wire.first), end_node(circuit, wire.second))
    raw = Raw(wire.id, "wires", "", *ends, wire_ohm(circuit, wire), "wire")
    return _OfWire(wire, lines, raw)


def _line(circuit: Circuit, part_id: str) -> Line:
    """Return a part with the parts it sits in, one in the other; a ring of them ends."""
    found: list[Part] = []
    part = circuit.parts.get(part_id)
    while part is not None and len(found) < DEEPEST:
        found.append(part)
        part = circuit.parts.get(part.host) if part.host else None
    return tuple(found)


def _same(one: Line, other: Line) -> bool:
    """Tell whether two lines are of the very same records."""
    return len(one) == len(other) and all(a is b for a, b in zip(one, other, strict=True))


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
