"""Electronics on a weak feed: the answer by the quadratic formula, and the collapse."""

from __future__ import annotations

import math

import pytest

from tests.building import battery, circuit, part, steady

EMF_V = 12.6
FEEDS_OHM = [0.001, 0.05, 0.3, 0.6, 1.0, 2.0, 3.0, 20.0]


def across(watts: float, least_v: float, ohm: float) -> tuple[float, float]:
    """Return volts and amperes of a module behind a resistance."""
    module = part("A1", "module", current_a=watts / 12.0, at_v=12.0, working_v=least_v)
    state = steady(circuit([battery(EMF_V), module], "BAT.+ A1.+, A1.- BAT.-", {"W1": ohm}))
    return state.across("A1", "load"), state.current("A1", "load")


def expected_v(watts: float, least_v: float, ohm: float) -> float:
    """Return the volts: v² − E·v + P·R = 0, its greater root; below `least_v` a voltage divider.

    Where no root is at or above `least_v` the module is the resistor that takes P there.
    """
    under_root = EMF_V**2 - 4.0 * watts * ohm
    if under_root >= 0.0:
        greater = (EMF_V + math.sqrt(under_root)) / 2.0
        if greater >= least_v:
            return greater
    return EMF_V / (1.0 + ohm * watts / least_v**2)


@pytest.mark.parametrize("least_v", [0.5, 1.0, 5.0, 9.0, 11.9])
@pytest.mark.parametrize("ohm", FEEDS_OHM)
def test_it_runs_where_it_can_and_collapses_where_it_cannot(ohm: float, least_v: float) -> None:
    for watts in (1.0, 12.0, 60.0, 300.0):
        volts, amps = across(watts, least_v, ohm)
        assert volts == pytest.approx(expected_v(watts, least_v, ohm), rel=1e-4)
        assert amps == pytest.approx((EMF_V - volts) / ohm, rel=1e-3, abs=1e-6)


@pytest.mark.parametrize("ohm", FEEDS_OHM)
def test_two_on_one_feed_share_it(ohm: float) -> None:
    parts = [battery(EMF_V), *(part(f"A{i}", "module", current_a=1.0 + i) for i in (1, 2))]
    wires = "BAT.+ A1.+, A1.- BAT.-, A1.+ A2.+, A2.- BAT.-"
    state = steady(circuit(parts, wires, {"W1": ohm}))
    # At one voltage their powers add, and so do their resistances below 9 V.
    assert state.across("A1", "load") == pytest.approx(expected_v(60.0, 9.0, ohm), rel=1e-4)
