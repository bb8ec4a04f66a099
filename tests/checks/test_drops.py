"""The pieces of a voltage drop add up to the whole, in every state of every reference circuit."""

from __future__ import annotations

import numpy as np
import pytest

from checks.case import Case
from checks.drops import drop_of, joined
from model.file import load
from model.lookup import body_of
from model.solver import Solver
from tests.circuits import FOLDER, NAMES


@pytest.mark.parametrize("name", NAMES)
def test_pieces_add_up(name: str) -> None:
    """Kirchhoff's voltage law, against volts asked by terminal from the solved state."""
    case = Case(load(FOLDER / f"{name}.voltwalk").circuit)
    seen = 0
    for row, state in enumerate(case.survey.states):
        for use in case.loads:
            drop = drop_of(case.flows(row), use)
            if drop is None:
                continue
            seen += 1
            ends = [state.volt(use.part.id, n) for n in (use.a_node, use.b_node)]
            source = body_of(case.circuit, case.circuit.parts[drop.source]).elements[0]
            plus, minus = (state.volt(drop.source, n) for n in (source.a, source.b))
            assert ends[0] is not None and ends[1] is not None
            assert plus is not None and minus is not None
            whole = plus - minus - abs(ends[0] - ends[1])
            assert sum(p.volts for p in drop.pieces) == pytest.approx(whole, abs=1e-9)
            assert drop.volts == pytest.approx(whole, abs=1e-9)
    assert seen


def without_diodes(name: str) -> bool:
    """Tell whether a circuit has no diode: a state takes one that just conducts as joining."""
    network = Solver(load(FOLDER / f"{name}.voltwalk").circuit).network
    return not list(network.of_role("diode"))


@pytest.mark.parametrize("name", [n for n in NAMES if without_diodes(n)])
def test_sides_of_all_states_at_once_agree_with_each_state(name: str) -> None:
    case = Case(load(FOLDER / f"{name}.voltwalk").circuit)
    fed, grounded = joined(case.survey, np.arange(len(case.survey.states)))
    for row, state in enumerate(case.survey.states):
        assert set(np.flatnonzero(grounded[:, row]).tolist()) == state.ground_nodes
        assert set(np.flatnonzero(fed[:, row]).tolist()) == state.fed_nodes
