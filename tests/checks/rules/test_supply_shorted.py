"""Shorts between the two sides of the supply: which position, which fuse, and without one."""

from __future__ import annotations

import pytest

from checks.rules import supply_shorted
from tests.checks.rules.looking import look, places

REVERSING = """
    G1 battery inner_ohm=0.01 voltage_v=12
    {fuse}
    S1 switch-table terminals=1,2,3,4 table={table}
    M1 motor current_a=5
    X1 ground
    W2 F1.{out} S1.1 2.5 1
    W3 S1.2 X1.g 2.5 1
    W4 S1.3 M1.a 2.5 1
    W5 S1.4 M1.b 2.5 1
    W6 X1.g G1.- 10 0.3
"""
FUSED = "F1 fuse-blade rating_a=15\n    W1 G1.+ F1.1 2.5 0.15"
BARE = "F1 splice\n    W1 G1.+ F1.s 1.5 0.15"
RIGHT = "OFF;FORTH:1-3,2-4;BACK:1-4,2-3"
WRONG = "OFF;FORTH:1-3,2-4;BOTH:1-3,2-3"


def test_a_sound_reversing_switch_is_silent() -> None:
    assert look(supply_shorted, REVERSING.format(fuse=FUSED, out=2, table=RIGHT)) == []


def test_the_position_and_the_fuse_are_named() -> None:
    (found,) = look(supply_shorted, REVERSING.format(fuse=FUSED, out=2, table=WRONG))
    assert places([found]) == [("fault", ("S1", "F1"))]
    assert found.setting is not None and found.setting.positions["S1"] == "BOTH"
    # 12 V into 10 mΩ and next to nothing: about a thousand amperes.
    assert found.values["current"] == pytest.approx(1200, rel=0.05)


def test_without_a_fuse_the_thinnest_wire_burns() -> None:
    (found,) = look(supply_shorted, REVERSING.format(fuse=BARE, out="s", table=WRONG))
    assert places([found]) == [("danger", ("S1", "W1"))]
    assert "W1 burns" in found.sentence()


def test_two_positions_of_one_switch_that_short_alike_are_one_finding() -> None:
    table = "OFF;A:1-3,2-3;B:1-4,2-4"
    assert len(look(supply_shorted, REVERSING.format(fuse=FUSED, out=2, table=table))) == 1


def test_a_heavy_load_is_no_short() -> None:
    text = REVERSING.format(fuse=FUSED, out=2, table=RIGHT).replace("current_a=5", "current_a=200")
    assert look(supply_shorted, text) == []
