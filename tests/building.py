"""Puts small circuits together in few words, for tests that work their answer out by hand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from model.circuit import Circuit, Constants, End, Part, Settings, Wire
from model.kinds.kind import Value
from model.solver import Settled, Solver
from model.state import State
from model.states import Fault, Memory, Setting
from model.wiresize import Size

BARE = Constants(copper_ohm_mm2_m=0.0, wire_ends_ohm=0.0, ground_ohm=0.0, way_ohm=0.0)
"""Constants of a circuit whose wires, grounds and ways are perfect."""
METAL = Size(mm2=1.0)
FIELDS = frozenset(("duty", "terminals", "table", "rest", "ways", "host", "slot"))


def part(reference: str, kind: str, **stated: Any) -> Part:
    """Return a part whose id is its reference; what is no field of a part is a rating."""
    fields = {k: v for k, v in stated.items() if k in FIELDS}
    ratings: dict[str, Value] = {k: v for k, v in stated.items() if k not in FIELDS}
    return Part(reference, kind, reference, ratings=ratings, **fields)


def battery(volts: float, ohm: float = 1e-6, reference: str = "BAT") -> Part:
    """Return a battery of this voltage and inner resistance (a microohm: as good as none)."""
    return part(reference, "battery", voltage_v=volts, inner_ohm=ohm)


def resistor(reference: str, ohm: float) -> Part:
    """Return a fixed resistance with terminals 1 and 2."""
    return part(reference, "resistor", resistance_ohm=ohm)


def end(text: str) -> End:
    """Return the end written as K1.86 or, at a face of a connector, X1.3/a."""
    reference, _, terminal = text.partition(".")
    key, _, face = terminal.partition("/")
    return End(reference, key, face)


def wire(number: str, text: str, ohm: float = 0.0) -> Wire:
    """Return a wire between two ends, "BAT.+ R1.1", of this resistance all told."""
    first, second = text.split()
    return Wire(number, number, end(first), end(second), METAL, 0.0, ends_ohm=ohm)


def circuit(
    parts: list[Part], wires: str, ohms: Mapping[str, float] | None = None, **settings: Any
) -> Circuit:
    """Return a circuit of these parts.

    Parameters
    ----------
    parts
        The parts.
    wires
        Pairs of ends, separated by commas; they are numbered W1, W2 …
    ohms
        Resistance of wires that have some, by number.
    settings
        Fields of the circuit's settings.
    """
    given = ohms or {}
    pairs = [p.strip() for p in wires.split(",") if p.strip()]
    made = [wire(f"W{i}", p, given.get(f"W{i}", 0.0)) for i, p in enumerate(pairs, start=1)]
    settings.setdefault("constants", BARE)
    settings.setdefault("reference_battery", next((p.id for p in parts if p.kind == "battery"), ""))
    return Circuit(
        parts={p.id: p for p in parts},
        wires={w.id: w for w in made},
        settings=Settings(**settings),
    )


def settle(
    of: Circuit,
    positions: Mapping[str, str] | None = None,
    memory: Memory | None = None,
    *,
    faults: tuple[Fault, ...] = (),
    **setting: Any,
) -> Settled:
    """Return how a circuit settles with these positions, from power-off unless told."""
    asked = replace(Solver(of).rest(), positions=dict(positions or {}), faults=faults)
    return Solver(of).settle(replace(asked, **setting), memory)


def steady(
    of: Circuit,
    positions: Mapping[str, str] | None = None,
    memory: Memory | None = None,
    *,
    faults: tuple[Fault, ...] = (),
    **setting: Any,
) -> State:
    """Return the one state in which a circuit settles."""
    settled = settle(of, positions, memory, faults=faults, **setting)
    assert settled.settled == "steady"
    return settled.state


def power(state: State, part_id: str, element: str) -> float:
    """Return the watts an element takes."""
    return state.across(part_id, element) * state.current(part_id, element)


__all__ = [
    "BARE",
    "Setting",
    "battery",
    "circuit",
    "end",
    "part",
    "power",
    "resistor",
    "settle",
    "steady",
    "wire",
]
