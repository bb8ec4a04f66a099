"""Batteries that meet, and fuses on the wrong side; currents by Ohm's law beside the program."""

from __future__ import annotations

import pytest

from checks.rules import fuse_in_ground_side, two_supplies_meet
from tests.checks.rules.looking import look, places

TWO = """
    G1 battery voltage_v={first} inner_ohm=0.01
    G2 battery voltage_v={second} inner_ohm=0.01
    S1 switch contact_a=200
    X1 ground
    W1 G1.+ S1.1 35 0.3
    W2 S1.2 G2.+ 35 0.3
    W3 G1.- X1.g 35 0.3
    W4 G2.- X1.g 35 0.3
"""


@pytest.mark.parametrize(
    ("first", "second", "wanted"),
    [
        (12.6, 12.6, []),
        (12.6, 12.25, []),  # 0.35 V over 20 mΩ: 17.5 A
        (12.6, 12.15, [("fault", ("G1", "G2", "S1"))]),  # 22.5 A
        (12.0, 12.6, [("fault", ("G2", "G1", "S1"))]),
        (12.6, 25.2, [("danger", ("G2", "G1", "S1"))]),
    ],
)
def test_who_drives_whom(
    first: float, second: float, wanted: list[tuple[str, tuple[str, ...]]]
) -> None:
    found = look(two_supplies_meet, TWO.format(first=first, second=second))
    assert places(found) == wanted
    if wanted:
        assert found[0].values["current"] == pytest.approx(abs(first - second) / 0.02, rel=0.01)


def test_two_batteries_in_series_are_one_supply() -> None:
    text = """
        24 V
        G1 battery voltage_v=12.6
        G2 battery voltage_v=12.0
        E1 heater current_a=20
        W1 G1.+ E1.+ 10 1
        W2 E1.- G2.- 10 1
        W3 G2.+ G1.- 10 0.3
    """
    assert look(two_supplies_meet, text) == []


GROUND = """
    G1 battery
    S1 switch
    E1 lamp
    E2 lamp
    X1 ground
    W1 G1.+ S1.1 1.5 0.15
    W2 S1.2 E1.+ 1.5 1
    W3 S1.2 E2.+ 1.5 1
    F1 {kind} rating_a=10
    W4 E1.- F1.1 1.5 0.3
    W5 F1.2 X1.g 1.5 0.3
    W6 E2.- {second} 1.5 0.3
    W7 X1.g G1.- 10 0.3
"""


@pytest.mark.parametrize("kind", ["fuse-blade", "fuse-glass", "breaker"])
def test_a_fuse_in_the_ground_side_names_what_returns_through_it(kind: str) -> None:
    both = look(fuse_in_ground_side, GROUND.format(kind=kind, second="F1.1"))
    assert places(both) == [("danger", ("F1", "E1", "E2"))]
    one = look(fuse_in_ground_side, GROUND.format(kind=kind, second="X1.g"))
    assert places(one) == [("danger", ("F1", "E1"))]


def test_a_coils_switched_ground_counts_too() -> None:
    text = """
        G1 battery
        K1 relay-make
        S1 switch
        X1 ground
        W1 G1.+ K1.86 1 0.15
        W2 K1.85 S1.1 1 1
        F1 fuse-blade rating_a=5
        W3 S1.2 F1.1 1 1
        W4 F1.2 X1.g 1 0.3
        W5 X1.g G1.- 10 0.3
    """
    assert places(look(fuse_in_ground_side, text)) == [("danger", ("F1", "K1"))]
