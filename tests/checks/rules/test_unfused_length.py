"""Unfused wire: 7 in (178 mm, taken as 0.18 m) by 33 CFR 183.455, 0.3 m by the trade's rule."""

from __future__ import annotations

from dataclasses import replace

import pytest

from checks.case import Case
from checks.rules import unfused_length
from checks.sketch import sketch
from model.circuit import Branch, Cable
from tests.checks.rules.looking import look, places, settings

ONE = """
    G1 battery
    F1 fuse-blade rating_a=10
    E1 heater current_a=4
    X1 ground
    W1 G1.+ F1.1 2.5 {length}
    W2 F1.2 E1.+ 2.5 5
    W3 E1.- X1.g 2.5 5
    W4 X1.g G1.- 10 5
"""


@pytest.mark.parametrize(
    ("length", "wanted"),
    [(0.18, ""), (0.181, "advice"), (0.30, "advice"), (0.301, "danger"), (3, "danger")],
)
def test_limits(length: float, wanted: str) -> None:
    found = look(unfused_length, ONE.format(length=length))
    assert places(found) == ([(wanted, ("G1", "W1"))] if wanted else [])
    if found:
        assert found[0].values["length"] == pytest.approx(length)


def test_a_switch_ends_nothing_and_lengths_add_up() -> None:
    text = ONE.format(length=0.1).replace("F1 fuse-blade rating_a=10", "F1 switch")
    found = look(unfused_length, text)
    assert places(found) == [("danger", ("G1", "W2"))]
    assert found[0].values["length"] == pytest.approx(5.1)


def test_a_missing_length_is_unknown_unless_the_rest_is_too_long() -> None:
    text = ONE.format(length="?")
    assert places(look(unfused_length, text)) == [("unknown", ("G1", "W1"))]
    text = text.replace("F1 fuse-blade rating_a=10", "F1 switch")
    assert places(look(unfused_length, text)) == [("danger", ("G1", "W2")),
                                                  ("unknown", ("G1", "W1"))]  # fmt: skip


STUD = """
    G1 battery
    P1 stud
    F1 fuse-blade
    F2 fuse-blade
    F3 fuse-blade
    W1 G1.+ P1.s 16 {trunk}
    W2 P1.s F1.1 2.5 0.05
    W3 P1.s F2.1 2.5 1
    W4 P1.s F3.1 2.5 2
"""


def test_each_branch_of_a_stud_beside_the_battery_is_a_run() -> None:
    found = look(unfused_length, STUD.format(trunk=0.1))
    assert places(found) == [("danger", ("G1", "W3")), ("danger", ("G1", "W4"))]


def test_a_long_trunk_and_its_branches_are_one_run() -> None:
    found = look(unfused_length, STUD.format(trunk=0.5))
    assert places(found) == [("danger", ("G1", "W1", "W2", "W3", "W4"))]
    assert found[0].values["length"] == pytest.approx(2.5)


START = """
    G1 battery
    S1 master-switch
    F1 fuse-blade
    S2 key-switch
    M1 starter
    X1 ground
    W1 G1.+ S1.1 35 0.5
    W2 S1.2 M1.30 35 1.5
    W3 M1.30 F1.1 6 {branch}
    W4 M1.31 X1.g 35 0.3
    W5 X1.g G1.- 35 0.3
    W6 F1.2 S2.30 2.5 1
    W7 S2.50 M1.50 2.5 1
"""


@pytest.mark.parametrize(("branch", "wanted"), [(0.15, []), (0.4, [("danger", ("G1", "W3"))])])
def test_starter_cables_are_exempt_and_what_branches_off_is_not(
    branch: float, wanted: list[tuple[str, tuple[str, ...]]]
) -> None:
    assert places(look(unfused_length, START.format(branch=branch))) == wanted


def test_an_alternator_cable_that_the_battery_feeds() -> None:
    text = START.format(branch=0.1) + "G2 alternator\nW8 G2.B+ M1.30 16 1.2\nW9 G2.case X1.g 16 0.3"
    assert places(look(unfused_length, text)) == [("danger", ("G1", "W8"))]


ALTERNATOR = """
    G1 battery
    G2 alternator limit_a=100
    F1 fuse-strip rating_a=100
    X1 ground
    W1 G1.+ F1.1 25 0.15
    W2 F1.2 G2.B+ {size} 2
    W3 G2.case X1.g 25 0.3
    W4 X1.g G1.- 25 0.3
"""


@pytest.mark.parametrize(("size", "wanted"), [("16", 0), ("10", 1)])
def test_an_alternator_gives_no_more_than_its_limit(size: str, wanted: int) -> None:
    # 16 mm² may carry 120 A (33 CFR row 6 AWG), 10 mm² only 70 A, fused at the battery or not.
    found = look(unfused_length, ALTERNATOR.format(size=size))
    assert places(found) == [("danger", ("G2", "W2"))] * wanted


def test_the_link_of_batteries_in_series_is_exempt() -> None:
    text = """
        24 V
        G1 battery voltage_v=12.6
        G2 battery voltage_v=12.6
        F1 fuse-blade
        X1 ground
        W1 G1.+ G2.- 35 0.5
        W2 G2.+ F1.1 6 0.1
        W3 X1.g G1.- 35 0.3
    """
    assert look(unfused_length, text) == []


# --- 7/40/72 in: in a sheath 40 in (1.016 m), straight from the post 72 in (1.829 m) -------------

SHEATH = """
    G1 battery
    P1 stud
    F1 fuse-blade rating_a=10
    W1 G1.+ P1.s 16 0.1
    W2 P1.s F1.1 2.5 {length}
    sheath B1 {wires}
"""


@pytest.mark.parametrize(
    ("length", "wanted"),
    [(0.2, ""), (0.201, "advice"), (0.916, "advice"), (0.917, "danger"), (1.5, "danger")],
)
def test_in_a_sheath_from_the_source_on_forty_inches_are_practice(
    length: float, wanted: str
) -> None:
    # 0.1 m of W1 before it: 0.3 m and 1.016 m are reached at 0.2 m and 0.916 m.
    found = look(unfused_length, SHEATH.format(length=length, wires="W1 W2"))
    assert places(found) == ([(wanted, ("G1", "W2"))] if wanted else [])
    if found:
        assert "40 in (1.02 m)" in found[0].sentence()
        assert found[0].values["length"] == pytest.approx(0.1 + length)


def test_a_bare_piece_before_the_sheath_leaves_seven_inches() -> None:
    found = look(unfused_length, SHEATH.format(length=0.5, wires="W2"))
    assert places(found) == [("danger", ("G1", "W2"))]
    assert "7 in (0.18 m)" in found[0].sentence()


@pytest.mark.parametrize(
    ("length", "wanted"), [(0.3, ""), (0.31, "advice"), (1.829, "advice"), (1.83, "danger")]
)
def test_seventy_two_inches_for_one_sheathed_wire_from_the_post(length: float, wanted: str) -> None:
    found = look(unfused_length, ONE.format(length=length) + "sheath B1 W1")
    assert places(found) == ([(wanted, ("G1", "W1"))] if wanted else [])
    assert all("72 in (1.83 m)" in f.sentence() for f in found)


def test_tape_is_no_sheath_and_a_short_branch_covers_no_long_wire() -> None:
    made = sketch(ONE.format(length=0.5) + "sheath B1 W1", settings())
    for branch in (Branch("B1", cover="tape"), Branch("B1", cover="conduit", length_m=0.4)):
        bare = replace(made, branches={"B1": branch})
        assert [f.severity for f in unfused_length.find(Case(bare))] == ["danger"]
    whole = replace(made, branches={"B1": Branch("B1", cover="conduit", length_m=0.5)})
    assert [f.severity for f in unfused_length.find(Case(whole))] == ["advice"]


def test_a_core_of_a_sheathed_cable_is_sheathed() -> None:
    made = sketch(ONE.format(length=0.25), settings())
    wire = replace(made.wires["W1"], cable="C1")
    cable = replace(made, wires={**made.wires, "W1": wire}, cables={"C1": Cable("C1")})
    assert [f.severity for f in unfused_length.find(Case(cable))] == ["advice"]
    sheathed = replace(cable, cables={"C1": Cable("C1", sheath="rubber")})
    assert list(unfused_length.find(Case(sheathed))) == []
