"""Breaking capacity against the dead short right behind a fuse.

1000 A for blade fuses and 2000 A for strip fuses: scopes of ISO 8820-3:2015 and ISO 8820-5.
"""

from __future__ import annotations

import pytest

from checks.rules import breaking_capacity
from model.circuit import Constants, Settings
from tests.checks.rules.looking import look, places

PLAIN = Settings(constants=Constants(wire_ends_ohm=0.0, fuse_ohm_a=1e-6, ground_ohm=1e-7))
ONE = """
    G1 battery voltage_v=12.6 {inner}
    F1 {kind} rating_a=30
    E1 heater current_a=10
    X1 ground
    X2 ground
    W1 G1.+ F1.1 120 0.001
    W2 F1.2 E1.+ 6 1
    W3 E1.- X1.g 6 0.3
    W4 X2.g G1.- 120 0.001
"""


def one(amps: float, kind: str) -> str:
    """A battery that drives so many amperes into next to nothing."""
    return ONE.format(kind=kind, inner=f"inner_ohm={12.6 / amps:.6f}")


@pytest.mark.parametrize(
    ("kind", "amps", "found"),
    [
        ("fuse-blade", 980, False),
        ("fuse-blade", 1020, True),
        ("fuse-strip", 1020, False),
        ("fuse-strip", 1960, False),
        ("fuse-strip", 2060, True),
        ("fuse-glass", 190, False),
        ("fuse-glass", 215, True),
    ],
)
def test_limits(kind: str, amps: float, found: bool) -> None:
    wanted = [("danger", ("F1", "G1"))] if found else []
    assert places(look(breaking_capacity, one(amps, kind), PLAIN)) == wanted


def test_the_numbers_are_those_of_the_loop() -> None:
    (found,) = look(breaking_capacity, one(1200, "fuse-blade"), PLAIN)
    assert found.values["current"] == pytest.approx(1200, rel=0.01)
    assert found.values["breaks"] == 1000
    assert "ISO 8820-3" in found.source


def test_a_battery_of_which_nothing_is_stated_is_not_accused() -> None:
    text = ONE.format(kind="fuse-glass", inner="")
    (found,) = look(breaking_capacity, text, PLAIN)
    assert found.severity == "unknown"
    assert "assumed" in found.sentence()
