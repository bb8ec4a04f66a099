"""Opened edges by update of one factorisation, against the faulted circuit solved in full."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from model.file import load
from model.lookup import controls
from model.lowrank import changed, every_open
from model.opens import settle_opens
from model.solver import Solver
from model.state import State
from model.states import Fault, Setting
from tests.bench.circuits import cells

CIRCUITS = Path(__file__).parents[1] / "circuits"
CLOSE = 1e-6
"""Relative, as single-fault results must agree with a full solve."""


def full(solver: Solver, state: State, wire: str) -> State:
    """Return the state with one wire open, no relay moved, solved from scratch."""
    setting = state.setting.faulty(Fault(wire, "open"))
    return solver.solve(setting, state.pulled, state.engine)


def settled_open(solver: Solver, state: State, edge: int) -> State:
    """Return the state that opening a wire settles in, from scratch."""
    fault = Fault(state.network.edges[edge].owner, "open")
    return solver.settle(state.setting.faulty(fault), state.memory).state


def assert_same(solver: Solver, state: State) -> tuple[int, int]:
    """Compare every sure open with a full solve; return how many were sure, and all."""
    found = every_open(solver, state)
    edges = state.network.edges
    for row, edge in enumerate(found.edges):
        if not found.sure[row]:
            continue
        wanted = full(solver, state, edges[edge].owner)
        assert wanted.pulled == state.pulled
        apart = np.where(wanted.solved.joined, found.volts[row] - wanted.solved.volts, 0.0)
        assert np.abs(apart).max() <= CLOSE * max(1.0, np.abs(wanted.solved.volts).max())
    return int(found.sure.sum()), len(found.sure)


@pytest.mark.parametrize("name", ["C01", "C05", "C10", "C13", "C18"])
def test_every_open_of_a_circuit_at_rest_and_moved(name: str) -> None:
    circuit = load(CIRCUITS / f"{name}.voltwalk").circuit
    solver = Solver(circuit)
    moved = {p.id: "ON" for p in circuit.parts.values() if p.kind == "switch"}
    for setting in (Setting(), Setting(moved)):
        sure, every = assert_same(solver, solver.settle(setting).state)
        assert 0 < sure <= every


def test_a_fault_that_moves_a_relay_is_not_sure_and_settles() -> None:
    circuit = load(CIRCUITS / "C01.voltwalk").circuit
    ids = {w.number: w.id for w in circuit.wires.values()}
    switch = next(p.id for p in circuit.parts.values() if p.reference == "S1")
    solver = Solver(circuit)
    state = solver.settle(Setting({switch: "ON"})).state
    found = every_open(solver, state)
    owners = [state.network.edges[e].owner for e in found.edges]
    coil_ground = owners.index(ids["W12"])
    assert not found.sure[coil_ground]
    after = settled_open(solver, state, int(found.edges[coil_ground]))
    assert not after.pulled
    pump_ground = owners.index(ids["W07"])
    assert found.sure[pump_ground]


def test_hundreds_of_wires() -> None:
    solver = Solver(cells(300))
    on = {f"S{i}": "ON" for i in range(0, 30, 2)}
    sure, every = assert_same(solver, solver.settle(Setting(on)).state)
    assert every > 290
    assert sure > every / 2


def test_several_changes_together() -> None:
    solver = Solver(cells(100))
    state = solver.settle(Setting({"S1": "ON", "S2": "ON"})).state
    wires = [i for i, e in state.network.of_role("wire")][5:40:9]
    edges = np.array(wires, np.intp)
    by = -0.5 * state.solved.g[edges]
    found = changed(state, edges, by)
    setting = state.setting
    for edge in wires:
        series = 1.0 / state.solved.g[edge]  # half the conductance: as much resistance again
        setting = setting.faulty(Fault(state.network.edges[edge].owner, "series", float(series)))
    wanted = solver.solve(setting, state.pulled, state.engine)
    assert found == pytest.approx(wanted.solved.volts, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("name", ["C01", "C03A", "C05", "C10", "C13", "C18"])
def test_every_open_settled_against_settling_in_full(name: str) -> None:
    circuit = load(CIRCUITS / f"{name}.voltwalk").circuit
    solver = Solver(circuit)
    choices = {p.id: "ON" for p in circuit.parts.values() if "switch" in p.kind}
    known = controls(circuit)
    moved = {k: v for k, v in choices.items() if v in known[k]}
    for setting in (Setting(), Setting(moved)):
        assert_settled(solver, solver.settle(setting).state)


def assert_settled(solver: Solver, state: State) -> int:
    """Compare every settled open with the faulted circuit settled in full."""
    found = settle_opens(solver, state)
    for row, edge in enumerate(found.edges):
        wanted = settled_open(solver, state, int(edge))
        assert found.pulled[row] == wanted.pulled
        apart = np.where(wanted.solved.joined, found.volts[row] - wanted.solved.volts, 0.0)
        assert np.abs(apart).max() <= CLOSE * max(1.0, np.abs(wanted.solved.volts).max())
    return int(found.full.sum())


def test_hundreds_of_wires_settled_by_update() -> None:
    solver = Solver(cells(200))
    on = {f"S{i}": "ON" for i in range(0, 24, 2)}
    full = assert_settled(solver, solver.settle(Setting(on)).state)
    assert full < 0.05 * len(solver.circuit.wires)  # feeds and grounds that cut a group off
