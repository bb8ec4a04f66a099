"""Voltage drops worked out by hand: the limits, the pieces, and which states count.

3 % and 10 %: ABYC E-11 and ISO 13297, small craft.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from checks.case import Case
from checks.drops import drop_of
from checks.rules import voltage_drop
from checks.rules.voltage_drop import find
from checks.sketch import sketch
from model.circuit import Circuit, Constants, Settings
from tests.checks.rules.looking import case, look, places, settings

ROUND = Constants(copper_ohm_mm2_m=0.02, wire_ends_ohm=0.0, fuse_ohm_a=1e-7, ground_ohm=1e-7)
"""1 mm² has 20 mΩ a metre."""
ONE = """
    {battery}
    E1 heater current_a=10 at_v=12 law=constant_power duty={duty}
    X1 ground
    W1 G1.+ E1.+ 1 {length}
    W2 E1.- X1.g 1 0
    W3 X1.g G1.- 50 0
"""


def now(nominal_v: float = 12.0, **conditions: object) -> Settings:
    """Return settings with round numbers for copper."""
    return settings(ROUND, nominal_v=nominal_v, **conditions)


def drawn(volts: float, ohm: float, length: float, duty: str = "not-critical") -> str:
    """Return a heater of this resistance on a wire of 1 mm²."""
    text = ONE.format(
        battery=f"G1 battery voltage_v={volts} inner_ohm=1e-7", duty=duty, length=length
    )
    return text.replace("current_a=10 at_v=12 law=constant_power", f"resistance_ohm={ohm}")


def test_a_pump_on_seven_metres() -> None:
    # 8 A, 7 m of 1.5 mm² at 12.7 mΩ/m: 88.9 mΩ, 0.711 V, 5.9 % of 12 V (trade arithmetic).
    copper = settings(Constants(copper_ohm_mm2_m=0.0127 * 1.5, wire_ends_ohm=0.0))
    text = """
        G1 battery voltage_v=12.7112 inner_ohm=1e-9
        M1 pump resistance_ohm=1.5 duty={duty}
        W1 G1.+ M1.+ 1.5 4
        W2 M1.- G1.- 1.5 3
    """
    assert look(voltage_drop, text.format(duty="not-critical"), copper) == []
    found = look(voltage_drop, text.format(duty="critical"), copper)
    assert places(found) == [("advice", ("M1", "W1"))]
    values = found[0].values
    assert values["drop"] == pytest.approx(0.7112, abs=1e-4)
    assert values["share"] == pytest.approx(0.0593, abs=1e-4)
    assert values["in W1"] == pytest.approx(8 * 4 * 0.0127, abs=1e-4)
    assert values["in W2"] == pytest.approx(8 * 3 * 0.0127, abs=1e-4)


@pytest.mark.parametrize(
    ("duty", "length", "wanted"),
    [
        ("critical", 1.79, 0),  # 12 V / (1.2 Ω + 0.0358 Ω) = 9.710 A: 0.3476 V of 0.36 V
        ("critical", 1.90, 1),  # 0.3684 V
        ("not-critical", 6.60, 0),  # 0.132 Ω: 9.009 A, 1.189 V of 1.2 V
        ("not-critical", 6.75, 1),  # 0.135 Ω: 8.989 A, 1.2135 V
    ],
)
def test_limits_by_duty(duty: str, length: float, wanted: int) -> None:
    found = look(voltage_drop, drawn(12, 1.2, length, duty), now())
    assert [f.severity for f in found] == ["advice"] * wanted


@pytest.mark.parametrize(("volts", "wanted"), [(9.05, []), (8.95, ["fault"])])
def test_below_the_voltage_it_works_from(volts: float, wanted: list[str]) -> None:
    found = look(voltage_drop, drawn(volts, 1000.0, 0.1), now())
    assert [f.severity for f in found] == wanted


def test_the_working_voltage_is_a_rating() -> None:
    text = drawn(8.95, 1000.0, 0.1).replace("duty", "working_v=8.5 duty")
    assert look(voltage_drop, text, now()) == []


def test_of_24_volts_the_same_share() -> None:
    # 10 % of 24 V are 2.4 V: 2.4 Ω behind 0.24 Ω (12 m) lose 2.18 V, behind 0.28 Ω 2.51 V.
    high = now(nominal_v=24.0)
    assert look(voltage_drop, drawn(24, 2.4, 12), high) == []
    assert len(look(voltage_drop, drawn(24, 2.4, 14), high)) == 1


SERIES = """
    G1 battery voltage_v=12 inner_ohm=1e-7
    E1 lamp law=resistor resistance_ohm=6
    E2 lamp law=resistor resistance_ohm=6
    W1 G1.+ E1.+ 1 0.1
    W2 E1.- E2.+ 1 0.1
    W3 E2.- G1.- 1 0.1
"""


def test_loads_in_series_are_not_judged() -> None:
    assert look(voltage_drop, SERIES, now()) == []


def test_a_load_behind_a_resistor_of_its_own_is_not_judged() -> None:
    text = SERIES.replace("E1 lamp law=resistor", "E1 resistor")
    text = text.replace("E1.+", "E1.1").replace("E1.-", "E1.2")
    assert look(voltage_drop, text, now()) == []


PARALLEL = """
    G1 battery voltage_v=12 inner_ohm=1e-7
    E1 heater resistance_ohm=1.2 duty=critical
    W1 G1.+ E1.+ 1 10
    W2 G1.+ E1.+ 1 5
    W3 E1.- G1.- 50 0.1
"""


def test_of_ways_side_by_side_the_greatest_current_is_followed() -> None:
    # 0.2 Ω beside 0.1 Ω are 66.7 mΩ: 12 V / 1.26667 Ω = 9.474 A, 0.6316 V in either way.
    found = look(voltage_drop, PARALLEL, now())
    assert places(found) == [("advice", ("E1", "W2"))]
    assert found[0].values["in W2"] == pytest.approx(0.6316, abs=1e-4)
    assert "in W1" not in found[0].values


def test_loads_that_lose_it_in_one_wire_are_one_finding() -> None:
    text = """
        G1 battery voltage_v=12 inner_ohm=1e-7
        E1 heater resistance_ohm=2.4 duty=critical
        E2 heater resistance_ohm=2.4 duty=critical
        P1 splice
        W1 G1.+ P1.s 1 5
        W2 P1.s E1.+ 1 0.1
        W3 P1.s E2.+ 1 0.2
        W4 E1.- G1.- 50 0.1
        W5 E2.- G1.- 50 0.1
    """
    found = look(voltage_drop, text, now())
    assert places(found) == [("advice", ("E2", "E1", "W1"))]
    assert found[0].sentence().endswith("E1 loses too much on the same way.")


START = """
    G1 battery voltage_v=12 inner_ohm=1e-7 cranking_v=8.5
    E1 heater resistance_ohm=12 duty={duty} {working}
    W1 G1.+ E1.+ 1 0.1
    W2 E1.- G1.- 1 0.1
"""


@pytest.mark.parametrize(
    ("duty", "working", "wanted"),
    [
        ("not-critical", "working_v=9", 0),
        ("keeps_engine", "", 0),
        ("keeps_engine", "working_v=9", 1),
        ("keeps_engine", "working_v=8", 0),
    ],
)
def test_while_cranking_only_what_keeps_the_engine_counts(
    duty: str, working: str, wanted: int
) -> None:
    text = START.format(duty=duty, working=working)
    found = look(voltage_drop, text, now(supply="cranking"))
    assert len(found) == wanted


def test_off_is_not_too_little() -> None:
    text = drawn(12, 1.2, 0.1).replace("W1 G1.+ E1.+ 1 0.1", "S1 switch\nW1 G1.+ S1.1 1 0.1")
    assert look(voltage_drop, text + "W4 S1.2 E1.+ 1 0.1", now()) == []


def test_a_load_that_is_off_has_no_drop() -> None:
    made = case(drawn(12, 1.2, 0.1).replace("W1 G1.+", "W1 -"), now())
    assert drop_of(made.flows(0), made.loads[0]) is None


def test_a_limit_of_the_circuit_counts_instead_on_both_sides() -> None:
    made = sketch(LOSES_LITTLE)
    drop = _share(made)
    for limit, count in ((drop + 0.001, 0), (drop - 0.001, 1)):
        constants = replace(made.settings.constants, ordinary_drop_share=limit)
        limited = replace(made, settings=replace(made.settings, constants=constants))
        found = [f for f in find(Case(limited)) if f.rule == "voltage-drop"]
        assert len(found) == count
        assert all(f.source == "limit of this circuit, supplied by the user" for f in found)


def test_the_next_size_saves_what_its_copper_has_less() -> None:
    """2.5 mm² instead of 1.5: by ISO 6722-1 7.6 instead of 12.7 mΩ/m, over 3 m at its current."""
    made = sketch(LOSES_LITTLE)
    constants = replace(made.settings.constants, ordinary_drop_share=0.001)
    (found,) = find(Case(replace(made, settings=replace(made.settings, constants=constants))))
    amps = Case(made).survey.amps
    network = Case(made).network
    most = float(abs(amps[:, network.by_key[("W2", "")]]).max())
    assert found.values["thick"] == "W2" and found.values["next"] == "2 mm²"
    assert found.values["saves"] == pytest.approx(most * 3.0 * (12.7 - 9.42) / 1e3, rel=1e-3)
    assert "W2 in 2 mm² instead of 1.5 mm² would lose" in found.sentence()


LOSES_LITTLE = """
    G1 battery
    F1 fuse-blade rating_a=20
    E1 heater current_a=10
    X1 ground
    W1 G1.+ F1.1 6 0.1
    W2 F1.2 E1.+ 1.5 3
    W3 E1.- X1.g 6 0.2
    W4 X1.g G1.- 16 0.2
"""


def _share(circuit: Circuit) -> float:
    """Return what the heater loses, of 12 V."""
    made = Case(circuit)
    drop = drop_of(made.flows(0), made.loads[0])
    return drop.volts / 12.0 if drop else 0.0
