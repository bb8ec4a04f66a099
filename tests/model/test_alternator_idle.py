"""An alternator without any load stands at its own voltage: rounding there is not a load gone."""

from __future__ import annotations

import numpy as np
import pytest

from model.devices import IDLE_V, Alternator
from model.laws import lines
from tests.building import battery, circuit, part, steady


def test_the_voltage_of_its_own_is_regulating_and_more_is_idle() -> None:
    law = Alternator(14.2, 0.005, 55.0)
    volts = [14.2 - 1e-12, 14.2, 14.2 + 1e-12, 14.2 + 2 * IDLE_V, 14.6]
    assert [law.line(v, 5).part for v in volts] == [1, 1, 1, 0, 0]
    assert lines([law] * 5, np.array([volts]), 5)[2].tolist() == [[1, 1, 1, 0, 0]]


def test_a_turning_alternator_whose_shell_lost_the_battery_comes_to_rest() -> None:
    parts = [battery(12.6), part("ALT", "alternator"), part("A1", "module"), part("X1", "ground")]
    parts += [part("S1", "switch"), part("X2", "ground"), part("X3", "stud")]
    wires = "BAT.+ X3.s, ALT.B+ X3.s, ALT.case X1.g, X3.s S1.1, S1.2 A1.+, A1.- X2.g"
    off = steady(circuit(parts, wires), engine="running")
    assert off.current("ALT", "output") == pytest.approx(0.0, abs=1e-6)
    on = steady(circuit(parts, wires), {"S1": "ON"}, engine="running")
    assert on.across("A1", "load") == pytest.approx(14.2, abs=0.01)
