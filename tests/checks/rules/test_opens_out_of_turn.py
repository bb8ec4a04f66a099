"""Fuses in series, by the published bands (ISO 8820, at second hand)."""

from __future__ import annotations

import pytest

from checks.rules import opens_out_of_turn
from tests.checks.rules.looking import look, places

TEXT = """
    G1 battery voltage_v=12.6 inner_ohm=0.01
    F0 {first}
    F1 {second}
    E1 heater current_a=2
    X1 ground
    R1 resistor resistance_ohm={ohm}
    W1 G1.+ F0.1 6 0.1
    W2 F0.2 R1.1 6 0.1
    W3 R1.2 F1.1 6 0.1
    W4 F1.2 E1.+ 6 1
    W5 E1.- X1.g 6 0.3
    W6 X1.g G1.- 16 0.3
"""
DIRECT = TEXT.replace("R1 resistor resistance_ohm={ohm}\n", "").replace("F0.2 R1.1", "F0.2 F1.1")
DIRECT = DIRECT.replace("    W3 R1.2 F1.1 6 0.1\n", "")


def found(first: str, second: str) -> list[tuple[str, tuple[str, ...]]]:
    """Return what is found for two fuses in series right at a battery."""
    return places(look(opens_out_of_turn, DIRECT.format(first=first, second=second)))


@pytest.mark.parametrize(("main", "wanted"), [(20, 1), (25, 1), (30, 0), (40, 0)])
def test_blade_before_blade_of_10_amperes(main: int, wanted: int) -> None:
    # At 350 % of 10 A it may take 0.5 s; 35 A is 117 % of 30 A, 140 % of 25 A (0.59 s): at 40 A,
    # 160 % of 25 A, 0.25 s against 0.34 s.
    assert len(found(f"fuse-blade rating_a={main}", "fuse-blade rating_a=10")) == wanted


def test_a_slow_form_waits_sooner() -> None:
    assert found("fuse-strip rating_a=60", "fuse-blade rating_a=40") == []
    assert len(found("fuse-blade rating_a=40", "fuse-blade rating_a=30")) == 1


def test_the_numbers_are_those_of_the_band() -> None:
    finding = look(
        opens_out_of_turn,
        DIRECT.format(first="fuse-blade rating_a=10", second="fuse-blade rating_a=10"),
    )[0]
    # The widest gap is at 135 %: 600 s against 0.75 s.
    assert finding.values["at"] == pytest.approx(13.5)
    assert finding.values["slow"] == pytest.approx(600.0, rel=1e-3)
    assert finding.values["fast"] == pytest.approx(0.75, rel=1e-3)
    # A short behind both: 12.6 V on 10 mΩ and next to nothing else.
    assert finding.values["high"] == pytest.approx(1260.0, rel=0.01)
    assert finding.values["needs"] == 30.0


@pytest.mark.parametrize("form", ["fuse-glass", "breaker"])
def test_what_has_no_published_band_is_not_judged(form: str) -> None:
    assert found(f"{form} rating_a=10", "fuse-blade rating_a=10") == []
    assert found("fuse-blade rating_a=10", f"{form} rating_a=10") == []


def test_a_rating_that_is_not_stated_makes_it_unknown() -> None:
    assert found("fuse-blade rating_a=15", "fuse-blade") == [("unknown", ("F0", "F1"))]


def test_fuses_side_by_side_are_not_in_series() -> None:
    text = DIRECT.format(first="fuse-blade rating_a=10", second="fuse-blade rating_a=10")
    text = text.replace("F0.2 F1.1", "F0.1 F1.1") + "\nW9 F0.2 F1.2 6 0.1"
    assert look(opens_out_of_turn, text) == []
