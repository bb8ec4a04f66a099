"""Fuses, relays, loads, supplies, joints, names and cables against what is printed of them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import QuantityError, UnknownNameError
from model.tables import cables, fuses, joints, loads, names, practice, relays, supplies
from model.wiresize import Size

BANDS = ["blade", "blade-mini", "blade-maxi", "strip", "glass"]


@pytest.mark.parametrize(
    # Makers' sheets after ISO 8820-3, DIN 72581-3 and UL 248-14.
    ("band", "rating", "percent", "earliest", "latest"),
    [
        ("blade", 20, 135, 0.75, 600),
        ("blade", 2, 135, 0.35, 600),
        ("blade", 20, 200, 0.15, 5),
        ("blade", 2, 200, 0.10, 5),
        ("blade-mini", 20, 350, 0.08, 0.5),
        ("blade-mini", 20, 600, 0.03, 0.1),
        ("blade-maxi", 50, 135, 60, 1800),
        ("blade-maxi", 50, 200, 2, 60),
        ("glass", 10, 200, 0, 120),
        ("glass", 50, 200, 0, 240),
    ],
)
def test_the_gates_are_met(
    band: str, rating: float, percent: float, earliest: float, latest: float
) -> None:
    """At a gate the band is the gate."""
    found = fuses.opening_times(band, rating, rating * percent / 100)
    assert found is not None
    assert found.earliest_s == pytest.approx(earliest)
    assert found.latest_s == pytest.approx(latest)


def test_nothing_opens_below_110_percent_and_need_not_below_135() -> None:
    """A 10 A blade holds 11 A for 100 h and opens within 10 min at 13.5 A (sportsterpedia.com)."""
    for band in BANDS:
        for amperes in (0.0, 10.0, 10.9, -10.9):
            found = fuses.opening_times(band, 10.0, amperes)
            assert found is not None
            assert found.earliest_s == found.latest_s == math.inf
    at_11 = fuses.opening_times("blade", 10.0, 11.0)
    at_13 = fuses.opening_times("blade", 10.0, 13.4)
    assert at_11 is not None and at_13 is not None
    assert at_11.earliest_s == pytest.approx(100 * 3600)
    assert at_13.latest_s == math.inf > at_13.earliest_s


def test_between_gates_on_log_log_paper() -> None:
    """30 A blade at 53.9 A: by hand 50·(5/50)^(ln(1.797/1.6)/ln(1.25)) = 15 s, not before 0.19."""
    found = fuses.opening_times("blade", 30.0, 53.9)
    assert found is not None
    assert found.latest_s == pytest.approx(15.1, abs=0.15)
    assert found.earliest_s == pytest.approx(0.192, abs=1e-3)


@given(st.sampled_from(BANDS), st.floats(1, 60), st.floats(1.0, 60.0), st.floats(1.0, 60.0))
def test_more_current_never_opens_later(band: str, rating: float, a: float, b: float) -> None:
    """Both edges fall, and the earliest never passes the latest."""
    less, more = (fuses.opening_times(band, rating, rating * m) for m in sorted((a, b)))
    if less is None or more is None:
        assert fuses.band_for(band, rating) is None
        return
    assert more.earliest_s <= less.earliest_s * (1 + 1e-9)
    assert more.latest_s <= less.latest_s * (1 + 1e-9)
    assert more.earliest_s <= more.latest_s


def test_what_is_not_known_of_a_fuse_is_not_guessed() -> None:
    """No band, no melting energy, no colour without a row; nonsense is refused."""
    assert fuses.opening_times("", 10.0, 50.0) is None
    assert fuses.opening_times("glass", 100.0, 500.0) is None
    assert fuses.melting_i2t("blade", 17.0) is None
    assert fuses.body_colour("blade", 17.0) is None
    for rating, amperes in ((0.0, 1.0), (-5.0, 1.0), (math.nan, 1.0), (10.0, math.nan)):
        with pytest.raises(QuantityError):
            fuses.opening_times("blade", rating, amperes)


def test_cold_resistance_finds_a_parasitic_current() -> None:
    """1 mV on a 10 A blade is 130 mA (mvwautotechniek.nl)."""
    assert 1e-3 / fuses.cold_ohm("blade", 10.0).ohm == pytest.approx(0.130, abs=1e-3)


def test_warm_elements() -> None:
    """One maker's drops of 1, 2, 4 and 10 A blades (176, 141, 136, 109 mV) are 1.32 to 1.49
    times what the cold element would drop."""
    for rating, milli_volt in {1: 176, 2: 141, 4: 136, 10: 109}.items():
        warm, cold = fuses.warm_ohm("blade", rating), fuses.cold_ohm("blade", rating)
        assert warm.ohm * rating * 1e3 == pytest.approx(milli_volt)
        assert 1.31 < warm.ohm / cold.ohm < 1.495
        assert (warm.assumed, warm.standing) == (False, "verified")
    assert fuses.warm_ohm("blade-mini", 25.0).ohm == pytest.approx(1.45 * 2.36e-3, rel=1e-3)


def test_elements_without_a_row_are_assumed() -> None:
    """A 60 A strip fuse takes the nearest high-current fuse with the same drop."""
    found = fuses.cold_ohm("strip", 60.0)
    assert found.assumed
    assert found.ohm == pytest.approx(0.0011 * 50 / 60)
    assert fuses.cold_ohm("blade-mini", 10.0).ohm == pytest.approx(0.00742)
    assert fuses.cold_ohm("glass", 10.0).assumed


def test_forms_of_fuses_and_breakers() -> None:
    """ISO 8820-3 breaks 1000 A at 32 V, 8820-5 2000 A; SAE J553 knows three types."""
    assert (fuses.style("blade").breaking_a, fuses.style("blade").max_v) == (1000, 32)
    assert fuses.style("strip").breaking_a == 2000
    assert [b.id for b in fuses.fuse_file().breakers] == ["I", "II", "III"]
    assert "hand" in fuses.breaker_type("III").title
    assert fuses.rule("continuous") == 0.75
    colours = {r: fuses.body_colour("blade", r) for r in (10.0, 15.0, 20.0, 30.0)}
    assert [c.colour for c in colours.values() if c] == ["red", "blue", "yellow", "green"]
    for form in fuses.fuse_file().styles:
        assert not form.band or fuses.band_for(form.band, 20.0) is not None
        assert fuses.cold_ohm(form.id, 20.0).ohm > 0


def test_relay_data() -> None:
    """Cube relay: 70 % of 12 V to operate, 10 % to release; lamp and motor 55 % of a contact."""
    assert max(relays.relay_datum("must-operate-v").v12) == pytest.approx(0.70 * 12)
    assert max(relays.relay_datum("must-release-v").v12) == pytest.approx(0.10 * 12)
    for share in (relays.load_class("lamp"), relays.load_class("motor")):
        assert share.contact_share == pytest.approx(17 / 30, abs=0.02)
    assert relays.load_class("capacitive").contact_share is None
    plain, none = relays.suppression("diode"), relays.suppression("none")
    assert plain.release_s and none.release_s
    assert 5 <= plain.release_s / none.release_s <= 10


def test_lamps() -> None:
    """A 21 W lamp: 1.75 A and 6.86 Ω at 12 V, 1.87 A at 13.5 V by I ∝ V^0.55."""
    lamp = loads.lamp("P21W")
    amperes = lamp.watts / 12
    assert amperes == pytest.approx(1.75)
    assert 12 / amperes == pytest.approx(6.86, abs=5e-3)
    assert amperes * (13.5 / 12) ** loads.filament_law("current") == pytest.approx(1.87, abs=5e-3)
    assert loads.filament_law("power") == 1 + loads.filament_law("current")
    assert (loads.lamp("H4").watts, loads.lamp("H4").second_watts) == (60, 55)
    for load in loads.load_file().typical:
        assert 0 < load.low_a <= load.high_a


def test_rest_voltage() -> None:
    """discoverbattery.com: 12.65, 12.45, 12.24, 12.06, 11.89 V; straight lines between."""
    for charge, volts in {1.0: 12.65, 0.75: 12.45, 0.5: 12.24, 0.25: 12.06, 0.0: 11.89}.items():
        assert supplies.rest_voltage_v(charge) == pytest.approx(volts)
        assert supplies.rest_voltage_v(charge, 24.0) == pytest.approx(2 * volts)
    assert supplies.rest_voltage_v(0.875) == pytest.approx(12.55)
    with pytest.raises(QuantityError):
        supplies.rest_voltage_v(1.2)


def test_inner_resistance_from_the_cranking_rating() -> None:
    """(12.6 − 7.2)/600 = 9 mΩ cold, 4.5 mΩ warm: a short of 1400 and 2800 A."""
    assert supplies.inner_ohm(600.0, warm=False) == pytest.approx(0.009)
    assert 12.6 / supplies.inner_ohm(600.0) == pytest.approx(2800)
    assert supplies.inner_ohm(600.0, 24.0) == pytest.approx(0.009)
    with pytest.raises(QuantityError):
        supplies.inner_ohm(0.0)


def test_supply_codes() -> None:
    """ISO 16750-2: code C is 9 to 16 V, code H 18 to 32 V."""
    assert (supplies.supply_range("C").low_v, supplies.supply_range("C").high_v) == (9, 16)
    assert (supplies.supply_range("H").low_v, supplies.supply_range("H").high_v) == (18, 32)


def test_terminals_carry_what_the_wire_in_them_allows() -> None:
    """UL 310 rating: 16 AWG in a 6.3 mm push-on 10 A, 10 AWG 24 A, and no more above."""
    assert joints.terminal_current_a("push-on-6.3", Size(awg=16)) == 10
    assert joints.terminal_current_a("push-on-6.3", Size(awg=8)) == 24
    assert joints.terminal_current_a("push-on-6.3", Size(mm2=1.5)) == 10
    assert joints.terminal_current_a("push-on-6.3", Size(awg=24)) is None
    assert joints.contact_current_a("sealed-16") == 13
    assert joints.joint_rule("rings-on-a-stud").value == 4
    assert (
        joints.joint_resistance("bad-joint").low_ohm > joints.joint_resistance("push-on").high_ohm
    )


def test_limits_of_practice() -> None:
    """ABYC E-11: 3 and 10 %; 33 CFR 183.455: 7 in, 40 in and 150 %."""
    assert practice.drop_limit("critical").share == 0.03
    assert practice.drop_limit("ordinary").share == 0.10
    assert practice.distance("33cfr-bare").metres == pytest.approx(7 * 0.0254, abs=5e-4)
    assert practice.distance("33cfr-sheathed").metres == pytest.approx(40 * 0.0254, abs=5e-4)
    assert practice.allowance("33cfr-150").value == 1.5


@pytest.mark.parametrize(
    ("text", "codes"),
    [
        ("RD", ["RD"]),
        ("rdbu", ["RD", "BU"]),
        ("RD/BU", ["RD", "BU"]),
        ("GNYE", ["GN", "YE"]),
        ("red blue", ["RD", "BU"]),
        ("grey", ["GY"]),
        ("ro/bl", ["RD", "BU"]),
        ("sw", ["BK"]),
    ],
)
def test_wire_colours(text: str, codes: list[str]) -> None:
    """IEC 60757 codes run together, names, German vehicle letters."""
    assert [colour.code for colour in names.split_colour(text)] == codes


def test_wire_colours_that_are_none() -> None:
    """The sentence names the codes."""
    for text in ("", "XX", "RDBUGN", "RDX", "mauve"):
        with pytest.raises(UnknownNameError, match="RDBU"):
            names.split_colour(text)
    assert len({colour.rgb for colour in names.colours()}) == len(names.colours()) == 14


def test_terminal_numbers_and_letters() -> None:
    """DIN 72552 and IEC 81346-2."""
    assert names.terminal_meaning("87a") == "relay, break contact"
    assert names.terminal_meaning("99") is None
    assert names.letter_meaning("F") == "fuse, breaker, surge protection"
    assert names.letter_meaning("Z") is None


def test_bundles_of_equal_cables_are_round_circles() -> None:
    """2, 3, 4, 5 and 7 equal circles in a circle: 2, 2.15, 2.41, 2.70 and 3 diameters."""
    for count, ratio in {1: 1.0, 2: 2.0, 3: 2.155, 4: 2.414, 5: 2.701, 6: 3.0, 7: 3.0}.items():
        assert cables.bundle_diameter_m([0.002] * count) == pytest.approx(0.002 * ratio, rel=1e-3)
    mixed = cables.bundle_diameter_m([0.0024, 0.0037, 0.0019], cover_m=0.0005)
    assert mixed == pytest.approx(1.25 * math.sqrt(2.4**2 + 3.7**2 + 1.9**2) / 1e3 + 0.001)
    with pytest.raises(QuantityError):
        cables.bundle_diameter_m([])


def test_cable_diameters() -> None:
    """A maker's sheets: 1.5 mm² thin wall 2.4 mm, thick 3.0 mm; 16 AWG extra thin 2.4 mm."""
    assert cables.cable_diameter_m(Size(mm2=1.5)) == pytest.approx(0.0024)
    assert cables.cable_diameter_m(Size(mm2=1.5), "thick") == pytest.approx(0.0030)
    assert cables.cable_diameter_m(Size(awg=16), "extra thin") == pytest.approx(0.0024)
    assert cables.cable_diameter_m(Size(mm2=50.0)) is None
    assert cables.cable_diameter_m(Size(mm2=1.7)) is None
    assert cables.insulation_class("iso-6722-A").t_max_c == 85
