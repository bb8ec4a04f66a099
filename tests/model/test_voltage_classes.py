"""Defaults follow the voltage of the part itself: two 12 V batteries make 24 V, not 48."""

from __future__ import annotations

from dataclasses import replace

import pytest

from model.lookup import number
from model.resistances import battery_class_v, battery_inner_ohm
from tests.building import circuit, part, steady

TWO = "G1.+ G2.-, G2.+ M1.+, M1.- G1.-"


@pytest.mark.parametrize(
    ("supply", "volts"), [("resting", 25.2), ("charging", 28.4), ("cranking", 19.0)]
)
def test_two_in_series_give_twice_one(supply: str, volts: float) -> None:
    # 12.6, 14.2 and 9.5 V each, the defaults of a 12 V battery.
    parts = [
        part(r, "battery", voltage_v=12.6, inner_ohm=1e-6) for r in ("G1", "G2")
    ] + [part("M1", "heater", current_a=1.0)]  # fmt: skip
    made = circuit(parts, TWO, nominal_v=24.0, reference_battery="G1")
    assert steady(made, supply=supply).across("M1", "load") == pytest.approx(volts, rel=1e-5)


def test_the_inner_resistance_is_that_of_the_battery_not_of_the_circuit() -> None:
    # Half of (12.6 − 7.2) V / 600 A when warm, the rule that follows from the SAE cranking test.
    one = part("G1", "battery", voltage_v=12.6)
    for nominal_v in (12.0, 24.0):
        made = circuit([one], "", nominal_v=nominal_v)
        assert battery_inner_ohm(made, one) == pytest.approx(0.5 * (12.6 - 7.2) / 600, rel=1e-9)
    whole = part("G1", "battery")
    made = circuit([whole], "", nominal_v=24.0)
    assert battery_inner_ohm(made, whole) == pytest.approx(2 * 0.5 * (12.6 - 7.2) / 600, rel=1e-9)


@pytest.mark.parametrize(
    ("volts", "called"), [(6.3, 6), (11.5, 12), (12.6, 12), (13.8, 12), (25.2, 24), (24.0, 24)]
)
def test_a_battery_is_called_by_its_blocks(volts: float, called: float) -> None:
    one = part("G1", "battery", voltage_v=volts)
    assert battery_class_v(circuit([one], ""), one) == called


@pytest.mark.parametrize(
    ("kind", "stated", "key", "expected"),
    [
        ("relay-make", {"coil_v": 24.0}, "coil_ohm", 350.0),  # published cube relay
        ("relay-make", {}, "coil_ohm", 90.0),
        ("lamp", {"at_v": 24.0}, "current_a", 21 / 24),  # 21 W either way
        ("lamp", {"at_v": 24.0}, "working_v", 18.0),
        ("lamp-twin", {"main_at_v": 24.0}, "main_current_a", 60 / 24),
        ("lamp-twin", {"main_at_v": 24.0}, "dip_working_v", 9.0),
        ("battery", {"voltage_v": 25.2}, "cranking_v", 20.0),
    ],
)
def test_a_24_volt_part_in_a_12_volt_circuit(
    kind: str, stated: dict[str, float], key: str, expected: float
) -> None:
    one = part("P1", kind, **stated)
    assert number(circuit([one], ""), one, key) == pytest.approx(expected)


def test_what_is_stated_holds_and_the_circuit_rules_the_rest() -> None:
    one = part("K1", "relay-make", coil_v=12.0, coil_ohm=80.0)
    made = circuit([one], "", nominal_v=24.0)
    assert number(made, one, "coil_ohm") == 80.0
    assert number(made, one, "contact_a") == 20.0  # a contact breaks the circuit's 24 V
    plain = replace(one, ratings={})
    assert number(made, plain, "coil_ohm") == 350.0
