"""What every load draws: its law worked out here by formula, round and reversed."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from scipy.optimize import brentq

from model.circuit import Circuit
from model.kinds import KINDS
from model.states import Memory
from tests.building import battery, circuit, part, power, resistor, steady
from tests.model.kinds_shown import shows

R = "resistance"
PROPORTIONAL = {
    "pump": 8.0,
    "fan": 20.0,
    "motor": 5.0,
    "heater": 10.0,
    "solenoid": 3.0,
    "injector": 1.0,
    "horn": 5.0,
}
"""Default running amperes at 12 V of the loads that draw in proportion to their voltage."""


def ends(kind: str) -> tuple[str, str]:
    """Return the terminals of a load with two."""
    first, second = KINDS[kind].body.terminals
    return first.key, second.key


def fed(
    kind: str, volts: float, ohm: float = 1e-6, *, turned: bool = False, **stated: Any
) -> Circuit:
    """Return a load on a battery of some inner resistance."""
    a, b = reversed(ends(kind)) if turned else ends(kind)
    nominal = 24.0 if volts > 18.0 else 12.0
    parts = [battery(volts, ohm), part("M1", kind, **stated)]
    return circuit(parts, f"BAT.+ M1.{a}, M1.{b} BAT.-", nominal_v=nominal)


def draws(kind: str, volts: float, **stated: Any) -> float:
    """Return the amperes a load draws at a voltage."""
    return steady(fed(kind, volts, **stated)).current("M1", "load")


@shows(*PROPORTIONAL)
@pytest.mark.parametrize("kind", PROPORTIONAL)
def test_draws_in_proportion(kind: str) -> None:
    amps = PROPORTIONAL[kind]
    for volts in (12.0, 9.0, 14.4):
        assert draws(kind, volts) == pytest.approx(amps * volts / 12.0, rel=1e-4)
    assert draws(kind, 13.5, current_a=6.0, at_v=13.5) == pytest.approx(6.0, rel=1e-4)
    assert draws(kind, 12.0, resistance_ohm=1.5) == pytest.approx(8.0, rel=1e-4)


@pytest.mark.parametrize("kind", PROPORTIONAL)
def test_same_watts_at_24_v(kind: str) -> None:
    assert draws(kind, 24.0) == pytest.approx(PROPORTIONAL[kind] / 2.0, rel=1e-4)


@pytest.mark.parametrize("kind", PROPORTIONAL)
def test_reversed_draws_as_much_the_other_way(kind: str) -> None:
    state = steady(fed(kind, 12.0, turned=True))
    assert state.current("M1", "load") == pytest.approx(-PROPORTIONAL[kind], rel=1e-4)


@shows("lamp")
@pytest.mark.parametrize("volts", [13.5, 12.0, 9.0, 6.0, 3.0, 1.0, 0.1])
def test_filament_law(volts: float) -> None:
    """I = 1.75 A × (V / 12 V) ** 0.55, the published law of lamp rerating."""
    assert draws("lamp", volts) == pytest.approx(1.75 * (volts / 12.0) ** 0.55, rel=1e-4)
    assert steady(fed("lamp", volts, turned=True)).current("M1", "load") == pytest.approx(
        -draws("lamp", volts), rel=1e-9
    )


def test_filament_floor_is_a_twelfth_of_the_hot_resistance() -> None:
    """Below 12 V × 12 ** (−1 / 0.45), about 48 mV, a lamp is a resistor of hot / 12."""
    hot = 12.0 / 1.75
    knee = 12.0 * 12.0 ** (-1.0 / 0.45)
    for volts in (0.5 * knee, 0.9 * knee):
        assert draws("lamp", volts) == pytest.approx(volts / (hot / 12.0), rel=0.001)
    assert draws("lamp", 1.1 * knee) == pytest.approx(1.75 * (1.1 * knee / 12.0) ** 0.55, rel=0.001)


def test_two_lamps_in_series_share_by_their_law() -> None:
    """21 W and 5 W in series: the one current, found here by bisection."""
    small = 5.0 / 12.0

    def excess(volts: float) -> float:
        big_a: float = 1.75 * (volts / 12.0) ** 0.55
        small_a: float = small * ((12.0 - volts) / 12.0) ** 0.55
        return big_a - small_a

    big_v = brentq(excess, 1e-6, 11.999)
    parts = [battery(12.0), part("E1", "lamp"), part("E2", "lamp", current_a=small)]
    state = steady(circuit(parts, "BAT.+ E1.+, E1.- E2.+, E2.- BAT.-"))
    assert state.across("E1", "load") == pytest.approx(big_v, rel=1e-4)
    assert state.across("E2", "load") == pytest.approx(12.0 - big_v, rel=1e-4)


@shows("lamp-twin")
def test_twin_filaments_with_a_lost_ground_glow_in_series() -> None:
    """5.0 A main and 4.58 A dip: with the ground lost the main one feeds back into a 3 Ω load."""
    twin = part("E1", "lamp-twin")
    parts = [battery(12.0), twin, resistor("R1", 3.0)]
    good = steady(circuit(parts, "BAT.+ E1.56b, E1.56a R1.1, R1.2 BAT.-, E1.31 BAT.-"))
    assert good.current("E1", "dip") == pytest.approx(4.58, rel=1e-4)
    assert good.current("E1", "main") == pytest.approx(0.0, abs=1e-4)
    main = steady(circuit(parts, "BAT.+ E1.56a, E1.31 BAT.-"))
    assert main.current("E1", "main") == pytest.approx(5.0, rel=1e-4)
    lost = steady(circuit(parts, "BAT.+ E1.56b, E1.56a R1.1, R1.2 BAT.-"))
    amps = lost.current("E1", "dip")

    def spent(i: float) -> float:
        dip: float = 12.0 * (i / 4.58) ** (1 / 0.55)
        back: float = 12.0 * (i / 5.0) ** (1 / 0.55)
        return dip + back + 3.0 * i - 12.0

    assert amps == pytest.approx(brentq(spent, 1e-6, 4.0), rel=1e-4)
    assert lost.current("E1", "main") == pytest.approx(-amps, rel=1e-6)


@shows("lamp-led")
def test_led_lamp_lights_one_way_round_only() -> None:
    """0.2 A at 12 V; 70 % of it in the chips (from memory), the rest in a resistor of 18 Ω."""
    assert draws("lamp-led", 12.0) == pytest.approx(0.2, rel=1e-4)
    assert draws("lamp-led", 10.2) == pytest.approx((10.2 - 8.4) / 18.0, rel=1e-4)
    for volts in (8.3, 2.0):
        assert draws("lamp-led", volts) == pytest.approx(0.0, abs=1e-7)
    reversed_lamp = steady(fed("lamp-led", 12.0, turned=True))
    assert reversed_lamp.current("M1", "load") == pytest.approx(0.0, abs=1e-7)


@shows("module")
def test_module_draws_the_same_power() -> None:
    """12 W from 9 V up; below that it is the resistor that takes 12 W at 9 V: 6.75 Ω."""
    for volts in (9.0, 12.0, 14.4):
        state = steady(fed("module", volts))
        assert power(state, "M1", "load") == pytest.approx(12.0, rel=1e-4)
    assert draws("module", 6.0) == pytest.approx(6.0 / 6.75, rel=1e-4)


def test_module_behind_a_long_wire_takes_the_higher_of_two_answers() -> None:
    """60 W behind 0.3 Ω of 13 V: V² − 13 V + 18 = 0 has 11.42 V and 1.58 V; it runs."""
    state = steady(fed("module", 13.0, 0.3, current_a=5.0, at_v=12.0))
    volts = (13.0 + np.sqrt(13.0**2 - 4.0 * 60.0 * 0.3)) / 2.0
    assert state.across("M1", "load") == pytest.approx(volts, rel=1e-6)


def test_module_that_cannot_get_its_power_falls_to_its_resistor() -> None:
    """60 W behind 0.8 Ω of 13 V cannot be had: 81 / 60 Ω = 1.35 Ω below 9 V."""
    state = steady(fed("module", 13.0, 0.8, current_a=5.0, at_v=12.0))
    assert state.across("M1", "load") == pytest.approx(13.0 * 1.35 / 2.15, rel=1e-6)


@shows("starter")
def test_starter_pulls_its_bridge_and_the_supply_cranks() -> None:
    """Cranking emf 9.5 V behind 5 mΩ: motor 12 V / 150 A = 80 mΩ plus 0.5 mΩ of bridge."""
    starter = part("M1", "starter", coil_ohm=0.8)
    parts = [battery(12.6, 0.005), part("S1", "push-make", contact_ohm=0.0), starter]
    of = circuit(parts, "BAT.+ M1.30, BAT.+ S1.1, S1.2 M1.50, M1.31 BAT.-")
    still = steady(of)
    assert still.current("M1", "motor") == 0.0
    assert still.supply == "resting"
    assert still.volt("M1", "30") == pytest.approx(12.6)
    turning = steady(of, {"S1": "PRESS"}, still.memory)
    volts = 9.5 / 0.005 / (1 / 0.005 + 1 / 0.0805 + 1 / 0.8)
    assert turning.supply == "cranking"
    assert turning.volt("M1", "30") == pytest.approx(volts, rel=1e-4)
    assert turning.current("M1", "motor") == pytest.approx(volts / 0.0805, rel=1e-4)
    assert turning.current("M1", "solenoid") == pytest.approx(volts / 0.8, rel=1e-4)
    let_go = steady(of, {}, turning.memory)
    assert let_go.supply == "resting"
    assert let_go.current("M1", "motor") == 0.0


def test_starter_hangs_on_its_hold_but_does_not_pull_in_weakly() -> None:
    """5 V are under 7.2 V and over 3.0 V: in stays in, out stays out."""
    parts = [battery(5.0, 0.001), part("M1", "starter")]
    of = circuit(parts, "BAT.+ M1.50, M1.31 BAT.-")
    assert steady(of).pulled == frozenset()
    held = Memory(frozenset({("M1", "solenoid")}))
    assert steady(of, {}, held).pulled == held.pulled
