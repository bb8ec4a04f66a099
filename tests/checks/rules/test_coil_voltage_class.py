"""Coils of the wrong class: 24 V on 12 V and 12 V on 24 V, by Ohm's law."""

from __future__ import annotations

import pytest

from checks.rules import coil_voltage_class
from tests.checks.rules.looking import look, places, settings

ONE = """
    G1 battery voltage_v={volts} inner_ohm=1e-7
    X1 ground
    S1 switch
    K1 relay-make coil_v={coil} coil_ohm={ohm}
    W1 G1.+ S1.1 1 0.1
    W2 S1.2 K1.86 1 1
    W3 K1.85 X1.g 1 1
    W4 X1.g G1.- 10 0.3
"""


def test_a_24_volt_coil_on_12_volts_never_pulls_in() -> None:
    # 320 Ω, needs 70 % of 24 V = 16.8 V: published relay data.
    found = look(coil_voltage_class, ONE.format(volts=12, coil=24, ohm=320))
    assert places(found) == [("fault", ("K1",))]
    assert found[0].values["needs"] == pytest.approx(16.8)
    assert found[0].values["seen"] == pytest.approx(12.0, abs=1e-3)


def test_a_12_volt_coil_on_24_volts_takes_four_times_its_power() -> None:
    # 24²/90 Ω = 6.4 W against 12²/90 Ω = 1.6 W.
    now = settings(nominal_v=24.0)
    found = look(coil_voltage_class, ONE.format(volts=24, coil=12, ohm=90), now)
    assert places(found) == [("danger", ("K1",))]
    assert found[0].values["times"] == pytest.approx(4.0, rel=1e-4)


@pytest.mark.parametrize(("volts", "wanted"), [(17.9, 0), (18.1, 1)])
def test_half_as_much_again_is_another_class(volts: float, wanted: int) -> None:
    assert len(look(coil_voltage_class, ONE.format(volts=volts, coil=12, ohm=90))) == wanted


@pytest.mark.parametrize(("coil", "wanted"), [(17.9, 0), (18.1, 1)])
def test_so_is_a_coil_made_for_half_as_much_again(coil: float, wanted: int) -> None:
    assert len(look(coil_voltage_class, ONE.format(volts=12, coil=coil, ohm=90))) == wanted


def test_what_the_coil_sees_counts_not_the_name_of_the_circuit() -> None:
    # A 24 V battery in a 12 V circuit feeds a 24 V relay: nothing is wrong with that.
    assert look(coil_voltage_class, ONE.format(volts=24, coil=24, ohm=320)) == []
    # 90 Ω before a 90 Ω coil halves 24 V.
    text = ONE.format(volts=24, coil=12, ohm=90).replace("W2 S1.2 K1.86 1 1", "R1 resistor")
    text = text.replace("R1 resistor", "R1 resistor resistance_ohm=90")
    text += "W2 S1.2 R1.1 1 1\nW5 R1.2 K1.86 1 1"
    assert look(coil_voltage_class, text, settings(nominal_v=24.0)) == []


def test_a_relay_that_hangs_on_nothing_is_left_alone() -> None:
    assert look(coil_voltage_class, "G1 battery\nK1 relay-make coil_v=24") == []
