"""Fuses against the wires behind them: right, allowed to 150 % (33 CFR 183.455), danger.

Thin-wall vehicle cable of 0.75 mm² may carry 14 A (a cable seller's data sheet): 150 % is 21 A.
"""

from __future__ import annotations

import pytest

from checks.rules import fuse_above_wire
from tests.checks.rules.looking import look, places, settings

ONE = """
    G1 battery
    F1 fuse-blade rating_a={rating}
    E1 heater current_a=4
    X1 ground
    W1 G1.+ F1.1 4 0.15
    W2 F1.2 E1.+ {size} 1
    W3 E1.- X1.g 0.5 0.3
    W4 X1.g G1.- 10 0.3
"""


@pytest.mark.parametrize(
    ("rating", "wanted"),
    [(10, ""), (14, ""), (14.1, "advice"), (15, "advice"), (21, "advice"), (21.1, "danger")],
)
def test_limits(rating: float, wanted: str) -> None:
    found = look(fuse_above_wire, ONE.format(rating=rating, size="0.75"))
    assert places(found) == ([(wanted, ("F1", "W2"))] if wanted else [])


def test_the_allowance_is_named() -> None:
    found = look(fuse_above_wire, ONE.format(rating=15, size="0.75"))
    assert "33 CFR 183.455" in found[0].sentence()
    assert found[0].values["share"] == pytest.approx(15 / 14)
    assert found[0].values["table"] == "thin-wall"


def test_a_hot_zone_lowers_the_limit() -> None:
    # 14 A · √(45/75) = 10.84 A at 60 °C.
    text = ONE.format(rating=11, size="0.75")
    assert look(fuse_above_wire, text) == []
    assert len(look(fuse_above_wire, text, settings(zone_c=60.0))) == 1


def test_a_size_outside_the_table_is_unknown() -> None:
    for size in ("0.35", "24AWG"):
        found = look(fuse_above_wire, ONE.format(rating=5, size=size))
        assert places(found) == [("unknown", ("F1", "W2"))]


def test_a_missing_size_is_left_to_the_rule_that_lists_them() -> None:
    assert look(fuse_above_wire, ONE.format(rating=5, size="?")) == []


def test_an_assumed_rating_is_unknown() -> None:
    text = ONE.format(rating=15, size="0.5").replace("rating_a=15", "")  # 15 A assumed on 11 A
    found = look(fuse_above_wire, text)
    assert places(found) == [("unknown", ("F1", "W2"))]
    assert "not stated" in found[0].sentence()


TREE = """
    G1 battery
    F0 fuse-strip rating_a=40
    F1 fuse-blade rating_a=10
    F2 fuse-blade rating_a=10
    D1 diode
    E1 heater current_a=2
    X1 ground
    P1 splice
    P2 splice
    W1 G1.+ F0.1 16 0.15
    W2 F0.2 P1.s 10 1
    W3 P1.s F1.1 10 0.1
    W4 P1.s F2.1 10 0.1
    W5 F1.2 P2.s {one} 1
    W6 F2.2 D1.A 1 1
    W7 D1.K P2.s {diode} 1
    W8 P2.s E1.+ 1 1
    W9 E1.- X1.g 1 0.3
    W10 X1.g G1.- 10 0.3
"""


def test_each_wire_belongs_to_the_fuse_before_it() -> None:
    # F0 (40 A) ends at F1 and F2; 0.5 mm² may carry 11 A, so 10 A protect it.
    assert look(fuse_above_wire, TREE.format(one="0.5", diode="0.5")) == []


def test_a_fuse_protects_what_lies_behind_a_diode() -> None:
    text = TREE.format(one="1", diode="0.5").replace("W6 F2.2 D1.A 1", "W6 F2.2 D1.A 0.5")
    text = text.replace("F2 fuse-blade rating_a=10", "F2 fuse-blade rating_a=15")
    found = look(fuse_above_wire, text)
    assert places(found) == [("advice", ("F2", "W6", "W7"))]


def test_a_step_behind_a_wire_it_protects_is_left_to_the_rule_of_steps() -> None:
    text = TREE.format(one="1", diode="0.5").replace("F2 fuse-blade rating_a=10", "")
    assert look(fuse_above_wire, text + "F2 fuse-blade rating_a=15") == []


def test_two_fuses_in_parallel_are_not_taken_for_one_behind_the_other() -> None:
    # Behind F1 the wires meet F2 from its far side: what lies before F2 is F0's, not F1's.
    text = TREE.format(one="1", diode="1").replace("D1 diode", "D1 splice")
    text = text.replace("D1.A", "D1.s").replace("D1.K", "D1.s")
    assert look(fuse_above_wire, text.replace("W4 P1.s F2.1 10", "W4 P1.s F2.1 6")) == []


def test_the_cure_is_a_fuse_that_fits_wire_and_load() -> None:
    found = look(fuse_above_wire, ONE.format(rating=30, size="0.75"))
    assert found[0].remedy is not None
    assert found[0].remedy.text == "Fit 10 A as F1"
    heavy = ONE.format(rating=30, size="0.75").replace("current_a=4", "current_a=12")
    assert look(fuse_above_wire, heavy)[0].remedy is None
