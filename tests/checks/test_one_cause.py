"""Small circuits as people draw them: one mistake gives one finding, and it names the cause."""

from __future__ import annotations

import pytest

from checks.run import check
from checks.sketch import sketch

HEAD = """
    G1 battery
    X1 ground
    W99 X1.g G1.- 16 0.3
"""
PUMP = (
    HEAD
    + """
    F1 fuse-blade rating_a=15
    F2 fuse-blade rating_a=3
    S1 switch
    S2 crash-switch
    K1 {kind}
    M1 pump
    W1 G1.+ F1.1 2.5 0.15
    W2 F1.2 K1.30 2.5 0.5
    W3 K1.87 M1.+ 2.5 3
    W4 M1.- X1.g 2.5 0.5
    W5 G1.+ F2.1 1 0.15
    W6 F2.2 S1.1 1 1
    W7 S1.2 S2.C 1 1
    W8 S2.NC K1.{feed} 1 1
    W9 K1.{back} X1.g 1 0.5
"""
)
LAMP = (
    HEAD
    + """
    F1 fuse-blade rating_a=5
    S1 switch
    E1 {lamp}
    W1 G1.+ F1.1 1 0.15
    W2 F1.2 S1.1 1 1
    W3 S1.2 E1.{a} 1 1
    W4 E1.{b} X1.g 1 0.5
"""
)

MEANT = "diode-slows-motor"
"""The pump hangs on a relay with a diode on purpose, so that its coil can be turned round."""


def found(text: str) -> list[tuple[str, str, tuple[str, ...]]]:
    """Return severity, rule and parts of every finding."""
    findings = check(sketch(text)).findings
    return [(f.severity, f.rule, f.parts) for f in findings if f.rule != MEANT]


def without(text: str, *names: str) -> str:
    """Return a sketch without the lines of these parts or wires."""
    kept = [x for x in text.splitlines() if x.split()[:1] not in [[n] for n in names]]
    return "\n".join([*kept, ""])


RIGHT = PUMP.format(kind="relay-diode", feed="86", back="85")
TURNED = PUMP.format(kind="relay-diode", feed="85", back="86")
TRUCK = RIGHT.replace("relay-diode", "relay-diode coil_v=24")
THIN = RIGHT.replace("W4 M1.- X1.g 2.5 0.5", "W4 M1.- X1.g 1.5 0.2")


def test_a_sound_circuit_has_no_finding() -> None:
    assert found(RIGHT) == []


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (without(RIGHT, "W9"), ("fault", "no-return", ("K1",))),
        (without(RIGHT, "W8"), ("fault", "no-feed", ("K1",))),
        (without(RIGHT, "W8", "W9"), ("fault", "no-feed", ("K1",))),
        (without(RIGHT, "W4"), ("fault", "no-return", ("M1",))),
        (TURNED, ("danger", "reversed-diode", ("K1",))),
        (without(RIGHT, "W8") + "W10 K1.87 K1.86 1 1", ("fault", "never-on", ("K1",))),
        (TRUCK, ("fault", "coil-voltage-class", ("K1",))),
        (THIN, ("advice", "return-thinner-than-feed", ("M1",))),
    ],
)
def test_one_mistake_in_a_pump_circuit_is_told_first_and_by_its_cause(
    text: str, expected: tuple[str, str, tuple[str, ...]]
) -> None:
    mine = [f for f in found(text) if f[1] != "loose-part"]
    assert mine == [expected]


def test_a_short_behind_a_fuse_is_told_by_that_fuse_alone() -> None:
    text = HEAD + "F1 fuse-blade rating_a=10\nW1 G1.+ F1.1 2.5 0.15\nW2 F1.2 X1.g 2.5 0.3"
    assert found(text) == [("fault", "supply-shorted", ("F1",))]


def test_a_short_without_a_fuse_burns_its_wires() -> None:
    rules = {rule for _, rule, _ in found(HEAD + "W1 G1.+ X1.g 2.5 0.15")}
    assert rules == {"supply-shorted"}  # no overload of each wire in it, no lifted ground


def test_a_fuse_too_small_for_a_true_load_hides_no_other_mistake() -> None:
    text = LAMP.format(lamp="heater current_a=20", a="+", b="-").replace(
        "S1 switch", "S1 switch contact_a=5"
    )
    rules = {rule for _, rule, _ in found(text)}
    assert {"fuse-below-running", "contact-overload", "wire-overload"} <= rules


# --- light-emitting diodes ----------------------------------------------------------------------


def test_an_led_the_wrong_way_round_is_told() -> None:
    assert found(LAMP.format(lamp="lamp-led", a="-", b="+")) == [
        ("fault", "reversed-diode", ("E1",))
    ]
    assert found(LAMP.format(lamp="lamp-led", a="+", b="-")) == []
    assert found(LAMP.format(lamp="lamp", a="-", b="+")) == []


def test_an_led_fed_both_ways_lights_in_one_of_them() -> None:
    text = (
        HEAD
        + """
        F1 fuse-blade rating_a=5
        S1 switch-table terminals=1,2,3,4 table=OFF;FORTH:1-3,2-4;BACK:1-4,2-3
        E1 lamp-led
        W1 G1.+ F1.1 1 0.15
        W2 F1.2 S1.1 1 1
        W3 S1.2 X1.g 1 1
        W4 S1.3 E1.+ 1 1
        W5 S1.4 E1.- 1 1
    """
    )
    assert found(text) == []


# --- relays that wait ---------------------------------------------------------------------------


WAITING = (
    HEAD
    + """
    F1 fuse-blade rating_a=5
    K1 relay-resistor
    K2 relay-resistor
    K3 relay-resistor
    E1 lamp
    W1 G1.+ F1.1 1 0.15
    W2 F1.2 K1.30 1 1
    W3 F1.2 K2.30 1 1
    W4 F1.2 K3.30 1 1
    W5 K1.85 X1.g 1 1
    W6 K2.85 X1.g 1 1
    W7 K3.85 K2.85 1 1
    W8 K1.87 K2.86 1 1
    W9 K2.87 K1.86 1 1
    W10 K2.87 K3.86 1 1
    W11 K3.87 E1.+ 1 1
    W12 E1.- X1.g 1 1
"""
)


def test_relays_that_wait_for_each_other_are_told_together() -> None:
    assert found(WAITING) == [("fault", "never-on", ("K1", "K2", "K3"))]


def test_a_button_that_starts_them_ends_the_wait() -> None:
    text = WAITING + "S1 push-make\nW13 F1.2 S1.1 1 1\nW14 S1.2 K1.86 1 1"
    assert "never-on" not in {rule for _, rule, _ in found(text)}


# --- supplies -----------------------------------------------------------------------------------


APART = (
    LAMP.format(lamp="lamp", a="+", b="-")
    + """
    G2 battery
    F2 fuse-blade rating_a=5
    S2 switch
    E2 lamp
    W5 G2.+ F2.1 1 0.15
    W6 F2.2 S2.1 1 1
    W7 S2.2 E2.+ 1 1
    W8 E2.- {minus} 1 0.5
"""
)


def test_two_supplies_that_have_nothing_in_common_both_work() -> None:
    assert found(APART.format(minus="G2.-")) == []


def test_a_second_battery_without_its_minus_feeds_nothing() -> None:
    assert ("fault", "never-on", ("E2",)) in found(APART.format(minus="X1.g"))


def test_a_battery_the_wrong_way_round_is_one_finding() -> None:
    text = LAMP.format(lamp="lamp", a="+", b="-").replace("G1.+", "G1.x").replace("G1.-", "G1.+")
    assert found(text.replace("G1.x", "G1.-")) == [("fault", "ground-not-joined", ("G1",))]


def test_without_a_battery_that_is_said_once() -> None:
    text = without(LAMP.format(lamp="lamp", a="+", b="-"), "G1", "W99", "W1")
    text += "E2 lamp\nW5 S1.2 E2.+ 1 1\nW6 E2.- X1.g 1 1"
    mine = [f for f in found(text) if f[1] != "loose-part"]
    assert mine == [("fault", "no-feed", ("E1", "E2"))]


CHARGE = (
    HEAD.replace("16 0.3", "25 0.3")
    + """
    G2 alternator limit_a=60
    F0 fuse-strip rating_a=150
    F1 fuse-blade rating_a=5
    S1 key-switch contact_a=20
    E1 lamp current_a=0.25
    W1 G1.+ F0.1 50 0.15
    W2 F0.2 G2.B+ 50 1
    W3 G2.case X1.g 50 0.5
    W4 G1.+ F1.1 1 0.15
    W5 F1.2 S1.30 1 1
    W6 S1.15 E1.+ 1 1
"""
)


def test_a_charge_lamp_returns_through_the_alternator() -> None:
    assert found(CHARGE + "W7 E1.- G2.D+ 1 1") == []


def test_a_charge_lamp_that_is_not_joined_to_it_has_no_return() -> None:
    assert found(CHARGE) == [("fault", "no-return", ("E1",))]


def test_24_volts_of_two_batteries_that_state_nothing_are_48() -> None:
    two = """
        24 V
        G1 battery {v}
        G2 battery {v}
        X1 ground
        F1 fuse-blade rating_a=5
        S1 switch
        E1 lamp {lamp}
        W1 G1.+ G2.- 16 0.15
        W2 G1.- X1.g 16 0.15
        W3 G2.+ F1.1 1 0.15
        W4 F1.2 S1.1 1 1
        W5 S1.2 E1.+ 1 1
        W6 E1.- X1.g 1 0.5
    """
    assert found(two.format(v="", lamp="")) == [("danger", "voltage-class", ("G2", "G1"))]
    assert found(two.format(v="voltage_v=12.6", lamp="")) == []
    assert found(two.format(v="voltage_v=12.6", lamp="at_v=12")) == [
        ("danger", "voltage-class", ("E1",))
    ]


# --- feeds that take turns, coils with the plus on both ends ------------------------------------


SPEEDS = (
    HEAD
    + """
    F1 fuse-blade rating_a=30
    S1 switch-table terminals=1,2,3 table=OFF;LOW:1-2;HIGH:1-3 contact_a=40
    R1 resistor resistance_ohm=0.5
    M1 fan current_a=12
    W1 G1.+ F1.1 4 0.15
    W2 F1.2 S1.1 4 1
    W3 S1.2 R1.1 4 1
    W4 R1.2 M1.+ 4 1
    W5 S1.3 M1.+ 4 1
    W6 M1.- X1.g {back} 0.2
"""
)


def test_two_feeds_that_take_turns_do_not_count_together() -> None:
    assert found(SPEEDS.format(back="4")) == []
    assert ("advice", "return-thinner-than-feed", ("M1",)) in found(SPEEDS.format(back="2.5"))


def test_a_coil_with_the_plus_on_both_ends_is_told_once() -> None:
    text = RIGHT.replace("K1.85 X1.g", "K1.85 F1.2")
    assert found(text) == [("fault", "both-ends-live", ("K1",))]


# --- too few volts, guessed wires ---------------------------------------------------------------


def test_electronics_on_a_feed_too_thin_are_told_once() -> None:
    text = LAMP.format(lamp="module current_a=4", a="+", b="-").replace(
        "W3 S1.2 E1.+ 1 1", "W3 S1.2 E1.+ 1 90"
    )
    rules = [rule for _, rule, _ in found(text)]
    assert rules.count("voltage-drop") == 1
    assert "never-on" not in rules


@pytest.mark.parametrize("size", ["?", "1.5"])
def test_what_rests_on_a_guessed_size_is_unknown(size: str) -> None:
    text = f"""
        G1 battery
        X1 ground
        F1 fuse-blade rating_a=15
        S1 switch contact_a=20
        E1 heater current_a=8
        W1 G1.+ F1.1 1.5 0.15
        W2 F1.2 S1.1 1.5 1
        W3 S1.2 E1.+ 1.5 1
        W4 E1.- X1.g {size} 1
        W5 X1.g G1.- {size} 1
    """
    severities = {s for s, rule, _ in found(text) if rule in ("ground-lift", "voltage-drop")}
    assert severities == ({"unknown"} if size == "?" else {"advice"})


# --- drawing step by step -----------------------------------------------------------------------


LINES = RIGHT.strip().splitlines()


@pytest.mark.parametrize("count", range(1, len(LINES) + 1))
def test_a_circuit_half_drawn_is_met_calmly(count: int) -> None:
    parts = [x for x in LINES if not x.strip().startswith("W")]
    wires = [x for x in LINES if x.strip().startswith("W")]
    drawn = "\n".join([*parts, *wires][:count])
    findings = found(drawn)
    assert "danger" not in {s for s, _, _ in findings}
    assert len(findings) <= count
    placed = [f for f in findings if f[0] == "fault"]
    assert len(placed) <= 2
