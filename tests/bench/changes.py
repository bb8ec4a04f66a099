"""Changes and states that several benchmarks use, and how volts are compared."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from model.circuit import Circuit
from model.conduct import Conducting
from model.edits import set_wire
from model.linear import Bools, Floats
from model.solver import Solver
from model.state import State
from model.states import Setting
from tests.bench.plain import Plain

SAME_V = 1e-8
"""Volts by which two answers may differ: what 1e-9 of 12 V leaves after a thousand roundings."""


def longer(circuit: Circuit, wire_id: str, metres: float) -> Circuit:
    """Return the circuit with the length of one wire set, as a person sets it."""
    wire = replace(circuit.wires[wire_id], length_m=metres)
    return set_wire(circuit, wire).apply(circuit)


def half_on(solver: Solver) -> Setting:
    """Return the setting with every second switch on."""
    switches = list(solver.conductor.by_control)[::2]
    return solver.rest().moved(dict.fromkeys(switches, "ON"))


def conducting(solver: Solver, state: State, setting: Setting | None = None) -> Conducting:
    """Return what conducts in a setting with the relays as they are in a state."""
    return solver.conductor.conducting(
        setting or state.setting, state.pulled, state.engine, state.supply
    )


def same(found: Floats, wanted: Floats, joined: Bools, within: float = SAME_V) -> None:
    """Compare volts with those of plain scipy wherever a node has any against the reference.

    Raises
    ------
    AssertionError
        When they differ.
    """
    assert joined.sum() > 0.5 * len(joined), "most of the circuit floats: nothing is compared"
    worst = float(np.abs(found - wanted)[joined].max())
    assert worst <= within, f"volts differ from those of plain scipy by {worst:g} V"


def agrees(found: Floats, plain: Plain) -> None:
    """Compare volts with what plain scipy finds for a network."""
    same(found, plain.volts(), plain.joined())
