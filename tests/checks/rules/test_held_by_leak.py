"""What leaks into a coil, with figures worked out by hand.

A cube relay pulls in at 60 % typically and lets go at 25 %; its maker promises 70 % and 10 %
(published data of cube relays). A filament draws I·(V/V0)^0.55 and is 12 times as good a
conductor cold as hot, a lamp of fixed resistance is divided as in any textbook.
"""

from __future__ import annotations

import pytest

from checks.rules import ground_only_through_load, held_by_leak
from checks.run import check
from checks.sketch import sketch
from tests.checks.rules.looking import look, places, settings

TEXT = """
    G1 battery voltage_v=12 inner_ohm=1e-7
    S1 switch
    K1 relay-make coil_ohm=100 {coil}
    H1 {lamp}
    X1 ground
    W1 G1.+ S1.1 6 0.1
    W2 S1.2 K1.86 6 0.1
    W3 K1.85 X1.g 6 0.1
    W4 X1.g G1.- 16 0.1
    W5 G1.+ H1.+ 6 0.1
    W6 H1.- K1.86 6 0.1
"""


@pytest.mark.parametrize(
    ("ohm", "wanted"),
    [
        (66.0, ["fault"]),  # 12·100/166 = 7.23 V: it pulls in at 7.2 V
        (68.0, ["fault"]),  # 7.14 V: does not, but holds
        (299.0, ["fault"]),  # 3.008 V: holds above 3 V
        (301.0, ["advice"]),  # 2.993 V
        (895.0, ["advice"]),  # 1.206 V: promised to let go at 1.2 V
        (905.0, []),  # 1.194 V
    ],
)
def test_a_leak_by_ohms(ohm: float, wanted: list[str]) -> None:
    found = look(held_by_leak, TEXT.format(coil="", lamp=f"heater resistance_ohm={ohm}"))
    assert [f.severity for f in found] == wanted
    for finding in found:
        assert finding.place == ("K1", "H1")
        assert finding.values["volts"] == pytest.approx(12 * 100 / (100 + ohm), rel=1e-3)
        assert finding.values["hot"] == 0.0


def test_pulling_in_is_told_apart_from_holding() -> None:
    says = [
        look(held_by_leak, TEXT.format(coil="", lamp=f"heater resistance_ohm={ohm}"))[0].sentence()
        for ohm in (66, 68)
    ]
    assert "it pulls in at 7.2 V" in says[0]
    assert "once in it stays in" in says[1]


def test_a_stated_drop_out_replaces_the_usual_one() -> None:
    lamp = "heater resistance_ohm=300.5"
    assert look(held_by_leak, TEXT.format(coil="", lamp=lamp))[0].severity == "advice"
    stays = look(held_by_leak, TEXT.format(coil="drop_out_share=0.2", lamp=lamp))
    assert stays[0].severity == "fault"
    sure = "drop_out_share=0.4 must_drop_out_share=0.3"
    assert look(held_by_leak, TEXT.format(coil=sure, lamp=lamp)) == []


def test_a_hot_coil_lets_go_sooner() -> None:
    # At 85 °C: 100 Ω become 125.5 Ω and 3 V become 3.765 V; 12·125.5/425.5 = 3.54 V.
    lamp = "heater resistance_ohm=300"
    cold = look(held_by_leak, TEXT.format(coil="", lamp="heater resistance_ohm=299"))
    hot = look(held_by_leak, TEXT.format(coil="", lamp=lamp), settings(temperature_c=85.0))
    assert cold[0].severity == "fault"
    assert hot[0].severity == "advice"
    assert hot[0].values["lets"] == pytest.approx(3.765, rel=2e-3)


def test_filament_hot_and_cold() -> None:
    # 0.1 A at 12 V: 120 Ω hot, 10 Ω cold, in series with 100 Ω.
    finding = look(held_by_leak, TEXT.format(coil="", lamp="lamp current_a=0.1 at_v=12"))[0]
    assert finding.values["hot"] == pytest.approx(12 * 100 / 220, rel=1e-3)
    assert finding.values["cold"] == pytest.approx(12 * 100 / 110, rel=1e-3)
    # By 0.1·((12 − v)/12)^0.55·100 = v, solved by halving: v = 6.268 V.
    low, high = 0.0, 12.0
    for _ in range(60):
        v = (low + high) / 2
        low, high = (v, high) if 10.0 * ((12 - v) / 12) ** 0.55 > v else (low, v)
    assert finding.values["volts"] == pytest.approx(low, rel=2e-3)


def test_an_indicator_beside_the_coil_is_fine() -> None:
    text = TEXT.format(coil="", lamp="lamp").replace("G1.+ H1.+", "X1.g H1.+")
    assert look(held_by_leak, text) == []


def test_a_diode_that_keeps_it_out_is_fine() -> None:
    text = TEXT.format(coil="", lamp="heater resistance_ohm=100").replace("H1.- K1.86", "H1.- V1.K")
    assert look(held_by_leak, text + "V1 diode\nW7 V1.A K1.86 6 0.1") == []


def test_a_leak_on_the_ground_side() -> None:
    text = """
        G1 battery voltage_v=12 inner_ohm=1e-7
        S1 switch
        K1 relay-make coil_ohm=100
        H1 heater resistance_ohm=200
        X1 ground
        W1 G1.+ K1.86 6 0.1
        W2 K1.85 S1.1 6 0.1
        W3 S1.2 X1.g 6 0.1
        W4 X1.g G1.- 16 0.1
        W5 K1.85 H1.+ 6 0.1
        W6 H1.- X1.g 6 0.1
    """
    found = look(held_by_leak, text)
    assert places(found) == [("fault", ("K1", "H1"))]
    assert found[0].values["volts"] == pytest.approx(4.0, rel=1e-3)


def test_a_back_feed_through_a_second_coil() -> None:
    # Both 85 have lost their ground (S3): 12 V on 100 Ω, 100 Ω and the heater's 100 Ω in line.
    text = """
        G1 battery voltage_v=12 inner_ohm=1e-7
        S1 switch
        S2 switch
        S3 switch rest=ON
        K1 relay-make coil_ohm=100
        K2 relay-make coil_ohm=100
        H1 heater resistance_ohm=100
        X1 ground
        W1 G1.+ S1.1 6 0.1
        W2 G1.+ S2.1 6 0.1
        W3 S1.2 K1.86 6 0.1
        W4 S2.2 K2.86 6 0.1
        W5 K1.85 S3.1 6 0.1
        W6 K2.85 S3.1 6 0.1
        W7 S3.2 X1.g 6 0.1
        W8 X1.g G1.- 16 0.1
        W9 S1.2 H1.+ 6 0.1
        W10 H1.- X1.g 6 0.1
    """
    found = look(held_by_leak, text)
    assert {f.parts[0] for f in found} == {"K1", "K2"}
    assert all(f.values["volts"] == pytest.approx(4.0, rel=1e-3) for f in found)


SERIES = """
    G1 battery voltage_v=12 inner_ohm=1e-7
    S1 switch
    K1 relay-make coil_ohm=100
    H1 lamp current_a={amps} at_v=12
    X1 ground
    W1 G1.+ S1.1 6 0.1
    W2 S1.2 H1.+ 6 0.1
    W3 H1.- K1.86 6 0.1
    W4 K1.85 X1.g 6 0.1
    W5 X1.g G1.- 16 0.1
"""


def test_a_coil_fed_through_a_lamp_gets_too_little_to_pull_in() -> None:
    # 0.05 A at 12 V: 240 Ω hot, 20 Ω cold.
    finding = look(ground_only_through_load, SERIES.format(amps=0.05))[0]
    assert finding.place == ("H1", "K1", "W3")
    assert finding.values["hot"] == pytest.approx(12 * 100 / 340, rel=1e-3)
    assert finding.values["cold"] == pytest.approx(12 * 100 / 120, rel=1e-3)
    assert "at best it clicks" in finding.sentence()


def test_a_coil_that_pulls_in_through_a_lamp_says_nothing_of_its_volts() -> None:
    finding = look(ground_only_through_load, SERIES.format(amps=1.0))[0]
    assert "gets" not in finding.values


def test_nothing_else_is_told_of_a_held_relay() -> None:
    text = TEXT.format(coil="suppression=resistor", lamp="lamp current_a=0.1")
    text = text.replace("G1.+ S1.1", "F1.2 S1.1").replace("G1.+ H1.+", "F1.2 H1.+")
    text += "F1 fuse-blade rating_a=5\nW7 G1.+ F1.1 1 0.15"
    rules = {f.rule for f in check(sketch(text)).findings}
    assert rules == {"held-by-leak"}


def test_one_cause_is_one_finding_also_on_the_ground_side_and_for_what_may_hold() -> None:
    """A lamp whose way back is a coil: told once, with the cure; where nothing is held, as ever."""
    text = TEXT.format(coil="suppression=resistor", lamp="{lamp}")
    for lamp, rules in (
        ("lamp current_a=0.1", {"held-by-leak"}),
        ("lamp-led current_a=0.005", {"ground-only-through-load", "runs-at-rest"}),
    ):
        findings = check(sketch(text.format(lamp=lamp))).findings
        assert {f.rule for f in findings if f.rule != "unfused-length"} == rules
        for finding in findings:
            if finding.rule == "held-by-leak":
                assert "give H1 a return of its own" in finding.sentence()


def test_an_indicator_of_72_ohms_before_a_coil_of_90() -> None:
    """Derived: 12 V on 72 and 90 Ω leave the coil 6.667 V and 74.1 mA: below a pull-in of 8.4 V,
    above a drop-out of 1.2 V, so that it is not sure to pull in and stays held."""
    coil = "coil_ohm=90 pull_in_share=0.7 drop_out_share=0.1"
    (fixed,) = look(held_by_leak, TEXT.format(coil=coil, lamp="lamp resistance_ohm=72"))
    assert fixed.values["volts"] == pytest.approx(6.667, abs=2e-3)
    assert fixed.values["amps"] == pytest.approx(0.0741, abs=1e-4)
    assert fixed.values["pulls"] == pytest.approx(8.4)
    assert fixed.values["lets"] == pytest.approx(1.2)
    assert fixed.severity == "fault"
    assert "too little to pull in (8.4 V), but once in it stays in" in fixed.sentence()
    # The same as a filament, 2 W: 72 Ω hot, 6 Ω cold: then it pulls in by itself.
    (warm,) = look(held_by_leak, TEXT.format(coil=coil, lamp=f"lamp current_a={1 / 6} at_v=12"))
    assert warm.values["hot"] == pytest.approx(6.667, abs=2e-3)
    assert warm.values["cold"] == pytest.approx(12 * 90 / 96, abs=2e-3)
    assert 6.667 < float(warm.values["volts"]) < 12 * 90 / 96
    assert "enough to pull in by itself" in warm.sentence()
