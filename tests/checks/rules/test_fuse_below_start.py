"""Starts against the earliest edge of a fuse's band.

Standard blade fuses open no earlier than 0.75 s at 135 %, 0.25 s at 160 %, 0.15 s at 200 % and
0.04 s at 350 % of their rating; high-current ones 60 s at 135 %, 2 s at 200 % (ISO 8820-3, quoted
from makers' sheets at second hand).
"""

from __future__ import annotations

import math

import pytest

from checks.rules import fuse_below_start
from tests.checks.rules.looking import look, places, settings

ONE = """
    G1 battery inner_ohm=0.00001 voltage_v=12
    F1 fuse-blade rating_a={rating} {band}
    S1 switch contact_a=80
    M1 motor current_a=10 at_v=12 start_multiple={times} start_s={lasts}
    X1 ground
    W1 G1.+ F1.1 25 0.15
    W2 F1.2 S1.1 25 1
    W3 S1.2 M1.a 25 1
    W4 M1.b X1.g 25 0.3
    W5 X1.g G1.- 25 0.3
"""
COOL = settings(zone_c=25.0)


def one(rating: float, times: float, lasts: float, band: str = "") -> str:
    return ONE.format(rating=rating, times=times, lasts=lasts, band=band)


@pytest.mark.parametrize(
    ("rating", "times", "lasts", "found"),
    [
        (15, 3.0, 0.145, False),  # 200 %: 0.15 s
        (15, 3.0, 0.155, True),
        (20, 2.7, 0.74, False),  # 135 %: 0.75 s
        (20, 2.7, 0.76, True),
        (20, 7.0, 0.039, False),  # 350 %: 0.04 s
        (20, 7.0, 0.041, True),
        (20, 2.1, 3600, False),  # 105 %: never
    ],
)
def test_at_the_gates(rating: float, times: float, lasts: float, found: bool) -> None:
    wanted = [("fault", ("F1", "M1"))] if found else []
    assert places(look(fuse_below_start, one(rating, times, lasts), COOL)) == wanted


def test_between_gates_on_log_log_paper() -> None:
    # 250 %, worked out in plain numbers between (200 %, 0.15 s) and (350 %, 0.04 s).
    slope = math.log(0.04 / 0.15) / math.log(350 / 200)
    edge = 0.15 * (250 / 200) ** slope
    assert look(fuse_below_start, one(20, 5.0, edge * 0.98), COOL) == []
    assert look(fuse_below_start, one(20, 5.0, edge * 1.02), COOL) != []


def test_a_high_current_blade_fuse_bears_what_a_standard_one_does_not() -> None:
    assert look(fuse_below_start, one(15, 3.0, 1.0), COOL) != []
    assert look(fuse_below_start, one(15, 3.0, 1.0, "band=blade-maxi"), COOL) == []


def test_heat_takes_from_the_rating() -> None:
    # 85 °C: 0.5 % a °C above 25 °C leave 70 % of 20 A = 14 A; 25 A are then 179 %, not 125 %.
    text = one(20, 2.5, 0.3)
    assert look(fuse_below_start, text, COOL) == []
    assert places(look(fuse_below_start, text, settings(zone_c=85.0))) == [("fault", ("F1", "M1"))]


SECOND = """
    M2 motor current_a=10 at_v=12 start_multiple=3 start_s=0.1
    W8 M2.b X1.g 25 0.3
"""


def test_loads_on_one_switch_start_together_and_on_two_apart() -> None:
    # 20 A running on 30 A. Alone: 40 A (133 %) never opens it in time; both: 60 A (200 %, 0.15 s).
    text = one(30, 3.0, 0.2) + SECOND.replace("start_s=0.1", "start_s=0.2")
    together = text + "W9 S1.2 M2.a 25 1"
    assert places(look(fuse_below_start, together, COOL)) == [("fault", ("F1", "M1", "M2"))]
    apart = text + "S2 switch contact_a=80\nW9 F1.2 S2.1 25 1\nW10 S2.2 M2.a 25 1"
    assert look(fuse_below_start, apart, COOL) == []


def test_shares_of_the_time_add_up() -> None:
    # 60 A (200 %) for 0.1 s of 0.15 s, then 40 A (133 %), which counts nothing below 135 %.
    # 70 A (233 %) for 0.1 s of 0.102 s, then 50 A (167 %) for 0.2 s of 0.22 s: more than one.
    text = one(30, 3.0, 0.2) + SECOND + "W9 S1.2 M2.a 25 1"
    assert look(fuse_below_start, text, COOL) == []
    longer = text.replace("start_multiple=3.0 start_s=0.2", "start_multiple=4.0 start_s=0.3")
    (found,) = look(fuse_below_start, longer, COOL)
    assert found.values["peak"] == pytest.approx(70, rel=0.01)


def test_a_start_that_is_not_stated_accuses_nobody() -> None:
    text = one(15, 3.0, 1.0).replace("start_multiple=3.0 start_s=1.0", "")
    for finding in look(fuse_below_start, text, COOL):
        assert finding.severity == "unknown"
        assert "not stated" in finding.sentence()


def test_the_remedy_bears_the_start_and_keeps_to_the_wire() -> None:
    (found,) = look(fuse_below_start, one(15, 3.0, 0.2), COOL)
    assert found.remedy is not None
    assert "20 A" in found.remedy.text
    thin = one(15, 3.0, 0.2).replace(" 25 1", " 1 1")  # 16.5 A
    assert look(fuse_below_start, thin, COOL)[0].remedy is None


@pytest.mark.parametrize(("lasts", "found"), [(0.145, False), (0.155, True)])
def test_a_warm_3_a_fuse_keeps_the_band_of_its_rating(lasts: float, found: bool) -> None:
    """At 30 °C 97.5 % of it is left: 200 % of that is 5.85 A, which 3 A and more stand for 0.15 s.

    The 0.10 s of the 1 and 2 A ratings do not hold for it.
    """
    load = "M1 motor current_a=1.95 at_v=12 start_multiple=3"
    text = one(3, 3, lasts).replace("M1 motor current_a=10 at_v=12 start_multiple=3", load)
    assert bool(look(fuse_below_start, text, settings(zone_c=30.0))) is found
