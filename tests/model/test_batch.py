"""States solved stacked are the states solved one by one."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from model.batch import stack
from model.circuit import Circuit
from model.devices import Alternator, ConstantPower, Device, Filament, Junction
from model.file import load
from model.laws import lines
from model.solver import STEADY, Solver
from model.states import Setting
from model.survey import Survey, settings_of
from tests.bench.circuits import cells

ROOT = Path(__file__).parents[2]
FILES = sorted((ROOT / "tests/circuits").glob("*.voltwalk")) + sorted(
    (ROOT / "assets/examples").glob("*.voltwalk")
)
CLOSE = 2e-6
"""Volts and amperes: what the conductance that holds floating nodes may cost, with room."""


def compare(circuit: Circuit, settings: list[Setting]) -> int:
    """Compare stacked and single solutions; return how many were compared."""
    solver = Solver(circuit)
    coils = solver.coils
    start = np.zeros((len(settings), len(coils.armatures)), np.bool_)
    found = stack(solver.conductor, coils, settings, start)
    assert found is not None
    compared = 0
    for row, setting in enumerate(settings):
        settled = solver.settle(setting)
        if not found.done[row] or settled.settled != STEADY:
            continue
        state = settled.state
        if (state.engine, state.supply) != (setting.engine, setting.supply):
            continue
        named = {a for a, x in zip(coils.armatures, found.pulled[row], strict=True) if x}
        assert named == state.pulled
        apart = np.where(state.solved.joined, found.volts[row] - state.solved.volts, 0.0)
        assert np.abs(apart).max() < CLOSE
        amps = (state.solved.amps * state.solved.on)[: len(found.amps[row])]
        assert np.abs(found.amps[row] - amps).max() < CLOSE
        compared += 1
    return compared


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_every_setting_of_the_circuits(path: Path) -> None:
    circuit = load(path).circuit
    groups: dict[str, list[Setting]] = {}
    for setting in settings_of(Solver(circuit)).settings:
        groups.setdefault(setting.engine, []).append(setting)
    assert sum(compare(circuit, g) for g in groups.values()) > 0


@pytest.mark.parametrize("load_kind", ["heater", "lamp", "lamp-led", "module"])
def test_many_cells_with_loads_of_every_law(load_kind: str) -> None:
    circuit = cells(40, load_kind)
    settings = list(settings_of(Solver(circuit)).settings)
    assert compare(circuit, settings) == len(settings)


@pytest.mark.parametrize(
    "law",
    [
        Junction(0.7, 0.03),
        Filament(1.75, 12.0),
        ConstantPower(12.0, 9.0),
        Alternator(14.2, 0.005, 70.0),
    ],
    ids=lambda law: type(law).__name__,
)
@pytest.mark.parametrize("turn", [0, 2, 3, 9])
def test_stacked_laws_are_the_single_ones(law: Device, turn: int) -> None:
    volts = np.array([-14.0, -0.5, 0.0, 1e-3, 0.04, 0.6999, 0.7, 5.0, 9.0, 12.0, 13.8, 14.2, 20.0])
    g, j, piece = lines([law], volts[:, None], turn)
    for k, v in enumerate(volts):
        line = law.line(float(v), turn)
        assert g[k, 0] == pytest.approx(line.g, rel=1e-12)
        assert j[k, 0] == pytest.approx(line.j, rel=1e-12, abs=1e-12)
        assert piece[k, 0] == line.part


def test_a_survey_gives_the_state_it_lists() -> None:
    survey = Survey(load(ROOT / "tests/circuits/C13.voltwalk").circuit)
    for index, state in enumerate(survey.states):
        assert np.abs(survey.volts[index] - state.solved.volts).max() < CLOSE
        assert state.setting == survey.settings[index]


def test_a_survey_sees_a_relay_hold_after_the_button_is_let_go() -> None:
    survey = Survey(load(ROOT / "tests/circuits/C13.voltwalk").circuit)
    (button,) = (p.id for p in survey.circuit.parts.values() if p.reference == "S1")
    held = [s for s in survey.states if s.pulled and s.position(button) == "REST"]
    assert held


@pytest.mark.parametrize("quick", [True, False])
def test_a_large_circuit_is_solved_by_updates_alike(quick: bool) -> None:
    circuit = cells(320, "heater")
    survey = Survey(circuit, quick=quick)
    solver = Solver(circuit)
    assert len(survey.settings) > 40
    for index in range(0, len(survey.settings), max(1, len(survey.settings) // 60)):
        state = solver.settle(survey.settings[index]).state
        apart = np.where(state.solved.joined, survey.volts[index] - state.solved.volts, 0.0)
        assert np.abs(apart).max() < CLOSE
        amps = (state.solved.amps * state.solved.on)[: survey.amps.shape[1]]
        assert np.abs(survey.amps[index] - amps).max() < CLOSE
        assert (survey.on[index] == state.solved.on[: survey.on.shape[1]]).all()
