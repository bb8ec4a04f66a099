"""The load table against sums worked out by hand."""

from __future__ import annotations

import math

import pytest

from checks.case import Case
from checks.energy import HALF, energy_of
from checks.sketch import sketch
from model.circuit import Constants, Settings

PLAIN = Settings(constants=Constants(wire_ends_ohm=0.0, fuse_ohm_a=1e-9, ground_ohm=1e-9))
TWO = """
    G1 battery inner_ohm=0.000001 voltage_v=12 capacity_ah=40
    F1 fuse-blade rating_a=30
    S1 switch contact_a=80 contact_ohm=0.000001
    S2 switch contact_a=80 contact_ohm=0.000001
    E1 heater at_v=12 resistance_ohm=2
    M1 motor at_v=12 resistance_ohm=4 start_multiple=3 start_s=0.5
    P1 heater at_v=12 resistance_ohm=600
    X1 ground
    W1 G1.+ F1.1 120 0.001
    W2 F1.2 S1.1 120 0.001
    W3 F1.2 S2.1 120 0.001
    W4 S1.2 E1.+ 120 0.001
    W5 S2.2 M1.a 120 0.001
    W6 F1.2 P1.+ 120 0.001
    W7 E1.- X1.g 120 0.001
    W8 M1.b X1.g 120 0.001
    W9 P1.- X1.g 120 0.001
    W10 X1.g G1.- 120 0.001
"""
ALTERNATOR = """
    G2 alternator limit_a=60
    W11 G2.B+ G1.+ 120 0.001
    W12 G2.B- X1.g 120 0.001
"""


def table(text: str = TWO, **used: float) -> dict[str, tuple[float, ...]]:
    """Return running, start and rest amperes with the use and average of each load."""
    rows = energy_of(Case(sketch(text, PLAIN)), used).rows
    return {r.part: (r.runs_a, r.starts_a, r.rests_a, r.use, r.average_a) for r in rows}


def test_each_load_runs_starts_and_rests_as_reckoned_by_hand() -> None:
    """12 V: 6 A through 2 Ω, 3 A and three times that through 4 Ω, 20 mA through 600 Ω."""
    found = table(E1=0.25)
    assert found["E1"] == pytest.approx((6.0, 6.0, 0.0, 0.25, 1.5), rel=1e-4, abs=1e-6)
    assert found["M1"] == pytest.approx((3.0, 9.0, 0.0, 1.0, 3.0), rel=1e-4, abs=1e-6)
    assert found["P1"] == pytest.approx((0.02, 0.02, 0.02, 1.0, 0.02), rel=1e-4)


def test_scenarios_are_sums_and_half_the_charge_lasts_as_long_as_it_divides() -> None:
    energy = energy_of(Case(sketch(TWO, PLAIN)), {"E1": 0.25})
    amps = {s.name: s.amps for s in energy.scenarios}
    assert amps == pytest.approx({"rest": 0.02, "most": 9.02, "use": 4.52}, rel=1e-3)
    assert energy.capacity_ah == 40.0 and not energy.capacity_assumed
    assert energy.lasts_h(amps["rest"]) == pytest.approx(HALF * 40 / 0.02, rel=1e-3)  # 41.7 days
    assert energy.lasts_h(0.0) == math.inf
    most = energy.scenario("most")
    assert most is not None and most.setting is not None
    assert dict(most.setting.positions) == {"S1": "ON", "S2": "ON"}


def test_without_a_share_there_is_no_average_and_out_of_range_is_held() -> None:
    assert energy_of(Case(sketch(TWO, PLAIN))).scenario("use") is None
    assert table(E1=7.0)["E1"][3] == 1.0
    assert table(E1=-1.0)["E1"][3] == 0.0


def test_an_alternator_counts_with_half_at_idle_and_what_is_not_stated_is_assumed() -> None:
    energy = energy_of(Case(sketch(TWO + ALTERNATOR, PLAIN)))
    assert (energy.rated_a, energy.idle_a, energy.rated_assumed) == (60.0, 30.0, False)
    bare = energy_of(Case(sketch(TWO.replace(" capacity_ah=40", ""), PLAIN)))
    assert bare.capacity_assumed and bare.capacity_ah == 60.0 and bare.rated_a == 0.0


def test_loads_that_never_run_together_are_not_added() -> None:
    """One switch of two ways: the greatest together is the greater of both, 6.02 A."""
    either = TWO.replace("S1 switch contact_a=80 contact_ohm=0.000001",
                         "S1 switch-changeover contact_a=80 contact_ohm=0.000001")  # fmt: skip
    either = either.replace("W2 F1.2 S1.1", "W2 F1.2 S1.C").replace("W4 S1.2", "W4 S1.A")
    either = either.replace("W5 S2.2", "W5 S1.B").replace("W3 F1.2 S2.1", "W3 F1.2 P1.+")
    without = either.replace("    S2 switch contact_a=80 contact_ohm=0.000001\n", "")
    energy = energy_of(Case(sketch(without, PLAIN)))
    most = energy.scenario("most")
    assert most is not None and most.amps == pytest.approx(6.02, rel=1e-3)


def test_a_battery_that_is_not_full_lasts_as_long_as_what_is_above_half() -> None:
    """40 Ah at 80 %: 12 Ah above half; at 40 % nothing."""
    for charge, spare in ((0.8, 12.0), (0.4, 0.0), (1.0, 20.0)):
        text = TWO.replace("capacity_ah=40", f"capacity_ah=40 charge={charge}")
        energy = energy_of(Case(sketch(text, PLAIN)))
        assert energy.spare_ah == pytest.approx(spare)
        assert energy.lasts_h(2.0) == pytest.approx(spare / 2.0)


def test_batteries_in_series_hold_no_more_charge_and_side_by_side_they_do() -> None:
    second = "    G9 battery voltage_v=12 capacity_ah=40\n"
    series = TWO.replace("W1 G1.+ F1.1", "W1 G9.+ F1.1") + second + "    W13 G9.- G1.+ 120 0.001"
    beside = TWO + second + "    W13 G9.+ G1.+ 120 0.001\n    W14 G9.- X1.g 120 0.001"
    assert energy_of(Case(sketch(series, PLAIN))).capacity_ah == 40.0
    assert energy_of(Case(sketch(beside, PLAIN))).capacity_ah == 80.0


def test_a_share_that_a_part_states_holds_until_another_is_told() -> None:
    """A quarter of 6 A is 1.5 A; a motor of its own share beside it; a coil has a share too."""
    text = TWO.replace("resistance_ohm=2", "resistance_ohm=2 use_share=0.25")
    energy = energy_of(Case(sketch(text, PLAIN)))
    rows = {r.part: r for r in energy.rows}
    assert (rows["E1"].use, rows["E1"].use_key, rows["E1"].use_told) == (0.25, "use_share", True)
    assert (rows["M1"].use, rows["M1"].use_told) == (1.0, False)
    use = energy.scenario("use")
    assert use is not None and use.amps == pytest.approx(4.52, rel=1e-3)  # 1.5 + 3 + 0.02
    assert energy_of(Case(sketch(text, PLAIN)), {"E1": 0.5}).rows[0].average_a == pytest.approx(
        3.0, rel=1e-4
    )
