"""What a solved state shows, by people's names, as plain values."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from app.commands.names import Names
from app.commands.steps import Step
from model.kinds.body import Coil
from model.lookup import body_of, controls, number
from model.network import Edge
from model.solver import NONE, STEADY
from model.state import State

ON_SHARE, OFF_SHARE = 0.6, 0.08
"""Shares of the battery's stated voltage: on above the first, off below the second."""
NO_CURRENT_A = 1e-6
V_DIGITS, A_DIGITS = 4, 5

Data = dict[str, Any]


def step_data(step: Step, names: Names) -> Data:
    """Return one step as the JSON gives it; without one answer only what is common to all."""
    settled = step.settled
    every = [state_data(state, names) for state in settled.states]
    data: Data = {"set": dict(step.moved), "faults": list(step.faults), "settled": settled.settled}
    data |= common(every)
    if settled.settled != STEADY:
        data["states" if settled.settled == NONE else "outcomes"] = every
    return data


def common(every: list[Data]) -> Data:
    """Return what is the same in all of them, objects taken field by field."""
    first, *others = every
    made: Data = {}
    for key, value in first.items():
        values = [o[key] for o in others if key in o]
        if isinstance(value, dict):
            made[key] = common([value, *values])
        elif all(v == value for v in values) and len(values) == len(others):
            made[key] = value
    return made


def state_data(state: State, names: Names) -> Data:
    """Return everything a state shows."""
    return {
        "engine": state.engine,
        "supply": state.supply,
        "positions": {names.parts[p]: state.position(p) for p in controls(names.circuit)},
        "relays": dict(_relays(state, names)),
        "loads": dict(_loads(state, names)),
        "terminals": dict(_terminals(state, names)),
        "wires": {shown: _amps(state.current(wire)) for wire, shown in names.wires.items()},
        "currents": dict(_currents(state, names)),
    }


def _relays(state: State, names: Names) -> Iterator[tuple[str, str]]:
    """Yield the armatures and how each stands."""
    for part in names.circuit.parts.values():
        coils = [e for e in body_of(names.circuit, part).elements if isinstance(e, Coil)]
        moved = {c.moves: c for c in coils}
        for armature, coil in moved.items():
            pulled = (part.id, armature) in state.pulled
            shown = "flashing" if coil.action == "flash" else "in"
            key = names.parts[part.id] + (f".{armature}" if len(moved) > 1 else "")
            yield key, shown if pulled else "out"


def _loads(state: State, names: Names) -> Iterator[tuple[str, Data]]:
    """Yield the loads with their state."""
    full = battery_volts(state)
    for key, edge in _named(state, names, loads=True):
        volts, amps = state.across(*edge.key), state.current(*edge.key)
        yield (
            key,
            {
                "state": load_state(volts, amps, full),
                "voltage_v": round(volts, V_DIGITS) + 0.0,
                "current_a": abs(_amps(amps)),
            },
        )


def load_state(volts: float, amps: float, full: float) -> str:
    """Return on, weak or off for a load; one that passes no current does nothing."""
    if abs(volts) < OFF_SHARE * full or abs(amps) < NO_CURRENT_A:
        return "off"
    return "on" if abs(volts) > ON_SHARE * full else "weak"


def battery_volts(state: State) -> float:
    """Return the stated voltage of the reference battery, the nominal one where there is none."""
    net, circuit = state.network, state.network.circuit
    for _, edge in net.of_role("source"):
        if edge.b == net.reference and getattr(edge.inner, "source", "") == "battery":
            return number(circuit, circuit.parts[edge.owner], "voltage_v", 12.6)
    return circuit.settings.nominal_v


def _terminals(state: State, names: Names) -> Iterator[tuple[str, float | None]]:
    """Yield the volts at every terminal."""
    for part in names.circuit.parts.values():
        for node, shown in names.terminals(part).items():
            volts = state.volt(part.id, node)
            reading = None if volts is None else round(volts, V_DIGITS) + 0.0
            yield f"{names.parts[part.id]}.{shown}", reading


def _currents(state: State, names: Names) -> Iterator[tuple[str, float]]:
    """Yield the amperes through all that is no load."""
    for key, edge in _named(state, names, loads=False):
        yield key, _amps(state.current(*edge.key))


def _named(state: State, names: Names, *, loads: bool) -> Iterator[tuple[str, Edge]]:
    """Yield the elements inside the parts, by the part's name where it has one of them only."""
    inside: dict[str, list[Edge]] = {}
    for edge in (*state.network.edges, *state.network.merged):
        wanted = edge.table == "parts" and edge.role != "bond"
        if wanted and (edge.role == "load") == loads:
            inside.setdefault(edge.owner, []).append(edge)
    for owner in (p for p in names.parts if p in inside):
        edges = inside[owner]
        for edge in edges:
            more = f".{edge.element}" if len(edges) > 1 else ""
            yield names.parts[owner] + more, edge


def _amps(value: float) -> float:
    """Return amperes rounded, never minus zero."""
    return round(value, A_DIGITS) + 0.0
