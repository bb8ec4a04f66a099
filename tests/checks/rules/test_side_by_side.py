"""Fuses and contacts side by side, with currents worked out by hand (Kirchhoff's laws)."""

from __future__ import annotations

import pytest

from checks.rules import side_by_side
from tests.checks.rules.looking import look, places

FUSES = """
    G1 battery voltage_v=12 inner_ohm=1e-6
    F1 fuse-blade rating_a={one} fuse_ohm=0.002
    F2 fuse-blade rating_a={two} fuse_ohm=0.003
    E1 heater resistance_ohm=0.5988
    X1 ground
    W1 G1.+ F1.1 6 0.15
    W2 F1.2 E1.+ {size} 1
    W3 E1.- X1.g 6 0.3
    W4 X1.g G1.- 16 0.3
    W5 F1.1 F2.1 6 0.1
    W6 F2.2 F1.2 6 0.1
"""


@pytest.mark.parametrize(
    ("one", "two", "size", "wanted"),
    [
        # 2.5 mm² may carry 28 A by the thin-wall table: 42 A is its 150 %.
        (20, 20, "2.5", "advice"),
        (20, 25, "2.5", "danger"),
        (7.5, 7.5, "2.5", "advice"),
    ],
)
def test_both_ratings_together_against_the_wire(
    one: float, two: float, size: str, wanted: str
) -> None:
    found = look(side_by_side, FUSES.format(one=one, two=two, size=size))
    assert places(found) == [(wanted, ("F1", "F2", "W2"))]
    assert found[0].values["total"] == one + two


def test_their_shares_go_by_their_ohms() -> None:
    finding = look(side_by_side, FUSES.format(one=20, two=20, size="6"))[0]
    # 12 V on 0.6 Ω: 20 A, of which 3/5 in the 2 mΩ and 2/5 in the 3 mΩ.
    assert finding.values["F1 current"] == pytest.approx(12.0, rel=0.01)
    assert finding.values["F2 current"] == pytest.approx(8.0, rel=0.01)
    assert "F1 60 % and F2 40 %" in finding.sentence()


def test_two_fuses_for_two_loads_are_not_side_by_side() -> None:
    text = FUSES.format(one=20, two=20, size="6").replace("F2.2 F1.2", "F2.2 E2.+")
    text += "\nE2 heater resistance_ohm=1\nW7 E2.- X1.g 6 0.3"
    assert look(side_by_side, text) == []


def test_two_feeds_through_switches_are_not_side_by_side() -> None:
    text = FUSES.format(one=20, two=20, size="6").replace("F2.2 F1.2 6 0.1", "F2.2 S1.1 6 0.1")
    assert look(side_by_side, text + "\nS1 switch\nW7 S1.2 E1.+ 6 1") == []


RELAYS = """
    G1 battery voltage_v=12 inner_ohm=1e-6
    K1 {kind} contact_a={rated}
    S1 switch
    E1 heater resistance_ohm=0.5999
    X1 ground
    W1 G1.+ K1.30 6 0.15
    W2 K1.87 E1.+ 6 1
    W3 E1.- X1.g 6 0.3
    W4 X1.g G1.- 16 0.3
    W5 G1.+ S1.1 6 0.1
    W6 S1.2 K1.86 6 0.1
    W7 K1.85 X1.g 6 0.1
"""
SECOND = """
    K2 relay-make contact_a=30
    W8 K1.30 K2.30 6 0.1
    W9 K1.87 K2.87 6 0.1
    W10 K1.86 K2.86 6 0.1
    W11 K1.85 K2.85 6 0.1
"""


@pytest.mark.parametrize(("rated", "wanted"), [(20.1, "advice"), (19.9, "fault")])
def test_one_contact_alone_must_bear_it_all(rated: float, wanted: str) -> None:
    found = look(side_by_side, RELAYS.format(kind="relay-make", rated=rated) + SECOND)
    assert places(found) == [(wanted, ("K1", "K2"))]
    assert found[0].values["current"] == pytest.approx(20.0, rel=0.01)


def test_both_makes_of_a_double_relay_on_one_load() -> None:
    text = RELAYS.format(kind="relay-double", rated=15)
    assert look(side_by_side, text) == []
    found = look(side_by_side, text + "W8 K1.87b K1.87 6 0.1")
    assert places(found) == [("fault", ("K1",))]


def test_both_sides_of_a_change_over_relay_are_never_closed_together() -> None:
    text = RELAYS.format(kind="relay-changeover", rated=15)
    assert look(side_by_side, text + "W8 K1.87a K1.87 6 0.1") == []


def test_relays_worked_apart_are_no_mistake() -> None:
    text = RELAYS.format(kind="relay-make", rated=15) + SECOND.replace("K1.86 K2.86", "S2.2 K2.86")
    assert look(side_by_side, text + "S2 switch\nW12 G1.+ S2.1 6 0.1") == []
