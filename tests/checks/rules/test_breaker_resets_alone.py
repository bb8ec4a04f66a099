"""Breakers that close again by themselves (type I of SAE J553), alone and with others in line."""

from __future__ import annotations

import pytest

from checks.rules import breaker_resets_alone
from tests.checks.rules.looking import look, places

TEXT = """
    G1 battery voltage_v=12.6 inner_ohm=0.01
    F0 {first}
    F1 breaker rating_a=15 breaker_type={type}
    M1 {load}
    X1 ground
    W0 G1.+ F0.{into} 6 0.1
    W1 F0.{out} F1.1 6 0.1
    W2 F1.2 M1.+ 1.5 1
    W3 M1.- X1.g 1.5 0.3
    W4 X1.g G1.- 10 0.3
"""
FUSE, JOINT, SWITCH = "fuse-blade rating_a={}", "splice", "switch contact_a=30"


def found(first: str = JOINT, kind: str = "I", load: str = "fan") -> list[str]:
    """Return the severities found."""
    into, out = ("s", "s") if first == JOINT else ("1", "2")
    text = TEXT.format(first=first, type=kind, load=load, into=into, out=out)
    findings = look(breaker_resets_alone, text)
    assert all(p == ("F1", "W2") for _, p in places(findings) if p[0] == "F1")
    return [f.severity for f in findings]


@pytest.mark.parametrize(("kind", "wanted"), [("I", ["danger"]), ("II", []), ("III", [])])
def test_only_type_one_closes_again_by_itself(kind: str, wanted: list[str]) -> None:
    assert found(kind=kind) == wanted


def test_behind_a_switch_somebody_can_end_it() -> None:
    assert found(SWITCH) == ["advice"]


def test_lamps_alone_are_advice() -> None:
    assert found(load="lamp") == ["advice"]


@pytest.mark.parametrize(("rated", "wanted"), [(30, []), (40, ["danger"])])
def test_a_fuse_that_the_wire_allows_ends_it(rated: int, wanted: list[str]) -> None:
    # 1.5 mm² may carry 21 A by the thin-wall table: 31.5 A is its 150 %.
    assert found(FUSE.format(rated)) == wanted


def test_another_one_that_closes_again_ends_nothing() -> None:
    assert found("breaker rating_a=20 breaker_type=I") == ["danger", "danger"]
    assert found("breaker rating_a=20 breaker_type=III") == []


def test_it_tells_what_a_short_draws() -> None:
    text = TEXT.format(first=JOINT, type="I", load="fan", into="s", out="s")
    finding = look(breaker_resets_alone, text)[0]
    # 12.6 V on the battery's 10 mΩ, with wires of hardly any resistance.
    assert finding.values["current"] == pytest.approx(1260.0, rel=0.01)
    assert finding.values["rating"] == 15.0
