"""Faults on things with a law of their own, the charge lamp, and what stuck means."""

from __future__ import annotations

import pytest
from scipy.optimize import brentq

from checks.sketch import sketch
from model.solver import Solver
from model.states import Fault, Setting

LAMP = """
    G1 battery voltage_v=12 inner_ohm=1e-6
    S1 switch contact_ohm=1e-6
    E1 lamp current_a=1.75 at_v=12
    W1 G1.+ S1.1 95 0.01
    W2 S1.2 E1.+ 95 0.01
    W3 E1.- G1.- 95 0.01
"""
CHARGE = """
    G1 battery voltage_v=12.6 inner_ohm=0.01
    G2 alternator
    S1 switch
    E1 lamp current_a=0.17
    X1 ground
    W1 G2.B+ G1.+ 16 1
    W2 G2.case X1.g 16 0.1
    W3 X1.g G1.- 25 0.3
    W4 G1.+ S1.1 1 0.1
    W5 S1.2 E1.+ 1 1
    W6 E1.- G2.D+ 1 1
"""


def test_a_bad_joint_before_a_lamp_against_the_law_solved_by_itself() -> None:
    # I = 1.75 A·(V/12)^0.55 and V + 2 Ω·I = 12 V, solved by bisection (scipy).
    volts = brentq(lambda v: v + 2.0 * 1.75 * (v / 12.0) ** 0.55 - 12.0, 0.1, 12.0)
    solver = Solver(sketch(LAMP))
    state = solver.settle(Setting({"S1": "ON"}, faults=(Fault("E1", "series", 2.0),))).state
    amps = 1.75 * (float(volts) / 12.0) ** 0.55
    assert abs(state.current("E1", "load")) == pytest.approx(amps, rel=0.003)


def test_a_bad_joint_before_a_diode() -> None:
    text = LAMP.replace("E1 lamp current_a=1.75 at_v=12", "E1 diode forward_v=0.7 forward_ohm=1")
    text = text.replace("E1.+", "E1.A").replace("E1.-", "E1.K")
    solver = Solver(sketch(text))
    state = solver.settle(Setting({"S1": "ON"}, faults=(Fault("E1", "series", 2.0),))).state
    assert state.current("E1", "junction") == pytest.approx((12.0 - 0.7) / 3.0, rel=0.005)


@pytest.mark.parametrize(("engine", "lit"), [("stopped", True), ("running", False)])
def test_a_charge_lamp_goes_out_while_the_alternator_turns(engine: str, lit: bool) -> None:
    # D+ stands at the regulated voltage then; between 15 and D+ the lamp has next to nothing.
    state = Solver(sketch(CHARGE)).settle(Setting({"S1": "ON"}, engine)).state
    assert (abs(state.across("E1", "load")) > 9.0) is lit
    assert lit or abs(state.across("E1", "load")) < 1.0


@pytest.mark.parametrize(("node", "runs"), [("", False), ("OFF", False), ("ON", True)])
def test_a_stuck_control_stays_where_the_fault_says(node: str, runs: bool) -> None:
    solver = Solver(sketch(LAMP))
    for asked in ("OFF", "ON"):
        fault = Fault("S1", "stuck", node=node)
        state = solver.settle(Setting({"S1": asked}, faults=(fault,))).state
        assert (abs(state.across("E1", "load")) > 6.0) is runs


def test_a_shorted_coil_leaves_the_contacts_alone() -> None:
    text = """
        G1 battery
        K1 relay-make
        M1 heater current_a=1
        W1 G1.+ K1.30 2.5 1
        W2 K1.87 M1.+ 2.5 1
        W3 M1.- G1.- 2.5 1
    """
    state = Solver(sketch(text)).settle(Setting(faults=(Fault("K1", "short"),))).state
    assert not state.conducting("K1", "make")
