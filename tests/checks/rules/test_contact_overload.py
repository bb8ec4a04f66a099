"""Contacts against what they carry, with limits worked out by hand.

The 55 % for motors and lamps: a published micro relay of 30 A resistive, 17 A motor, 17 A lamp
(17/30 = 0.567, taken as 0.55). That shares of ratings add up is common practice, no source.
"""

from __future__ import annotations

import pytest

from checks.rules import contact_overload
from tests.checks.rules.looking import look, places

HEAD = """
    G1 battery voltage_v=12 inner_ohm=1e-7
    F1 fuse-strip rating_a=60
    X1 ground
    W1 G1.+ F1.1 6 0.15
    W2 F1.2 S1.1 6 0.3
    W5 X1.g G1.- 10 0.3
"""
ONE = HEAD + "S1 switch {s}\nM1 {load}\nW3 S1.2 M1.+ 6 1\nW4 M1.- X1.g 6 0.3"


def severity(switch: str, load: str) -> str:
    """Return how bad a load on a switch is, "" for nothing found."""
    found = look(contact_overload, ONE.format(s=switch, load=load))
    assert len(found) < 2
    return found[0].severity if found else ""


@pytest.mark.parametrize(
    ("amps", "wanted"),
    [(9.99, ""), (10.01, "fault"), (14.99, "fault"), (15.01, "danger")],
)
def test_a_heater_may_take_all_of_the_rating(amps: float, wanted: str) -> None:
    assert severity("contact_a=10", f"heater resistance_ohm={12 / amps}") == wanted


@pytest.mark.parametrize(("kind", "word"), [("fan", "motor"), ("lamp", "lamp")])
@pytest.mark.parametrize(("amps", "wanted"), [(10.99, ""), (11.01, "fault"), (30.1, "danger")])
def test_motors_and_lamps_may_take_55_percent(
    kind: str, word: str, amps: float, wanted: str
) -> None:
    assert severity("contact_a=20", f"{kind} resistance_ohm={12 / amps}") == wanted


def test_a_stated_motor_rating_replaces_the_55_percent() -> None:
    load = f"fan resistance_ohm={12 / 14.9}"
    assert severity("contact_a=20", load) == "fault"
    assert severity("contact_a=20 motor_a=15", load) == ""
    assert severity("contact_a=40 motor_a=14", load) == "fault"


@pytest.mark.parametrize(("lamp_a", "wanted"), [(2.70, 0), (2.80, 1)])
def test_shares_of_several_kinds_add_up(lamp_a: float, wanted: int) -> None:
    # 5 A of heating on 10 A: 50 %; the lamps may take 0.5 · 5.5 A = 2.75 A.
    text = ONE.format(s="contact_a=10", load="heater resistance_ohm=2.4")
    text += f"\nE2 lamp law=resistor resistance_ohm={12 / lamp_a}"
    text += "\nW6 S1.2 E2.+ 6 1\nW7 E2.- X1.g 6 0.3"
    found = look(contact_overload, text)
    assert len(found) == wanted
    if found:
        assert found[0].values["share"] == pytest.approx(0.5 + lamp_a / 5.5, rel=1e-4)
        assert found[0].values["lamp current"] == pytest.approx(lamp_a, rel=1e-4)
        assert found[0].parts == ("S1", "M1", "E2")


@pytest.mark.parametrize(("amps", "wanted"), [(9.9, ""), (12.0, "unknown"), (15.1, "fault")])
def test_an_assumed_rating_is_never_a_danger(amps: float, wanted: str) -> None:
    # The program assumes 10 A for a switch.
    assert severity("", f"heater resistance_ohm={12 / amps}") == wanted


def test_the_sentence_says_that_a_rating_is_assumed() -> None:
    found = look(contact_overload, ONE.format(s="", load="heater resistance_ohm=1"))
    assert "not stated" in found[0].sentence()


def test_twenty_amperes_through_a_small_switch_and_then_a_relay() -> None:
    load = "fan resistance_ohm=0.6"
    alone = look(contact_overload, ONE.format(s="contact_a=5", load=load))
    assert places(alone) == [("danger", ("S1", "M1"))]
    helped = HEAD + f"S1 switch contact_a=5\nM1 {load}\nK1 relay-resistor contact_a=40"
    helped += "\nW3 S1.2 K1.86 1 1\nW6 F1.2 K1.30 6 1\nW7 K1.87 M1.+ 6 1\nW8 K1.85 X1.g 1 1"
    assert look(contact_overload, helped + "\nW4 M1.- X1.g 6 0.3") == []


BREAK = """
    G1 battery voltage_v=12 inner_ohm=1e-7
    X1 ground
    K1 relay-changeover contact_a=40 break_a=20
    M1 {load}
    S1 switch
    W1 G1.+ K1.30 6 0.1
    W2 K1.{terminal} M1.+ 6 0.3
    W3 M1.- X1.g 6 0.3
    W4 X1.g G1.- 10 0.3
    W5 G1.+ S1.1 1 0.1
    W6 S1.2 K1.86 1 0.1
    W7 K1.85 X1.g 1 0.1
"""


@pytest.mark.parametrize(
    ("terminal", "load", "wanted"),
    [
        ("87", "heater resistance_ohm=0.55", 0),  # 21.8 A on 40 A
        ("87a", "heater resistance_ohm=0.55", 1),  # 21.8 A on 20 A
        ("87a", "heater resistance_ohm=0.61", 0),  # 19.7 A
        ("87a", "fan resistance_ohm=1.08", 1),  # 11.1 A on 55 % of 20 A
        ("87a", "fan resistance_ohm=1.10", 0),  # 10.9 A
        ("87", "fan resistance_ohm=0.54", 1),  # 22.2 A on 55 % of 40 A
        ("87", "fan resistance_ohm=0.55", 0),  # 21.8 A
    ],
)
def test_a_break_contact_has_its_own_rating(terminal: str, load: str, wanted: int) -> None:
    found = look(contact_overload, BREAK.format(terminal=terminal, load=load))
    assert len(found) == wanted


def test_a_switch_on_the_ground_side_is_judged_by_its_load() -> None:
    text = """
        G1 battery voltage_v=12 inner_ohm=1e-7
        X1 ground
        S1 switch contact_a=10
        M1 fan resistance_ohm=1.5
        W1 G1.+ M1.+ 6 0.1
        W2 M1.- S1.1 6 0.3
        W3 S1.2 X1.g 6 0.3
        W4 X1.g G1.- 10 0.3
    """
    found = look(contact_overload, text)  # 8 A of motor on 5.5 A
    assert places(found) == [("fault", ("S1", "M1"))]
    assert found[0].values["motor rating"] == pytest.approx(5.5)


START = """
    G1 battery voltage_v=12 inner_ohm=1e-7 cranking_v=12
    X1 ground
    S1 master-switch contact_a={rated}
    S2 push-make contact_a=30
    M1 starter current_a=150 at_v=12
    W1 G1.+ S1.1 50 0.5
    W2 S1.2 M1.30 50 1
    W3 M1.31 X1.g 50 0.3
    W4 X1.g G1.- 50 0.3
    W5 S1.2 S2.1 2.5 0.5
    W6 S2.2 M1.50 2.5 1
"""


@pytest.mark.parametrize(("rated", "wanted"), [(66, 0), (64, 1)])
def test_a_start_may_take_three_times_the_rating(rated: float, wanted: int) -> None:
    # 150 A count as 50 A, and 15 A for the solenoid (12 V on 0.8 Ω) as they are: 65 A.
    found = [f for f in look(contact_overload, START.format(rated=rated)) if f.parts[0] == "S1"]
    assert len(found) == wanted
