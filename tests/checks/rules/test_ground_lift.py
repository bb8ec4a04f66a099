"""Ground sides: 0.1 V at most, told once for everything that returns through one joint."""

from __future__ import annotations

from types import ModuleType

import pytest

from checks.finding import Finding
from checks.rules import ground_lift, no_return, return_thinner_than_feed
from model.circuit import Settings
from tests.checks.rules.looking import look as look_with
from tests.checks.rules.looking import places

# 10 A by a fixed resistance; the return has 10 mΩ of copper and ends, the ground points 1 mΩ
# each, the battery strap 2 mΩ of ends: 13 mΩ but for the length of W4.
ONE = """
    G1 battery voltage_v=12 inner_ohm=1e-7
    F1 fuse-blade rating_a=20
    S1 switch contact_a=40
    E1 heater resistance_ohm={ohm}
    X1 ground ground_ohm=0.001
    X2 ground ground_ohm=0.001
    W1 G1.+ F1.1 10 0.15
    W2 F1.2 S1.1 10 0.3
    W3 S1.2 E1.+ 10 0.3
    W4 E1.- X1.g 10 0.2
    W5 X2.g G1.- 25 0.2
"""
RUN_DOWN = """
    S2 switch-changeover terminals=C,A,B table=ON:C-A;OFF:C-B rest=ON
    R1 resistor resistance_ohm=3
    W6 F1.2 S2.C 2.5 0.3
    W7 S2.B R1.1 2.5 0.3
    W8 R1.2 X2.g 2.5 0.3
"""


def look(rule: ModuleType, text: str) -> list[Finding]:
    """Return what a rule finds with real copper."""
    return look_with(rule, text, Settings())


@pytest.mark.parametrize(("amps", "wanted"), [(13.5, []), (17.0, ["advice"])])
def test_limit(amps: float, wanted: list[str]) -> None:
    # Return: ends 2 mΩ, copper 0.2 m · 1.8 mΩ/m, two bolts 2 mΩ, strap 2 mΩ + 0.15 mΩ: 6.5 mΩ,
    # so that 15.4 A make 0.1 V.
    found = look(ground_lift, ONE.format(ohm=12 / amps))
    assert [f.severity for f in found] == wanted


def test_a_shared_thin_wire_is_told_once_and_by_name() -> None:
    shared = """
        G1 battery
        F1 fuse-blade rating_a=20
        S1 switch contact_a=40
        E1 heater current_a=5
        E2 heater current_a=5
        X1 ground
        X2 splice
        W1 G1.+ F1.1 10 0.15
        W2 F1.2 S1.1 10 0.3
        W3 S1.2 E1.+ 10 0.3
        W4 S1.2 E2.+ 10 0.3
        W5 E1.- X2.s 10 0.2
        W6 E2.- X2.s 10 0.2
        W7 X2.s X1.g 1 1
        W8 X1.g G1.- 25 0.3
    """
    found = look(ground_lift, shared)
    assert places(found) == [("advice", ("X2", "E1", "E2", "W7"))]
    # 1 mm² of 1 m: 18.5 mΩ (ISO 6722-1) and 2 mΩ of ends, 3.2 mΩ from there: 10 A and a little.
    assert found[0].values["lift"] == pytest.approx(10.0 * 0.0237, rel=0.06)


def test_a_state_that_blows_its_fuse_does_not_count() -> None:
    assert look(ground_lift, ONE.format(ohm=12 / 50.0)) == []


def test_a_run_down_resistor_makes_no_ground_side_of_the_feed() -> None:
    text = ONE.format(ohm=12 / 17.0) + RUN_DOWN
    assert places(look(ground_lift, text)) == [("advice", ("E1", "W4"))]
    thin = text.replace("W4 E1.- X1.g 10 0.2", "W4 E1.- X1.g 2.5 0.2")
    assert places(look(return_thinner_than_feed, thin)) == [("advice", ("E1", "W4"))]
    lost = "\n".join(line for line in text.splitlines() if " W4 " not in line)
    assert places(look(no_return, lost)) == [("fault", ("E1", "W3"))]
