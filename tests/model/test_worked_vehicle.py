"""Cases of the vehicle trade, derived by ourselves from stated figures, built as circuits.

Copper of ISO 6722 sizes: 12.7 mΩ/m for 1.5 mm² and 37.1 mΩ/m for 0.5 mm² at 20 °C.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from model.circuit import Circuit, Constants, End, Wire
from model.lookup import number
from model.states import Fault
from model.wiresize import Size
from tests.building import battery, circuit, part, power, resistor, steady


def close(value: float, share: float = 0.005) -> object:
    """Return a value that another may miss by this share."""
    return pytest.approx(value, rel=share)


def test_v1_relay_held_through_an_indicator_lamp() -> None:
    """Derived by ourselves: a 90 Ω coil through 72 Ω does not pull in, but stays in."""
    parts = [
        battery(12.0),
        resistor("R1", 72.0),
        part("S1", "switch", contact_ohm=0.0),
        part("K1", "relay-make", coil_ohm=90.0, drop_out_share=0.10, pull_in_share=0.70),
    ]
    of = circuit(
        parts, "BAT.+ R1.1, R1.2 K1.86, K1.85 BAT.-, BAT.+ S1.1, S1.2 K1.86", nominal_v=12.0
    )
    through = steady(of)
    assert through.across("K1", "coil") == close(6.667, 0.0001)
    assert through.current("K1", "coil") == close(0.0741)
    assert ("K1", "coil") not in through.pulled
    pressed = steady(of, {"S1": "ON"}, through.memory)
    assert ("K1", "coil") in pressed.pulled
    released = steady(of, {"S1": "OFF"}, pressed.memory)
    assert released.across("K1", "coil") == close(6.667, 0.0001)
    assert ("K1", "coil") in released.pulled


def test_v3_drop_of_a_long_thin_feed() -> None:
    """Derived by ourselves from 12.7 mΩ/m for 1.5 mm²: an 8 A pump, 7 m in all."""
    drop = 8.0 * 7.0 * 0.0127
    pump = part("M1", "pump", current_a=8.0, at_v=12.0 - drop)
    of = circuit([battery(12.0), pump], "BAT.+ M1.+, M1.- BAT.-")
    long = replace(of.wires["W1"], size=Size(mm2=1.5), length_m=7.0, ends_ohm=None)
    ends = replace(of.settings, constants=Constants(wire_ends_ohm=0.0))
    state = steady(replace(of, wires={**of.wires, "W1": long}, settings=ends))
    dropped = 12.0 - state.across("M1", "load")
    assert dropped / state.current("W1") == close(0.0889, 0.001)
    assert dropped == close(0.711, 0.001)
    assert dropped / 12.0 == close(0.059)


def test_v5_short_at_the_end_of_a_long_branch() -> None:
    """Derived by ourselves: 6 m of 0.5 mm² (37.1 mΩ/m) feed a short through 2 mΩ of body."""
    parts = [battery(12.6, 0.009), part("F1", "fuse-blade", rating_a=30.0, fuse_ohm=1e-6)]
    ground = part("G1", "ground", ground_ohm=0.001)
    stud = part("X1", "stud")
    of = circuit([*parts, ground, stud], "BAT.+ F1.1, F1.2 X1.s, BAT.- G1.g")
    long = Wire("W2", "W2", End("F1", "2"), End("X1", "s"), Size(mm2=0.5), 6.0)
    ends = replace(of.settings, constants=Constants(wire_ends_ohm=0.0))
    of = replace(of, wires={**of.wires, "W2": long}, settings=ends)
    state = steady(of, faults=(Fault("X1", "shell", 0.001, "s"),))
    amperes = state.current("F1", "element")
    assert amperes == close(53.9)
    assert amperes / number(of, of.parts["F1"], "rating_a") == close(1.80)


def test_v7_coil_on_the_wrong_voltage() -> None:
    """Derived by ourselves: a 24 V coil on 12 V never pulls in, a 12 V coil on 24 V gets hot."""

    def on(volts: float, coil_v: float, ohm: float) -> Circuit:
        relay = part("K1", "relay-make", coil_v=coil_v, coil_ohm=ohm)
        return circuit([battery(volts), relay], "BAT.+ K1.86, K1.85 BAT.-", nominal_v=volts)

    weak = steady(on(12.0, 24.0, 320.0))
    assert weak.across("K1", "coil") < 0.7 * 24.0
    assert not weak.pulled
    right, hot = steady(on(12.0, 12.0, 90.0)), steady(on(24.0, 12.0, 90.0))
    assert hot.current("K1", "coil") == close(0.267)
    assert power(hot, "K1", "coil") == close(6.4)
    assert power(hot, "K1", "coil") == close(4.0 * power(right, "K1", "coil"))
