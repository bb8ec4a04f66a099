"""The engine runs on while every load that keeps it running has at least 7 V (program's rule)."""

from __future__ import annotations

import pytest

from model.circuit import Conditions
from model.kinds import Duty
from tests.building import battery, circuit, part, resistor, steady

KEEPS = Duty(keeps_engine=True)


def engine_at(volts: float, *, follows: bool = True, keeps: bool = True) -> str:
    """Return what becomes of a running engine whose coil gets so many of 12 V.

    The coil has 10 Ω; 10·(12 − v)/v Ω before it leave it v volts (voltage divider).
    """
    duty = KEEPS if keeps else Duty(keeps_engine=False)
    coil = part("M1", "solenoid", resistance_ohm=10.0, duty=duty)
    parts = [battery(12.0), resistor("R1", 10.0 * (12.0 - volts) / volts), coil]
    made = circuit(parts, "BAT.+ R1.1, R1.2 M1.+, M1.- BAT.-",
                   conditions=Conditions(engine_follows=follows))  # fmt: skip
    state = steady(made, engine="running")
    assert state.across("M1", "load") == pytest.approx(volts, rel=1e-4)
    return state.engine


@pytest.mark.parametrize(
    ("volts", "engine"), [(6.9, "stopped"), (7.1, "running"), (11.0, "running")]
)
def test_seven_volts_keep_it_running(volts: float, engine: str) -> None:
    assert engine_at(volts) == engine


def test_it_does_not_follow_where_it_is_told_not_to() -> None:
    assert engine_at(3.0, follows=False) == "running"


def test_other_loads_do_not_matter_to_it() -> None:
    assert engine_at(3.0, keeps=False) == "running"
