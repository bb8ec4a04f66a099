"""Copper worked by hand: published resistances, temperature, drop, short circuit, melting."""

from __future__ import annotations

import math

import pytest

from model.tables.copper import conductor_ohm_per_m, copper_file, copper_table, temperature_factor
from model.tables.heating import (
    adiabatic_k,
    adiabatic_time_s,
    heating_file,
    onderdonk_current_a,
    preece_current_a,
    steady_temperature_c,
)
from model.tables.relays import coil_factor
from model.wiresize import Size, awg_area_mm2

# mΩ/m of solid copper at 20 °C by gauge, as printed for 100 % IACS.
PRINTED_IACS = {-3: 0.161, 0: 0.322, 4: 0.815, 8: 2.061, 12: 5.211, 14: 8.285, 18: 20.95, 24: 84.21}
# SAE J1128 smallest copper in circular mils (delzer.com p. 70; genuinedealz.com).
SAE_CMIL = {18: 1537, 16: 2336, 14: 3702, 12: 5833, 10: 9343, 8: 14810, 6: 24538, 4: 37360}
# IEC 60228: factors that bring a measured resistance to 20 °C (uecables.com).
TO_20 = {5: 1.064, 10: 1.042, 20: 1.0, 30: 0.962, 50: 0.893, 70: 0.833, 90: 0.781, 100: 0.758}


@pytest.mark.parametrize(("gauge", "milliohm"), PRINTED_IACS.items())
def test_solid_copper_reproduces_the_printed_gauges(gauge: int, milliohm: float) -> None:
    """17.241 Ω·mm²/km over the area of ASTM B258."""
    found = conductor_ohm_per_m(Size(awg=gauge), "iacs-awg")
    assert found.ohm_per_m * 1e3 == pytest.approx(milliohm, rel=2e-3)


def test_the_iacs_constant_is_what_defined_it() -> None:
    """IEC 60028 (1913): 1 m of 1 mm² of annealed copper has 1/58 Ω; α is 0.00393 /K."""
    assert copper_file().resistivity.ohm_mm2_per_m == pytest.approx(1 / 58, rel=1e-4)
    assert copper_file().resistivity.alpha_per_k == 0.00393


@pytest.mark.parametrize(("gauge", "cmil"), SAE_CMIL.items())
def test_sae_cable_from_its_smallest_copper(gauge: int, cmil: int) -> None:
    """1 circular mil is 5.067e-4 mm²; SAE cable resists 3 to 12 % more than its gauge."""
    found = conductor_ohm_per_m(Size(awg=gauge)).ohm_per_m
    assert found == pytest.approx(0.017241 / (cmil * 5.067e-4), rel=1e-3)
    assert 1.03 < found / conductor_ohm_per_m(Size(awg=gauge), "iacs-awg").ohm_per_m < 1.125


@pytest.mark.parametrize(("celsius", "to_20"), TO_20.items())
def test_temperature_against_iec_60228(celsius: float, to_20: float) -> None:
    """The standard rounds α to 0.004: 0.5 % apart at 100 °C."""
    assert temperature_factor(celsius) * to_20 == pytest.approx(1.0, abs=6e-3)


def test_temperature_against_the_234_5_form() -> None:
    """R_T = R_20·(234.5 + T)/254.5, the other usual way of writing it (te.com)."""
    for celsius in (-40.0, 0.0, 20.0, 60.0, 85.0, 105.0, 125.0):
        wanted = (234.5 + celsius) / 254.5
        assert temperature_factor(celsius) == pytest.approx(wanted, abs=5e-4)


def test_road_vehicle_cable_is_95_percent_of_flexible_cable() -> None:
    """ISO 6722 limits lie at 0.95 of IEC 60228 class 5 (16 mm²: 0.96) wherever both have one."""
    class5 = {row.mm2: row.milliohm_per_m for row in copper_table("iec-60228-class5").rows}
    shared = [row for row in copper_table("iso-6722").rows if row.mm2 in class5]
    assert len(shared) >= 14
    for row in shared:
        assert row.milliohm_per_m / class5[row.mm2] == pytest.approx(0.95, abs=0.01), row.mm2


def test_road_vehicle_cable_against_a_sellers_table() -> None:
    """Standard UK vehicle cable (rydertowing.co.uk) agrees within 4 %."""
    for mm2, milliohm in {1.0: 18.9, 1.5: 12.5, 2.0: 9.4, 2.5: 7.5, 3.0: 6.0}.items():
        found = conductor_ohm_per_m(Size(mm2=mm2)).ohm_per_m * 1e3
        assert found == pytest.approx(milliohm, rel=0.04)


def test_class_5_as_printed() -> None:
    """IEC 60228 class 5 (bayka.de): 0.75 → 26.0, 10 → 1.91, 95 → 0.206 Ω/km."""
    for mm2, milliohm in {0.75: 26.0, 10.0: 1.91, 95.0: 0.206}.items():
        found = conductor_ohm_per_m(Size(mm2=mm2), "iec-60228-class5").ohm_per_m
        assert found == pytest.approx(milliohm / 1e3)


def test_pump_on_7_m_of_1_5_mm2() -> None:
    """8 A through 7 m of 1.5 mm² (ISO 6722: 12.7 mΩ/m): 88.9 mΩ, 0.711 V, 5.9 % of 12 V."""
    ohm = 7.0 * conductor_ohm_per_m(Size(mm2=1.5)).ohm_per_m
    assert ohm == pytest.approx(0.0889, abs=5e-5)
    assert 8.0 * ohm == pytest.approx(0.711, abs=5e-4)
    assert 8.0 * ohm / 12.0 == pytest.approx(0.059, abs=5e-4)


def test_12_awg_as_in_a_physics_book() -> None:
    """OpenStax University Physics 2, 9.3: 12 AWG, 20 m → 0.10 Ω, 5 m → 0.025 Ω.

    The book's own resistivity is 1.68e-8 Ω·m; its printed digits are reached with IACS too.
    """
    book = 0.0168 / awg_area_mm2(12)
    ours = conductor_ohm_per_m(Size(awg=12), "iacs-awg").ohm_per_m
    for ohm_per_m in (book, ours):
        assert 20 * ohm_per_m == pytest.approx(0.10, abs=5e-3)
        assert 5 * ohm_per_m == pytest.approx(0.025, abs=1.1e-3)


def test_k_of_every_insulation_as_printed() -> None:
    """IEC 60949 / 60364-5-54: 115, 100, 143, 141, 134, 132 and 143 A·√s/mm²."""
    printed = [row for row in heating_file().insulation if row.k is not None]
    assert len(printed) == 7
    for row in printed:
        assert adiabatic_k(row.start_c, row.limit_c) == pytest.approx(row.k, abs=0.6), row.id
    assert adiabatic_k(105.0, 160.0) == pytest.approx(87.6, abs=0.05)
    assert adiabatic_k(125.0, 250.0) == pytest.approx(123.5, abs=0.05)


@pytest.mark.parametrize(
    ("k", "mm2", "amperes", "seconds"),
    [(115, 1.5, 300, 0.331), (115, 0.5, 300, 0.0367), (143, 35, 1500, 11.1), (115, 1, 150, 0.588)],
)
def test_adiabatic_times(k: float, mm2: float, amperes: float, seconds: float) -> None:
    """t = (k·S/I)², worked by hand."""
    assert adiabatic_time_s(k, mm2, amperes) == pytest.approx(seconds, rel=5e-3)
    assert adiabatic_time_s(k, mm2, 0.0) == math.inf


def test_melting_currents() -> None:
    """Onderdonk by hand, and a forum's 16 AWG example with its slip put right (168.9 A)."""
    for seconds, amperes in {0.1: 897, 1.0: 284, 5.0: 127}.items():
        assert onderdonk_current_a(1.0, seconds) == pytest.approx(amperes, abs=0.6)
    sixteen = 2581 * math.pi / 4 * 0.0254**2
    assert onderdonk_current_a(sixteen, 5.0, 25.0) == pytest.approx(168.9, abs=0.1)


def test_preece_in_inches() -> None:
    """pcdandf.com: 10,244·d^1.5 with d in inches is 80·d^1.5 in mm."""
    for mm2, amperes in {0.5: 57, 1.0: 96, 1.5: 130, 2.5: 191, 6.0: 368}.items():
        inches = math.sqrt(4 * mm2 / math.pi) / 25.4
        assert preece_current_a(mm2) == pytest.approx(10244 * inches**1.5, rel=1e-3)
        assert preece_current_a(mm2) == pytest.approx(amperes, abs=0.6)


def test_steady_heat_goes_with_the_square() -> None:
    """At its ampacity a wire reaches its limit; at half of it a quarter of the rise."""
    assert steady_temperature_c(21.0, 21.0, 30.0, 105.0) == pytest.approx(105.0)
    assert steady_temperature_c(10.5, 21.0, 30.0, 105.0) == pytest.approx(30.0 + 75.0 / 4)
    assert steady_temperature_c(0.0, 21.0, 60.0, 105.0) == 60.0


@pytest.mark.parametrize(
    ("start", "base_c", "hot_c", "printed"),
    [
        (320.0, 25.0, 125.0, 443.3),  # babcockinc.com, ohms
        (13.0, 25.0, 125.0, 18.0),  # babcockinc.com, pull-in volts
        (290.0, 25.0, 125.0, 403.0),  # leachcorp note, ohms
        (16.0, 25.0, 85.0, 19.7),  # schrackrelays note, which takes 0.00385 /K
    ],
)
def test_hot_coils_as_relay_makers_print_them(
    start: float, base_c: float, hot_c: float, printed: float
) -> None:
    """(234.5 + T) scales the coil's ohms and with them its pull-in volts."""
    assert start * coil_factor(hot_c, base_c) == pytest.approx(printed, rel=6e-3)
