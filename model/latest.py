"""The edges of a circuit, kept from the circuit before, and the frame that both may share.

A change leaves most records as they were, and circuits share those. What a part or wire conducts
depends on its record, on those it is joined to and on the settings; while all of these are the
very same objects, the edges reckoned for the circuit before still hold.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from itertools import chain

from model.circuit import Circuit, Part, Wire
from model.frame import Frame
from model.lookup import body_of
from model.raws import Node, Raw, is_metal, part_nodes, part_raws, wire_raw
from model.zones import DEEPEST


@dataclass(frozen=True, slots=True)
class Raws:
    """The nodes and edges of a circuit, and the frame it shares with circuits alike."""

    nodes: list[Node]
    edges: list[Raw]
    frame: Frame


@dataclass(frozen=True, slots=True)
class _Kept:
    """What one circuit gave, by the records it was reckoned from."""

    given: tuple[object, ...] = ()
    parts: Mapping[str, Part] = field(default_factory=dict)
    wires: Mapping[str, Wire] = field(default_factory=dict)
    nodes: Mapping[str, tuple[Node, ...]] = field(default_factory=dict)
    part_raws: Mapping[str, tuple[Raw, ...]] = field(default_factory=dict)
    wire_raws: Mapping[str, Raw] = field(default_factory=dict)
    frame: Frame = field(default_factory=Frame)


_LAST = [_Kept()]
"""One place, replaced as a whole, so that threads never see half of it."""


def raws_of(circuit: Circuit) -> Raws:
    """Return the nodes of every part, and the edges of every part and wire."""
    old = _LAST[0]
    given = (circuit.settings, circuit.own_kinds, circuit.own_tables,
             circuit.branches, circuit.zones)  # fmt: skip
    if list(map(id, old.given)) != list(map(id, given)):
        old = _Kept()
    new = _next(circuit, given, old)
    _LAST[0] = new
    nodes = list(chain.from_iterable(new.nodes.values()))
    edges = [*chain.from_iterable(new.part_raws.values()), *new.wire_raws.values()]
    return Raws(nodes, edges, new.frame)


def _next(circuit: Circuit, given: tuple[object, ...], old: _Kept) -> _Kept:
    """Return what a circuit gives, taken from the one before where that still holds."""
    parts = _dirty_parts(circuit, old)
    wires = _dirty_wires(circuit, old, parts)
    held, points, strung = old.part_raws, old.nodes, old.wire_raws
    raws, nodes, wire_raws = held, points, strung
    if circuit.parts is not old.parts or parts:
        found = circuit.parts
        raws = {k: part_raws(circuit, p) if k in parts else held[k] for k, p in found.items()}
        nodes = {k: part_nodes(circuit, p) if k in parts else points[k] for k, p in found.items()}
    if circuit.wires is not old.wires or wires:
        wire_raws = {
            k: wire_raw(circuit, w) if k in wires else strung[k]
            for k, w in circuit.wires.items()
            if w.first is not None and w.second is not None
        }
    new = _Kept(given, circuit.parts, circuit.wires, nodes, raws, wire_raws)
    return _with_frame(new, old, parts, wires, circuit)


def _dirty_parts(circuit: Circuit, old: _Kept) -> set[str]:
    """Return the parts whose record is another one, or that of something they sit in."""
    if circuit.parts is old.parts:
        return set()
    dirty = _others(circuit.parts, old.parts)
    gone = {k for k in old.parts if k not in circuit.parts}
    for _ in range(DEEPEST if dirty or gone else 0):
        hosts = dirty | gone
        more = {p.id for p in circuit.parts.values() if p.host and p.host in hosts} - dirty
        if not more:
            break
        dirty |= more
    return dirty


def _dirty_wires(circuit: Circuit, old: _Kept, parts: set[str]) -> set[str]:
    """Return the wires whose record is another one, or that end at a part that is."""
    gone = {k for k in old.parts if k not in circuit.parts} if parts else set[str]()
    dirty = set() if circuit.wires is old.wires else _others(circuit.wires, old.wires)
    hosts = parts | gone
    if hosts:
        dirty |= {w.id for w in circuit.wires.values() if _ends_in(w, hosts)}
    return dirty


def _others(new: Mapping[str, Part | Wire], old: Mapping[str, Part | Wire]) -> set[str]:
    """Return the ids of records that are not the very same as before."""
    return {k for k, record in new.items() if old.get(k) is not record}


def _ends_in(wire: Wire, parts: set[str]) -> bool:
    """Tell whether a wire ends at one of these parts."""
    return any(end is not None and end.part in parts for end in (wire.first, wire.second))


def _with_frame(
    new: _Kept, old: _Kept, parts: set[str], wires: set[str], circuit: Circuit
) -> _Kept:
    """Return what a circuit gave, in the frame of the one before where only numbers changed."""
    alike = (
        list(new.parts) == list(old.parts)
        and list(new.wires) == list(old.wires)
        and all(_same_part(new, old, k, circuit) for k in parts)
        and all(_same_wire(new, old, k) for k in wires)
    )
    frame = old.frame if alike else Frame()
    return _Kept(new.given, new.parts, new.wires, new.nodes, new.part_raws, new.wire_raws, frame)


def _same_part(new: _Kept, old: _Kept, key: str, circuit: Circuit) -> bool:
    """Tell whether a part differs from the one before in numbers alone."""
    one, other = new.parts[key], old.parts[key]
    same = (one.kind, one.host, one.slot) == (other.kind, other.host, other.slot)
    bodies = body_of(circuit, one), body_of(circuit, other)
    return (
        same
        and (bodies[0] is bodies[1] or bodies[0] == bodies[1])
        and _alike(new.part_raws[key], old.part_raws[key])
    )


def _same_wire(new: _Kept, old: _Kept, key: str) -> bool:
    """Tell whether a wire differs from the one before in numbers alone."""
    one, other = new.wires[key], old.wires[key]
    if (one.first, one.second) != (other.first, other.second):
        return False
    pair = [k.wire_raws[key] for k in (new, old) if key in k.wire_raws]
    return _alike(pair[:1], pair[1:])


def _alike(some: Iterable[Raw], others: Iterable[Raw]) -> bool:
    """Tell whether edges differ in their ohms alone, and none became metal or ceased to be it."""
    some, others = tuple(some), tuple(others)
    return len(some) == len(others) and all(
        (a.owner, a.element, a.a, a.b, a.role) == (b.owner, b.element, b.a, b.b, b.role)
        and (a.inner is b.inner or a.inner == b.inner)
        and is_metal(a) is is_metal(b)
        for a, b in zip(some, others, strict=True)
    )
