"""Wire sizes against the tables printed for ASTM B258 gauges."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import AmbiguousSize, QuantityError
from model.wiresize import MAX_AWG, MIN_AWG, Size, awg_diameter_m, parse_size

# Diameter in mm and area in mm² as printed in tables of American Wire Gauge (ASTM B258).
PRINTED = {
    -3: (11.684, 107.22),
    -2: (10.405, 85.03),
    -1: (9.266, 67.43),
    0: (8.251, 53.48),
    1: (7.348, 42.41),
    4: (5.189, 21.15),
    6: (4.115, 13.30),
    8: (3.264, 8.366),
    10: (2.588, 5.261),
    12: (2.053, 3.309),
    14: (1.628, 2.081),
    16: (1.291, 1.309),
    18: (1.024, 0.823),
    20: (0.812, 0.518),
    22: (0.644, 0.326),
    24: (0.511, 0.205),
}
# Circular mils as printed in "Lessons in Electric Circuits", DC, chapter 12.
CIRCULAR_MILS = {14: 4107, 12: 6530, 10: 10380, -3: 211600}


@pytest.mark.parametrize(("gauge", "printed"), PRINTED.items())
def test_gauges_have_the_printed_copper(gauge: int, printed: tuple[float, float]) -> None:
    """The formula gives the printed diameter and area to their last digit."""
    assert awg_diameter_m(gauge) * 1e3 == pytest.approx(printed[0], abs=6e-4)
    assert Size(awg=gauge).area_mm2 == pytest.approx(printed[1], rel=2e-3)


@pytest.mark.parametrize(("gauge", "cmil"), CIRCULAR_MILS.items())
def test_gauges_have_the_printed_circular_mils(gauge: int, cmil: int) -> None:
    """A circular mil is the square of the diameter in thousandths of an inch."""
    assert (awg_diameter_m(gauge) / 25.4e-6) ** 2 == pytest.approx(cmil, rel=3e-4)


def test_the_standard_fixes_two_gauges_and_the_ratio_between() -> None:
    """ASTM B258: 4/0 is 0.46 in, 36 is 0.005 in, in 39 equal ratios of 1.1229322."""
    assert awg_diameter_m(-3) == pytest.approx(0.46 * 0.0254, rel=1e-12)
    assert awg_diameter_m(36) == pytest.approx(0.005 * 0.0254, rel=1e-12)
    assert awg_diameter_m(11) / awg_diameter_m(12) == pytest.approx(1.1229322, abs=5e-8)


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("0.75", Size(mm2=0.75)),
        (" 0,75 mm² ", Size(mm2=0.75)),
        ("0.75mm2", Size(mm2=0.75)),
        ("0.75 mm^2", Size(mm2=0.75)),
        ("0.75 sqmm", Size(mm2=0.75)),
        ("1,5 QMM", Size(mm2=1.5)),
        ("16", Size(mm2=16.0)),
        ("18 AWG", Size(awg=18)),
        ("18awg", Size(awg=18)),
        ("AWG 18", Size(awg=18)),
        ("2/0 AWG", Size(awg=-1)),
        ("AWG 2/0", Size(awg=-1)),
        ("1/0", Size(awg=0)),
        ("0 AWG", Size(awg=0)),
        ("0000 AWG", Size(awg=-3)),
        ("4 ga", Size(awg=4)),
    ],
)
def test_reads_sizes_as_people_write_them(text: str, size: Size) -> None:
    """All usual spellings."""
    assert parse_size(text) == size


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("", "is no wire size"),
        ("thick", "is no wire size"),
        ("-1 mm²", "is no wire size"),
        ("nan", "is no wire size"),
        ("0 mm²", "0.001 to 1000"),
        ("5000 mm²", "0.001 to 1000"),
        ("41 AWG", "4/0 to 40"),
        ("5/0 AWG", "5/0 AWG is no wire size here"),
        ("9" * 5000 + " AWG", "is no wire size"),
    ],
)
def test_refuses_what_is_no_size(text: str, part: str) -> None:
    """One sentence says what to enter."""
    with pytest.raises(QuantityError, match=part):
        parse_size(text)


@pytest.mark.parametrize(
    # A seller's data sheet of Australian auto cable: outside diameter and copper.
    ("text", "square", "auto"),
    [("3 mm", 3.0, 1.13), ("4mm", 4.0, 1.84), ("5 mm", 5.0, 2.90), ("6 mm", 6.0, 4.59)],
)
def test_asks_which_3_mm_is_meant(text: str, square: float, auto: float) -> None:
    """Without a square both readings are offered and neither is taken."""
    with pytest.raises(AmbiguousSize) as caught:
        parse_size(text)
    assert caught.value.square == Size(mm2=square)
    assert caught.value.auto == Size(mm2=auto)
    assert f"{square:g} mm²" in str(caught.value)
    assert f"{auto:g} mm²" in str(caught.value)


def test_a_size_is_one_designation() -> None:
    """Neither none nor both, and no impossible numbers."""
    for wrong in ({}, {"mm2": 1.0, "awg": 18}, {"mm2": math.nan}, {"mm2": math.inf}, {"awg": 99}):
        with pytest.raises(QuantityError):
            Size(**wrong)


def test_sizes_order_by_copper_and_equal_by_name() -> None:
    """20 AWG (0.518 mm²) is more than 0.5 mm²; 18 AWG (0.823 mm²) less than 1 mm²."""
    mixed = [Size(mm2=1.0), Size(awg=20), Size(mm2=0.5), Size(awg=18), Size(awg=-3)]
    assert [size.text() for size in sorted(mixed)] == [
        "0.5 mm²",
        "20 AWG",
        "18 AWG",
        "1 mm²",
        "4/0 AWG",
    ]
    assert Size(awg=20) >= Size(mm2=0.5) < Size(mm2=0.75) <= Size(mm2=0.75)
    assert Size(mm2=0.518) != Size(awg=20)
    assert Size(mm2=1.5).text(",") == "1,5 mm²"


sizes = st.one_of(
    st.floats(0.001, 1000.0).map(lambda area: Size(mm2=area)),
    st.integers(MIN_AWG, MAX_AWG).map(lambda gauge: Size(awg=gauge)),
)


@given(sizes, st.sampled_from(".,"))
def test_what_is_written_is_read_back(size: Size, mark: str) -> None:
    """text() loses nothing that matters, in either notation."""
    again = parse_size(size.text(mark))
    assert again.awg == size.awg
    assert again.area_mm2 == pytest.approx(size.area_mm2, rel=1e-11)


@given(st.integers(MIN_AWG, MAX_AWG - 1))
def test_each_gauge_is_thinner_than_the_one_before(gauge: int) -> None:
    """Higher numbers are thinner."""
    assert Size(awg=gauge + 1) < Size(awg=gauge)
