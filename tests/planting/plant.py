"""A planted mistake, and the small edits it is made of."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from model.circuit import Circuit, End, Part, Wire


@dataclass(frozen=True, slots=True)
class Plant:
    """One mistake at one place.

    A finding of one of `rules` and of `severities` (any if empty) has to name one of the ids in
    `at`. `explains` are the ids that further findings of a rule may be about because of the
    mistake: the finding's main part, or all of its wires. `numbers` are values that the finding
    has to hold: the figure, and by which share it may differ.
    """

    circuit: Circuit
    where: str
    rules: frozenset[str]
    at: frozenset[str]
    explains: Mapping[str, frozenset[str]] = field(default_factory=dict)
    severities: frozenset[str] = frozenset()
    numbers: Mapping[str, tuple[float, float]] = field(default_factory=dict)


def with_parts(circuit: Circuit, *parts: Part) -> Circuit:
    """Return the circuit with these parts put in, new or in place of the ones of their ids."""
    return replace(circuit, parts={**circuit.parts, **{p.id: p for p in parts}})


def with_wires(circuit: Circuit, wires: Iterable[Wire]) -> Circuit:
    """Return the circuit with these wires put in, new or in place of the ones of their ids."""
    return replace(circuit, wires={**circuit.wires, **{w.id: w for w in wires}})


def without_wire(circuit: Circuit, wire_id: str) -> Circuit:
    """Return the circuit without a wire."""
    return replace(circuit, wires={k: w for k, w in circuit.wires.items() if k != wire_id})


def without_idle_grounds(circuit: Circuit, before: Circuit) -> Circuit:
    """Return the circuit without the ground points that have lost their last wire."""
    idle = {
        p.id
        for p in circuit.parts.values()
        if p.kind == "ground" and wires_on(before, p.id) and not wires_on(circuit, p.id)
    }
    return replace(circuit, parts={k: p for k, p in circuit.parts.items() if k not in idle})


def ends(wire: Wire) -> tuple[End, End]:
    """Return both ends of a wire of a sound circuit."""
    assert wire.first is not None
    assert wire.second is not None
    return wire.first, wire.second


def wires_on(circuit: Circuit, part_id: str, terminal: str = "") -> list[Wire]:
    """Return the wires on a part, or on one terminal of it."""
    return [
        w
        for w in circuit.wires.values()
        if any(e.part == part_id and terminal in ("", e.terminal) for e in ends(w))
    ]


def moved(circuit: Circuit, part_id: str, to: Mapping[str, str]) -> Circuit:
    """Return the circuit with every wire on a part moved to the other terminals named."""

    def end(old: End) -> End:
        return replace(old, terminal=to.get(old.terminal, old.terminal)) if (
            old.part == part_id
        ) else old  # fmt: skip

    wires = (replace(w, first=end(ends(w)[0]), second=end(ends(w)[1]))
             for w in wires_on(circuit, part_id))  # fmt: skip
    return with_wires(circuit, wires)


def led_to(wire: Wire, part_id: str, end: End) -> Wire:
    """Return the wire with the end that is not on a part led to another place."""
    first, _ = ends(wire)
    return replace(wire, second=end) if first.part == part_id else replace(wire, first=end)


def far(wire: Wire, part_id: str) -> End:
    """Return the end of a wire that is not on a part."""
    first, second = ends(wire)
    return second if first.part == part_id else first
