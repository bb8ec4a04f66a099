"""Pull-in of warm coils against worked numbers.

A copper coil's pull-in goes with (234.5 + T)/254.5: 8.4 V at 20 °C is 10.55 V at 85 °C and 11.21 V
at 105 °C; 7.2 V is 9.04 V at 85 °C, 16.8 V is 21.09 V (computed; a relay maker's note has 16 V at
25 °C become 19.7 V at 85 °C, schrackrelays).
"""

from __future__ import annotations

import pytest

from checks.rules import weak_pull_in
from tests.checks.rules.looking import look, places, settings

ONE = """
    {volts} V
    G1 battery inner_ohm=0.00001 voltage_v={supply}
    K1 relay-make {needs}
    X1 ground
    S1 switch
    W1 G1.+ S1.1 10 0.1
    W2 S1.2 K1.86 10 0.1
    W3 K1.85 X1.g 10 0.1
    W4 X1.g G1.- 10 0.1
"""
COLD = settings(zone_c=20.0)


def one(supply: float, needs: str = "", volts: int = 12) -> str:
    return ONE.format(supply=supply, needs=needs, volts=volts)


@pytest.mark.parametrize(
    ("supply", "zone_c", "wanted"),
    [
        (8.38, 20.0, "fault"),
        (8.42, 20.0, "advice"),
        (10.5, 20.0, "advice"),
        (10.6, 20.0, ""),
        (10.5, 85.0, "fault"),
        (10.6, 85.0, ""),
        (11.15, 105.0, "fault"),
        (11.25, 105.0, ""),
    ],
)
def test_a_coil_of_8_4_volts_by_temperature(supply: float, zone_c: float, wanted: str) -> None:
    found = look(weak_pull_in, one(supply), settings(zone_c=zone_c))
    assert places(found) == ([(wanted, ("K1",))] if wanted else [])


def test_the_numbers_told_are_the_worked_ones() -> None:
    (found,) = look(weak_pull_in, one(10.0), COLD)
    assert found.values["needs"] == pytest.approx(10.55, abs=0.005)
    assert found.values["cold"] == pytest.approx(8.4)
    (found,) = look(weak_pull_in, one(8.0, "must_pull_in_share=0.6"), settings(zone_c=85.0))
    assert found.values["needs"] == pytest.approx(9.04, abs=0.01)


def test_24_volts() -> None:
    now = settings(zone_c=85.0, nominal_v=24.0)
    assert places(look(weak_pull_in, one(21.0, volts=24), now)) == [("fault", ("K1",))]
    assert look(weak_pull_in, one(21.2, volts=24), now) == []


def test_what_never_works_is_left_to_the_rules_for_it() -> None:
    assert look(weak_pull_in, one(3.0), COLD) == []


CRANK = """
    G1 battery cranking_v=9.5
    F1 fuse-blade rating_a=10
    S1 key-switch
    M1 starter
    K1 relay-make
    E1 heater current_a=3
    X1 ground
    X2 ground
    W1 G1.+ M1.30 50 1
    W2 G1.+ F1.1 2.5 0.15
    W3 F1.2 S1.30 2.5 1
    W4 S1.50 M1.50 2.5 1
    W5 S1.50 K1.86 1 1
    W6 K1.85 X1.g 1 0.5
    W7 F1.2 K1.30 2.5 0.5
    W8 K1.87 E1.+ 2.5 0.5
    W9 E1.- X1.g 2.5 0.5
    W10 X2.g G1.- 50 0.3
    W11 M1.31 X2.g 50 0.3
"""


def test_a_relay_needed_while_cranking_and_not_the_starter_itself() -> None:
    found = look(weak_pull_in, CRANK, settings(zone_c=30.0))
    assert [f.parts for f in found] == [("K1",)]
    assert "cranked" in found[0].sentence()
    stronger = CRANK.replace("K1 relay-make", "K1 relay-make must_pull_in_share=0.5")
    assert look(weak_pull_in, stronger, settings(zone_c=30.0)) == []


def test_a_relay_that_is_in_before_the_start_is_not_accused() -> None:
    text = CRANK.replace("W5 S1.50 K1.86", "W5 S1.15 K1.86")
    assert look(weak_pull_in, text, settings(zone_c=30.0)) == []
