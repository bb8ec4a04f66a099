"""Fuses against their running load: 75 % for long (fuse makers' guidance), 100 % never."""

from __future__ import annotations

import pytest

from checks.rules import fuse_below_running
from tests.checks.rules.looking import look, places, settings

ONE = """
    G1 battery voltage_v=12 inner_ohm=1e-7
    F1 {fuse}
    E1 heater resistance_ohm={ohm}
    E2 heater resistance_ohm={ohm}
    S1 switch-changeover contact_a=40
    X1 ground
    W1 G1.+ F1.1 10 0.15
    W2 F1.2 S1.C {size} 1
    W3 S1.A E1.+ {size} 1
    W4 S1.B E2.+ {size} 1
    W5 E1.- X1.g 10 0.3
    W6 E2.- X1.g 10 0.3
    W7 X1.g G1.- 10 0.3
"""


def one(amps: float, fuse: str = "fuse-blade rating_a=10", size: str = "10") -> str:
    """Return a fuse with one of two equal heaters on it at a time."""
    return ONE.format(fuse=fuse, ohm=12 / amps, size=size)


@pytest.mark.parametrize(
    ("amps", "wanted"), [(7.49, ""), (7.51, "advice"), (9.99, "advice"), (10.01, "fault")]
)
def test_limits(amps: float, wanted: str) -> None:
    found = look(fuse_below_running, one(amps), settings(zone_c=25.0))
    assert [f.severity for f in found] == ([wanted] if wanted else [])
    if found:
        assert found[0].values["current"] == pytest.approx(amps, rel=1e-4)
        assert found[0].parts[0] == "F1"


def test_warmth_takes_from_the_rating() -> None:
    # 8 A at 65 °C: 8 / (0.75 · 0.80) = 13.3 A, so that 15 A will do and 13 A will not (computed
    # from 75 % and 0.5 % per °C above 25 °C).
    hot = settings(zone_c=65.0)
    assert look(fuse_below_running, one(8, "fuse-blade rating_a=15"), hot) == []
    assert places(look(fuse_below_running, one(8, "fuse-blade rating_a=13"), hot))[0][0] == "advice"


def test_a_breaker_counts_too_and_an_assumed_rating_is_unknown() -> None:
    assert [f.severity for f in look(fuse_below_running, one(21, "breaker rating_a=20"))] == [
        "fault"
    ]
    assert places(look(fuse_below_running, one(16, "fuse-blade")))[0][0] == "unknown"


def test_the_cure_is_the_next_rating_that_the_wire_allows() -> None:
    # 8 A need 10.67 A: the next is 15 A, which 1 mm² (16.5 A) allows and 0.75 mm² (14 A) does not.
    fits = look(fuse_below_running, one(8, size="1"))[0].remedy
    assert fits is not None
    assert fits.text == "Fit 15 A as F1"
    assert look(fuse_below_running, one(8, size="0.75"))[0].remedy is None
