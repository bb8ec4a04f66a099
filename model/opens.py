"""Every wire of a circuit opened alone, relays settling, by updates of one factorisation."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from model.linear import Bools, Floats, Ints
from model.lowrank import every_open
from model.solver import Solver
from model.state import State
from model.states import Armature, Fault
from model.updates import Updates


@dataclass(frozen=True, slots=True)
class Settling:
    """Every wire opened alone, settled.

    Attributes
    ----------
    edges
        Indices of the wires' edges, shape (faults,).
    volts
        Volts at the nodes, shape (faults, nodes).
    pulled
        Armatures that are in, one set a fault.
    full
        Which had to be settled in full, shape (faults,).
    """

    edges: Ints
    volts: Floats
    pulled: tuple[frozenset[Armature], ...]
    full: Bools


def settle_opens(solver: Solver, state: State) -> Settling:
    """Return how the circuit settles with each wire open, from one state."""
    found = every_open(solver, state)
    updates = Updates(solver, state)
    volts = found.volts.copy()
    pulled = [state.pulled] * len(found.edges)
    full = np.zeros(len(found.edges), np.bool_)
    for row in np.flatnonzero(~found.sure).tolist():
        edge = int(found.edges[row])
        near = updates.settle(state.setting, edge)
        if near is not None:
            volts[row], pulled[row] = near.volts, near.pulled
        else:
            full[row] = True
            volts[row], pulled[row] = _in_full(solver, state, edge)
    return Settling(found.edges, volts, tuple(pulled), full)


def _in_full(solver: Solver, state: State, edge: int) -> tuple[Floats, frozenset[Armature]]:
    """Settle one broken wire from scratch."""
    fault = Fault(state.network.edges[edge].owner, "open")
    after = solver.settle(state.setting.faulty(fault), state.memory).state
    return after.solved.volts, after.pulled
