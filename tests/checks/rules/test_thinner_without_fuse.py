"""Steps to thinner wire: 150 % and 7 in bare, 40 in sheathed (33 CFR 183.455, ABYC E-11).

Thin-wall vehicle cable (a cable seller's data sheet): 0.75 mm² may carry 14 A, 1 mm² 16.5 A,
2.5 mm² 29 A, 6 mm² 50 A. A fuse of 21 A is 150 % of 14 A.
"""

from __future__ import annotations

import pytest

from checks.rules import fuse_above_wire, thinner_without_fuse
from tests.checks.rules.looking import look, places, settings

TAP = """
    G1 battery
    F1 fuse-strip rating_a={rating}
    P1 stud
    F2 fuse-blade rating_a={own}
    E1 heater current_a=20
    E2 heater current_a=2
    X1 ground
    W1 G1.+ F1.1 16 0.15
    W2 F1.2 P1.s 16 1
    W3 P1.s E1.+ 16 1
    W4 P1.s F2.1 {size} {length}
    W5 F2.2 E2.+ {size} 1
    W6 E1.- X1.g 16 0.3
    W7 E2.- X1.g 1 0.3
    W8 X1.g G1.- 16 0.3
"""


def tap(size: str = "0.75", length: object = 1, rating: float = 30, own: float = 5) -> str:
    return TAP.format(size=size, length=length, rating=rating, own=own)


@pytest.mark.parametrize(
    ("rating", "wanted"), [(14, ""), (14.1, "advice"), (21, "advice"), (21.1, "danger")]
)
def test_the_rating_against_the_thinner_wire(rating: float, wanted: str) -> None:
    found = look(thinner_without_fuse, tap(rating=rating))
    assert places(found) == ([(wanted, ("F1", "W4"))] if wanted else [])
    if found:
        assert found[0].values["share"] == pytest.approx(rating / 14)
        assert found[0].path[:2] == (("parts", "F1"), ("wires", "W2"))
    assert look(fuse_above_wire, tap(rating=rating)) == []


@pytest.mark.parametrize(("length", "wanted"), [(0.18, "advice"), (0.181, "danger")])
def test_seven_inches_to_a_fuse_of_its_own(length: float, wanted: str) -> None:
    found = look(thinner_without_fuse, tap(length=length))
    assert places(found) == [(wanted, ("F1", "W4"))]
    assert found[0].values["length"] == pytest.approx(length)
    assert ("7 in (0.18 m)" in found[0].sentence()) is (wanted == "advice")


@pytest.mark.parametrize(("length", "wanted"), [(1.016, "advice"), (1.017, "danger")])
def test_forty_inches_in_a_sheath(length: float, wanted: str) -> None:
    found = look(thinner_without_fuse, tap(length=length) + "sheath B1 W4")
    assert places(found) == [(wanted, ("F1", "W4"))]
    assert ("40 in (1.02 m)" in found[0].sentence()) is (wanted == "advice")


@pytest.mark.parametrize(("own", "wanted"), [(21, "advice"), (21.1, "danger")])
def test_a_fuse_of_its_own_that_lets_too_much_through_is_none(own: float, wanted: str) -> None:
    text = tap(length=0.1, own=own)
    assert places(look(thinner_without_fuse, text))[-1] == (wanted, ("F1", "W4"))


def test_two_fuses_at_the_end_of_a_tap_count_together() -> None:
    # 2 × 11 A is above 21 A; 2 × 10 A is not.
    more = (
        "F3 fuse-blade rating_a={own}\nP2 splice\nW9 P2.s F3.1 0.75 0.05\nW10 P2.s F2.1 0.75 0.05"
    )
    text = TAP.replace("P1.s F2.1 {size} {length}", "P1.s P2.s {size} {length}") + more
    for own, wanted in ((10, "advice"), (11, "danger")):
        found = look(thinner_without_fuse, text.format(size="0.75", length=0.1, rating=30, own=own))
        assert found[0].severity == wanted
        assert set(found[0].wires) >= {"W4"}


def test_the_metres_count_from_the_step_on() -> None:
    text = tap(length=0.1).replace("P1.s F2.1 0.75 0.1", "P1.s P2.s 0.75 0.1")
    for length, wanted in ((0.08, "advice"), (0.09, "danger")):
        found = look(thinner_without_fuse, text + f"P2 splice\nW9 P2.s F2.1 0.75 {length}")
        assert {f.severity for f in found} == {wanted}
        assert {w for f in found for w in f.wires} == {"W4", "W9"}


def test_a_tap_that_a_load_hangs_on_has_no_fuse_of_its_own() -> None:
    text = tap(length=0.1) + "E3 lamp\nW9 F2.1 E3.+ 0.75 0.05\nW10 E3.- X1.g 1 0.3"
    found = look(thinner_without_fuse, text)
    assert places(found) == [("danger", ("F1", "W4", "W9"))]


def test_a_tap_of_unknown_length_is_not_taken_for_a_short_one() -> None:
    assert places(look(thinner_without_fuse, tap(length="?"))) == [("danger", ("F1", "W4"))]


def test_a_fuse_too_large_for_its_first_wire_is_no_step() -> None:
    text = tap(rating=30).replace("W2 F1.2 P1.s 16", "W2 F1.2 P1.s 0.75")
    assert look(thinner_without_fuse, text) == []
    assert places(look(fuse_above_wire, text)) == [("danger", ("F1", "W2", "W4"))]


def test_a_thick_wire_within_the_allowance_guards_a_step() -> None:
    # 40 A on 2.5 mm² (29 A) are 138 %: that wire has the wrong fuse, the branch is a step.
    text = tap(rating=40).replace(" 16 1", " 2.5 1")
    assert places(look(thinner_without_fuse, text)) == [("danger", ("F1", "W4"))]
    assert places(look(fuse_above_wire, text)) == [("advice", ("F1", "W2", "W3"))]


def test_thicker_wire_after_thin_ends_no_step() -> None:
    text = tap(size="1", rating=30).replace("W5 F2.2", "W5 P1.s")
    found = look(thinner_without_fuse, text + "P2 splice\nW9 E2.+ P2.s 6 1\nW10 P2.s E1.+ 1 1")
    assert {w for f in found for w in f.wires} == {"W4", "W5", "W10"}


def test_same_size_in_a_hotter_zone_is_no_step() -> None:
    text = "zone bay 85\n" + tap(size="16", rating=110).replace(
        "F2 fuse-blade", "F2 fuse-blade zone=bay"
    )
    # 16 mm² may carry 120 A at 30 °C (33 CFR row 6 AWG), 120·√(20/75) = 62 A at 85 °C.
    assert look(thinner_without_fuse, text) == []
    assert [f.wires for f in look(fuse_above_wire, text)] == [("W4",)]


def test_a_rating_that_is_not_stated_is_unknown() -> None:
    text = tap().replace("F1 fuse-strip rating_a=30", "F1 fuse-strip")
    (found,) = look(thinner_without_fuse, text)
    assert found.severity == "unknown" and "not stated" in found.sentence()


def test_the_cure_carries_the_load_or_there_is_none() -> None:
    found = look(thinner_without_fuse, tap(rating=30, size="0.75"))
    assert found[0].remedy is None  # 22 A run through F1
    light = tap(rating=30).replace("current_a=20", "current_a=3").replace("strip", "blade")
    cure = look(thinner_without_fuse, light, settings())[0].remedy
    assert cure is not None and cure.text == "Fit 10 A as F1"
