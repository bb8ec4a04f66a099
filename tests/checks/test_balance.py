"""Who gives what at rest, while charging and while cranking, against plain sums."""

from __future__ import annotations

import math

import pytest

from checks.balance import Balance, balances_of
from checks.sketch import sketch
from model.circuit import Circuit, Constants, Settings

PLAIN = Settings(
    constants=Constants(
        copper_ohm_mm2_m=1e-9, wire_ends_ohm=0.0, fuse_ohm_a=1e-9, ground_ohm=1e-9,
        switch_contact_ohm=1e-9,
    )
)  # fmt: skip
HOUSE = """
    G1 battery voltage_v=12.6 inner_ohm=0.01 charging_v=14.4 cranking_v=9.6 capacity_ah=60
    F1 fuse-blade rating_a=30
    S1 switch contact_a=40
    S2 switch contact_a=40
    E1 heater resistance_ohm=3
    E2 heater resistance_ohm=6
    E3 heater resistance_ohm=63
    X1 ground
    X2 ground
    W1 G1.+ F1.1 6 0.1
    W2 F1.2 S1.1 6 1
    W3 F1.2 S2.1 6 1
    W4 S1.2 E1.+ 6 1
    W5 S2.2 E2.+ 6 1
    W6 F1.2 E3.+ 1 1
    W7 E1.- X1.g 6 1
    W8 E2.- X1.g 6 1
    W9 E3.- X1.g 1 1
    W10 X2.g G1.- 16 0.3
"""
ALTERNATOR = """
    G2 alternator limit_a={limit} voltage_v=14.2
    W11 G2.B+ G1.+ 25 1
    W12 G2.case X2.g 25 0.5
"""
STARTER = """
    S3 push-make
    M9 starter
    W20 G1.+ M9.30 35 1
    W21 M9.31 X2.g 35 0.3
    W22 F1.2 S3.1 2.5 1
    W23 S3.2 M9.50 2.5 1
"""


def found(circuit: Circuit) -> dict[tuple[str, str], Balance]:
    return {(b.supply, b.case): b for b in balances_of(circuit)}


def test_without_an_alternator() -> None:
    # 3 Ω, 6 Ω and 63 Ω side by side: 1.9385 Ω; the battery's 10 mΩ before them.
    one = found(sketch(HOUSE, PLAIN))
    ohm = 1 / (1 / 3 + 1 / 6 + 1 / 63)
    rest = one["resting", "rest"]
    assert rest.loads_a == pytest.approx(12.6 / 63.01, rel=1e-4)
    assert rest.lasts_h == pytest.approx(30 / (12.6 / 63.01), rel=1e-4)  # half of 60 Ah
    for name, volts in (("resting", 12.6), ("charging", 14.4), ("cranking", 9.6)):
        most = one[name, "most"]
        assert most.loads_a == pytest.approx(volts / (ohm + 0.01), rel=1e-3)
        assert most.battery_a == pytest.approx(most.loads_a, rel=1e-3)
        assert most.battery_v == pytest.approx(volts - 0.01 * most.battery_a, rel=1e-3)
        assert most.starter_a == 0.0 and most.idle_left_a is None
    assert one["resting", "most"].lasts_h == pytest.approx(30 / one["resting", "most"].battery_a)
    assert math.isinf(one["charging", "most"].lasts_h)  # what charges it is not drawn
    assert math.isinf(one["cranking", "most"].lasts_h)


@pytest.mark.parametrize(("limit", "short"), [(60, False), (12, True)])
def test_an_alternator_has_something_left_or_not(limit: float, short: bool) -> None:
    one = found(sketch(HOUSE + ALTERNATOR.format(limit=limit), PLAIN))
    rest, charging = one["resting", "rest"], one["charging", "most"]
    assert rest.alternator_a == pytest.approx(0.0, abs=1e-6)
    gives = charging.alternator_a + charging.battery_a
    assert gives == pytest.approx(charging.loads_a, rel=1e-3)  # what comes is what goes
    assert charging.average_a == pytest.approx(charging.loads_a)  # no share of time is told
    assert charging.rated_left_a == pytest.approx(limit - charging.average_a)
    assert charging.idle_left_a == pytest.approx(limit / 2 - charging.average_a)
    assert charging.idle_left_a is not None and (charging.idle_left_a < 0) is short
    wanted = 30 / -charging.idle_left_a if short else math.inf
    assert charging.lasts_h == pytest.approx(wanted)
    assert one["cranking", "most"].alternator_a == pytest.approx(0.0, abs=1e-6)


def test_shares_of_time_lower_the_average_only() -> None:
    circuit = sketch(HOUSE + ALTERNATOR.format(limit=60), PLAIN)
    plain = found(circuit)["charging", "most"]
    used = {(b.supply, b.case): b for b in balances_of(circuit, {"E1": 0.5})}["charging", "most"]
    assert used.loads_a == pytest.approx(plain.loads_a)
    # E1 takes 6 of the 6 + 3 + 0.29 parts: half of that is gone.
    e1 = plain.loads_a * (1 / 3) / (1 / 3 + 1 / 6 + 1 / 63)
    assert used.average_a == pytest.approx(plain.loads_a - e1 / 2, rel=1e-3)


def test_a_starter_draws_beside_the_loads() -> None:
    one = found(sketch(HOUSE + STARTER, PLAIN))["cranking", "most"]
    assert one.starter_a > 50.0
    assert one.battery_a == pytest.approx(one.starter_a + one.loads_a, rel=1e-3)
    assert one.lasts_h == pytest.approx(30 / one.battery_a)
    assert one.battery_v < 9.6


def test_without_a_battery_there_is_nothing_to_tell() -> None:
    assert balances_of(sketch("E1 heater\nS1 switch\nW1 S1.2 E1.+ 1 1")) == ()
