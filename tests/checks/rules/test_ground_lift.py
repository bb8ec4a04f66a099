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


# --- every ground point with everything on, and each load's part of it ----------------------------

# Heaters by fixed resistance on switches of their own; the return of both is 1 mm² of 1 m at
# 18.5 mΩ and 2 mΩ of ends, two ground points of 1 mΩ, and the strap of 0.3 m of 25 mm²
# (0.743 mΩ/m, IEC 60228 class 5 or near it) with 2 mΩ of ends: 20.5 mΩ of the joint, 4.2 mΩ
# shared with a third heater that stands on a ground point of its own.
SEVERAL = """
    G1 battery voltage_v=12 inner_ohm=1e-7
    F1 fuse-strip rating_a=60
    S1 switch contact_a=40
    S2 switch contact_a=40
    S3 switch contact_a=40
    E1 heater resistance_ohm=4
    E2 heater resistance_ohm=6
    E3 heater resistance_ohm=1.2
    P1 splice
    X1 ground ground_ohm=0.001
    X2 ground ground_ohm=0.001
    X3 ground ground_ohm=0.001
    W1 G1.+ F1.1 25 0.15
    W2 F1.2 S1.1 10 0.3
    W3 F1.2 S2.1 10 0.3
    W4 F1.2 S3.1 10 0.3
    W5 S1.2 E1.+ 10 0.3
    W6 S2.2 E2.+ 10 0.3
    W7 S3.2 E3.+ 10 0.3
    W8 E1.- P1.s 10 0.2
    W9 E2.- P1.s 10 0.2
    W10 P1.s X1.g 1 1
    W11 E3.- X2.g 10 0.2
    W12 X3.g G1.- 25 0.3
"""


def test_everything_is_on_and_each_load_has_its_part_of_the_lift() -> None:
    (found,) = look(ground_lift, SEVERAL)
    assert found.setting is not None and set(found.setting.positions) == {"S1", "S2", "S3"}
    v = found.values
    amps = {v[f"load{n}"]: float(v[f"load{n}_a"]) for n in (1, 2, 3)}
    volts = {v[f"load{n}"]: float(v[f"load{n}_v"]) for n in (1, 2, 3)}
    assert amps == pytest.approx({"E1": 3.0, "E2": 2.0, "E3": 10.0}, rel=0.03)
    # E1: 3 A through 20.5 + 4.2 mΩ; E2: 2 A through the same; E3: 10 A through the last 3.2 mΩ.
    assert volts["E1"] == pytest.approx(3 * 0.0247, rel=0.05)
    assert volts["E2"] == pytest.approx(2 * 0.0247, rel=0.05)
    assert volts["E3"] == pytest.approx(10 * 0.0032, rel=0.10)
    assert sum(volts.values()) == pytest.approx(float(v["lift"]), rel=1e-9)
    said = found.sentence()
    assert all(name in said for name in ("E1", "E2", "E3")) and "of it" in said


def test_a_ground_point_names_what_returns_through_it() -> None:
    # The strap of 2.5 mm²: 0.3 m at 7.6 mΩ/m and 2 mΩ of ends, 1 mΩ of the bolt: 5.3 mΩ.
    text = SEVERAL.replace("W12 X3.g G1.- 25 0.3", "W12 X3.g G1.- 2.5 3")
    found = [f for f in look(ground_lift, text) if f.parts == ("X3",)]
    assert len(found) == 1
    v = found[0].values
    # 3 m of 2.5 mm² are 22.8 mΩ, ends 2 mΩ: 15 A (14.6 A with what is lost) make 0.36 V.
    assert v["volts"] == pytest.approx(14.6 * 0.0248, rel=0.03)
    parts = {v[f"load{n}"]: float(v[f"load{n}_v"]) for n in (1, 2, 3)}
    assert parts["E3"] / parts["E2"] == pytest.approx(5.0, rel=0.03)  # as their currents
    assert sum(parts.values()) == pytest.approx(float(v["volts"]), rel=1e-9)


def test_many_loads_are_told_together() -> None:
    lines = ["G1 battery", "F1 fuse-strip rating_a=60", "X1 ground", "X2 ground", "P1 stud",
             "W1 G1.+ F1.1 25 0.15", "W2 F1.2 P1.s 25 0.2", "W3 X2.g G1.- 4 1"]  # fmt: skip
    for n in range(8):
        lines += [f"E{n} heater current_a=4", f"S{n} switch", f"W{n}a P1.s S{n}.1 4 0.2",
                  f"W{n}b S{n}.2 E{n}.+ 4 0.2", f"W{n}c E{n}.- X1.g 4 0.2"]  # fmt: skip
    found = [f for f in look(ground_lift, "\n".join(lines)) if f.parts[0] in ("X1", "X2")]
    assert found and all("3 more" in f.sentence() for f in found)
    assert all(f.values["rest"] == 3.0 for f in found)
