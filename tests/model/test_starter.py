"""A starter and the supply it pulls down: it holds, it lets go, or it chatters.

The solenoid pulls in at 60 % and lets go at 25 % of 12 V; while the motor draws, the battery has
9.5 V instead of 12.6 V (defaults of this program). Expected states follow from these by hand.
"""

from __future__ import annotations

import pytest

from model.circuit import Circuit, Part
from model.solver import NONE, STEADY, Solver
from model.states import Setting
from tests.building import circuit, part, settle

BATTERY = part("BAT", "battery", voltage_v=12.6, inner_ohm=1e-6, cranking_v=9.5)
MOTOR = part("M1", "starter", current_a=100.0, at_v=12.0, coil_ohm=1.0, contact_ohm=1e-6)
BUTTON = part("S1", "push-make", contact_ohm=1e-6)


def starting(relay: Part) -> Circuit:
    """Return a starter whose solenoid a relay feeds while a button is pressed."""
    wires = (
        "BAT.+ M1.30, M1.31 BAT.-, BAT.+ S1.1, S1.2 K1.86, K1.85 BAT.-, BAT.+ K1.30, K1.87 M1.50"
    )
    return circuit([BATTERY, MOTOR, BUTTON, relay], wires)


def test_a_plain_relay_holds_while_the_starter_cranks() -> None:
    settled = settle(starting(part("K1", "relay-make")), {"S1": "PRESS"})
    assert settled.settled == STEADY
    assert settled.state.supply == "cranking"
    # 100 A at 12 V is 0.12 Ω: 9.5 V / 0.12 Ω.
    assert settled.state.current("M1", "motor") == pytest.approx(9.5 / 0.12, rel=1e-3)


def test_a_relay_that_lets_go_at_the_cranking_voltage_chatters() -> None:
    # It lets go below 0.85 · 12 = 10.2 V: it has 12.6 V until the motor draws, then 9.5 V.
    relay = part("K1", "relay-make", pull_in_share=0.95, drop_out_share=0.85)
    settled = settle(starting(relay), {"S1": "PRESS"})
    assert settled.settled == NONE
    assert {s.supply for s in settled.states} == {"resting", "cranking"}
    assert {bool(s.pulled) for s in settled.states} == {True, False}


def test_a_starter_shut_out_by_a_latch_rests_on_the_recovered_supply() -> None:
    # K3 lets go when the battery is pulled down and sets K2, which breaks the solenoid for good.
    latch = part("K2", "relay-bistable", pull_in_share=0.5, contact_ohm=1e-6)
    low = part("K3", "relay-changeover", pull_in_share=0.95, drop_out_share=0.85)
    wires = (
        "BAT.+ M1.30, M1.31 BAT.-, BAT.+ S1.1, S1.2 K2.30, K2.87a M1.50,"
        "K2.31 BAT.-, BAT.+ K3.86, K3.85 BAT.-, S1.2 K3.30, K3.87a K2.S"
    )
    solver = Solver(circuit([BATTERY, MOTOR, BUTTON, latch, low], wires))
    rest = solver.settle(Setting())
    assert rest.state.pulled == {("K3", "coil")}
    pressed = solver.settle(Setting({"S1": "PRESS"}), rest.state.memory)
    assert pressed.settled == STEADY
    assert pressed.state.supply == "resting"
    assert pressed.state.current("M1", "motor") == 0.0
    assert ("K2", "latch") in pressed.state.pulled


def test_a_supply_chosen_as_cranking_stays_so_without_a_starter_that_draws() -> None:
    settled = settle(starting(part("K1", "relay-make")), {}, supply="cranking")
    assert settled.settled == STEADY
    assert settled.state.supply == "cranking"
    assert settled.state.volt("BAT", "+") == pytest.approx(9.5)
