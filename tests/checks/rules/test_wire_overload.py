"""Wires against the ampacity tables, on both sides of each limit.

Thin-wall vehicle cable: 0.75 mm² 14 A, 1.5 mm² 21 A, 4.5 mm² 42 A (a cable seller's data sheet).
33 CFR 183.425 Table 5, 105 °C: 18 AWG 20 A, 6 AWG (13.3 mm²) 120 A.
"""

from __future__ import annotations

import math

import pytest

from checks.rules import wire_overload
from checks.run import check
from checks.sketch import sketch
from tests.checks.rules.looking import look, places, settings

ONE = """
    G1 battery voltage_v=12 inner_ohm=1e-7
    X1 ground
    E1 heater resistance_ohm={ohm}
    W1 G1.+ E1.+ {size} 1
    W2 E1.- X1.g 50 0.3
    W3 X1.g G1.- 50 0.3
"""


def one(size: str, amps: float) -> str:
    """Return a heater that draws this current through a wire of this size."""
    return ONE.format(ohm=12 / amps, size=size)


@pytest.mark.parametrize(
    ("size", "limit", "table"),
    [
        ("0.75", 14.0, "thin-wall"),
        ("1.5", 21.0, "thin-wall"),
        ("5", 42.0, "thin-wall"),  # between 4.5 and 6: the smaller one
        ("18AWG", 20.0, "33cfr-105"),
        ("17AWG", 20.0, "33cfr-105"),  # between 18 and 16
        ("16", 120.0, "33cfr-105"),  # between 6 AWG (13.3 mm²) and 4 AWG (21.2 mm²)
    ],
)
def test_a_wire_may_carry_what_its_table_says(size: str, limit: float, table: str) -> None:
    assert look(wire_overload, one(size, 0.999 * limit)) == []
    found = look(wire_overload, one(size, 1.001 * limit))
    assert places(found) == [("danger", ("E1", "W1"))]
    assert found[0].values["limit"] == limit
    assert found[0].values["table"] == table


def test_less_in_a_hot_zone() -> None:
    # 105 °C insulation at 60 °C: √(45/75) = 0.7746, so 14 A become 10.84 A.
    hot = settings(zone_c=60.0)
    limit = 14.0 * math.sqrt(45 / 75)
    assert look(wire_overload, one("0.75", limit - 0.02), hot) == []
    assert len(look(wire_overload, one("0.75", limit + 0.02), hot)) == 1


def test_wires_of_one_run_are_one_finding_and_one_cure() -> None:
    text = one("1", 20).replace("50 0.3\n    W3", "1 0.3\n    W3")
    found = look(wire_overload, text)
    assert places(found) == [("danger", ("E1", "W1", "W2"))]
    assert found[0].remedy is not None
    cured = found[0].remedy.change.apply(sketch(text))
    assert {w.size.text() for w in cured.wires.values() if w.size} == {"1.5 mm²", "50 mm²"}
    assert not [f for f in check(cured).findings if f.rule == "wire-overload"]


def test_unknown_only_where_current_flows() -> None:
    assert look(wire_overload, one("?", 5)) == []  # size-or-length-missing lists it
    assert places(look(wire_overload, one("0.35", 5))) == [("unknown", ("W1",))]
    idle = one("1", 5) + "W4 G1.+ E2.+ ? 1\nE2 heater"
    assert look(wire_overload, idle) == []


START = """
    G1 battery voltage_v=12 inner_ohm=1e-7 cranking_v=12
    X1 ground
    S2 push-make contact_a=30
    M1 starter current_a={amps} at_v=12
    W2 G1.+ M1.30 {size} 1
    W3 M1.31 X1.g 70 0.3
    W4 X1.g G1.- 70 0.3
    W5 G1.+ S2.1 2.5 0.5
    W6 S2.2 M1.50 2.5 1
"""


@pytest.mark.parametrize(("amps", "wanted"), [(329, []), (331, ["W2"])])
def test_a_starter_cable_is_judged_by_the_heat_of_a_start(amps: float, wanted: list[str]) -> None:
    # IEC 60949, 30 °C to 105 °C: k = 226·√ln(339.5/264.5) = 112.93; in 30 s 16 mm² stand
    # 112.93·16/√30 = 329.9 A, although their steady figure is 120 A.
    found = look(wire_overload, START.format(amps=amps, size=16))
    assert [w for f in found for w in f.wires] == wanted
