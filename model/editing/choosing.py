"""What belongs together: selections of parts and wires, as sets of ids."""

from __future__ import annotations

from collections.abc import Iterable

from model.circuit import Circuit
from model.editing.draft import part_at
from model.editing.errors import EditError
from model.editing.walking import Graph
from model.kinds.body import FusePath
from model.lookup import body_of, kind_of, label
from model.wiresize import Size

Ids = frozenset[str]
STOPS = ("supply", "ground")
"""Families of parts where a circuit ends."""


def whole_circuit(circuit: Circuit, ids: Iterable[str], *, by_coils: bool = True) -> Ids:
    """Return the whole circuit that parts and wires belong to.

    All that wires and the insides of parts join to them, stopping at supplies and ground points,
    which belong to many circuits and are left out unless they were given.

    Parameters
    ----------
    ids
        Where to start.
    by_coils
        Go on from a relay's contacts to its coil and back.
    """
    graph, ends = Graph(circuit), _ends(circuit)
    start = {i for i in ids if i in circuit.parts or i in circuit.wires}
    mine = graph.nodes_of(start & circuit.parts.keys())
    at_wires = {n for n in graph.nodes_of(start & circuit.wires.keys()) if n[0] not in ends}
    reached = graph.joined(mine | at_wires, ends, by_coils=by_coils)
    inner = mine | {n for n in reached if n[0] not in ends}
    found = graph.parts_at(inner) | graph.wires_at(inner)
    return frozenset((found - ends) | start)


def fed_by(circuit: Circuit, part_id: str) -> Ids:
    """Return a fuse and everything it feeds: wires, contacts, further fuses, loads and coils.

    From the side away from the supply, conductors are followed with contacts in any position (but
    never both sides of one change-over contact on one way), forwards through diodes, up to and
    with the loads and coils, not beyond them, and never back to what is as near to the supply as
    the fuse's fed side. A fuse that nothing feeds is followed from both sides.

    Raises
    ------
    EditError
        There is no such part, or it is no fuse or breaker.
    """
    part = part_at(circuit, part_id)
    fuses = [e for e in body_of(circuit, part).elements if isinstance(e, FusePath)]
    if not fuses:
        raise EditError(f"{label(part)} is no fuse; select a fuse or breaker.")
    graph = Graph(circuit)
    depths = graph.depths()
    sides = {(part_id, n): depths.get((part_id, n), 0) for e in fuses for n in (e.a, e.b)}
    near, far = min(sides.values()), max(sides.values())
    start = {node for node, depth in sides.items() if depth == far}
    reached = graph.fed(start, depths, near + 1 if far > near else near, part_id)
    found = graph.parts_at(reached) | graph.wires_at(reached, every_end=True)
    return frozenset((found - _ends(circuit)) | {part_id})


def on_ground(circuit: Circuit, part_id: str) -> Ids:
    """Return a ground point and everything that returns to it.

    Conductors are followed from it with contacts in any position, backwards through diodes, up to
    and with the loads and coils, not beyond them; supplies and other ground points are left out.

    Raises
    ------
    EditError
        There is no such part, or it is no ground point.
    """
    part = part_at(circuit, part_id)
    if kind_of(circuit, part).family != "ground":
        raise EditError(f"{label(part)} is no ground point; select one.")
    graph = Graph(circuit)
    reached = graph.returning({(part_id, t.node) for t in body_of(circuit, part).terminals})
    found = graph.parts_at(reached) | graph.wires_at(reached, every_end=True)
    return frozenset((found - _ends(circuit)) | {part_id})


def of_kind(circuit: Circuit, *keys: str) -> Ids:
    """Return the parts of these kinds, or of families of these names."""
    wanted = set(keys)
    return frozenset(
        p.id
        for p in circuit.parts.values()
        if p.kind in wanted or kind_of(circuit, p).family in wanted
    )


def of_colour(circuit: Circuit, colour: str, tracer: str | None = None) -> Ids:
    """Return the wires of a colour (IEC 60757 letters), by the list or as found on the vehicle.

    Parameters
    ----------
    tracer
        Its tracer, "" for none; None takes any.
    """
    found = []
    for wire in circuit.wires.values():
        listed = wire.colour == colour and tracer in (None, wire.tracer)
        seen = wire.found_colour in ({colour} if not tracer else {f"{colour}/{tracer}"})
        if listed or (seen and colour):
            found.append(wire.id)
    return frozenset(found)


def of_size(circuit: Circuit, size: Size | None) -> Ids:
    """Return the wires of a size as designated; None: those whose size is not known."""
    return frozenset(w.id for w in circuit.wires.values() if w.size == size)


def _ends(circuit: Circuit) -> set[str]:
    """Return the parts where circuits end: supplies and ground points."""
    return {p.id for p in circuit.parts.values() if kind_of(circuit, p).family in STOPS}
