"""The charging supply: the alternator's where there is one, else the battery's own figure."""

from __future__ import annotations

import pytest

from tests.building import battery, circuit, part, resistor, steady

LOAD = resistor("R1", 2.0)


def test_without_an_alternator_the_battery_has_its_charging_voltage() -> None:
    made = circuit([battery(12.6), LOAD], "BAT.+ R1.1, R1.2 BAT.-")
    # 14.2 V is the default of a battery while it is charged.
    assert steady(made, supply="charging").across("R1", "resistance") == pytest.approx(14.2)


def test_an_alternator_gives_what_it_charges_with() -> None:
    alternator = part("G2", "alternator", voltage_v=14.4, inner_ohm=0.02)
    parts = [battery(12.6, 0.05), alternator, LOAD]
    made = circuit(parts, "BAT.+ R1.1, R1.2 BAT.-, G2.B+ BAT.+, G2.case BAT.-")
    # Two sources and a load side by side (Millman): Σ E/R over Σ 1/R.
    volts = (12.6 / 0.05 + 14.4 / 0.02) / (1 / 0.05 + 1 / 0.02 + 1 / 2.0)
    state = steady(made, supply="charging")
    assert state.across("R1", "resistance") == pytest.approx(volts, rel=1e-6)
    assert state.current("BAT", "cells") == pytest.approx((volts - 12.6) / 0.05, rel=1e-5)


def test_at_rest_the_alternator_gives_nothing() -> None:
    parts = [battery(12.6, 0.05), part("G2", "alternator"), LOAD]
    made = circuit(parts, "BAT.+ R1.1, R1.2 BAT.-, G2.B+ BAT.+, G2.case BAT.-")
    assert steady(made).across("R1", "resistance") == pytest.approx(12.6 * 2.0 / 2.05, rel=1e-6)
