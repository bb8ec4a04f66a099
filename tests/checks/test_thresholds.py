"""Each side of the limits that several rules share, reckoned by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from checks.run import check
from checks.sketch import sketch
from model.circuit import Acceptance, Branch, Circuit

HEAD = """
    G1 battery voltage_v=12.6 inner_ohm=0.009
    X1 ground
    F1 fuse-blade rating_a=25
    S1 switch contact_a=40
    W1 G1.+ F1.1 4 0.15
    W2 F1.2 S1.1 4 0.2
    W3 X1.g G1.- 16 0.2
"""


def rules(circuit: Circuit) -> set[str]:
    """Return the rules that find something that counts."""
    return {f.rule for f in check(circuit).findings if not f.accepted}


@pytest.mark.parametrize(("ohm", "found"), [(7.5, False), (8.5, True)])
def test_a_load_is_on_from_60_percent_of_the_supply(ohm: float, found: bool) -> None:
    # 12 Ω behind 7.5 Ω get 61.5 %, behind 8.5 Ω 58.5 % (voltage divider).
    text = (
        HEAD
        + f"""
        R1 resistor resistance_ohm={ohm}
        E1 heater current_a=1
        W4 S1.2 R1.1 1 0.2
        W5 R1.2 E1.+ 1 0.2
        W6 E1.- X1.g 1 0.2
    """
    )
    assert ("never-on" in rules(sketch(text))) is found


@pytest.mark.parametrize(("ohm", "found"), [(3.5, True), (40.0, False)])
def test_a_pump_that_turns_weakly_after_a_crash_still_runs(ohm: float, found: bool) -> None:
    # 1.5 Ω behind 3.5 Ω get 30 %, behind 40 Ω 3.6 %: above and below 8 %.
    text = (
        HEAD
        + f"""
        S2 crash-switch
        R1 resistor resistance_ohm={ohm}
        M1 pump current_a=8
        W4 S1.2 S2.C 4 0.2
        W5 S2.NC M1.+ 4 0.2
        W6 S2.NO R1.1 1 0.2
        W7 R1.2 M1.+ 4 0.2
        W8 M1.- X1.g 4 0.2
    """
    )
    assert ("runs-after-crash" in rules(sketch(text))) is found


@pytest.mark.parametrize(("zone_c", "found"), [(30.0, False), (60.0, True)])
def test_a_wire_is_judged_in_the_hottest_zone_it_runs_through(zone_c: float, found: bool) -> None:
    # 1 mm² thin-wall carries 16.5 A at 30 °C, √((105 − 60)/(105 − 30)) of that = 12.8 A at 60 °C.
    text = (
        HEAD
        + """
        E1 heater current_a=14
        W4 S1.2 E1.+ 1 0.2
        W5 E1.- X1.g 4 0.2
    """
    )
    circuit = sketch(text)
    branches = {"B1": Branch("B1", zone_c=25.0), "B2": Branch("B2", zone_c=zone_c)}
    wire = replace(circuit.wires["W4"], branches=("B1", "B2"))
    circuit = replace(circuit, branches=branches, wires={**circuit.wires, "W4": wire})
    assert ("wire-overload" in rules(circuit)) is found


@pytest.mark.parametrize(
    ("sensor", "found"),
    [("pressure-switch", True), ("temperature-switch", True), ("level-switch", True),
     ("switch", False)],
)  # fmt: skip
def test_every_sensing_switch_wants_a_ground_without_motors(sensor: str, found: bool) -> None:
    text = (
        HEAD
        + f"""
        M1 fan current_a=6
        B1 {sensor}
        K1 relay-resistor
        X2 ground
        W4 S1.2 M1.+ 4 0.2
        W5 M1.- X2.g 4 0.2
        W6 F1.2 K1.86 4 0.2
        W7 K1.85 B1.1 4 0.2
        W8 B1.2 X2.g 4 0.2
    """
    )
    assert ("motor-and-sensor-on-stud" in rules(sketch(text))) is found


def test_a_short_beside_a_load_is_a_short() -> None:
    # 0.6 Ω beside 0.1 Ω of wire: the heater has a tenth of the power, and F1 blows.
    text = (
        HEAD
        + """
        E1 heater current_a=20
        W4 S1.2 E1.+ 4 0.2
        W5 E1.- X1.g 4 0.2
        W6 E1.+ E1.- 1 5
    """
    )
    assert {"supply-shorted"} == rules(sketch(text)) - {"voltage-drop"}


def test_a_load_far_too_large_for_its_fuse_is_no_short() -> None:
    text = (
        HEAD
        + """
        E1 heater current_a=70
        W4 S1.2 E1.+ 1 0.2
        W5 E1.- X1.g 4 0.2
    """
    )
    assert {"fuse-below-running", "wire-overload", "contact-overload"} <= rules(sketch(text))


# --- names, acceptances -------------------------------------------------------------------------


TWICE = (
    HEAD
    + """
    E1 heater current_a=4
    W4 S1.2 E1.+ 4 0.2
    W5 E1.- X1.g 4 0.2
"""
)


def test_two_wires_of_one_number_are_told() -> None:
    circuit = sketch(TWICE)
    again = replace(circuit.wires["W5"], number="W4")
    (finding,) = check(replace(circuit, wires={**circuit.wires, "W5": again})).findings
    assert (finding.rule, finding.parts, finding.wires) == ("same-name-twice", (), ("W4", "W5"))


@pytest.mark.parametrize(
    ("rule", "parts", "wires", "fits"),
    [
        ("unfused-length", ("G1",), ("W1",), True),
        ("open-end", ("G1",), ("W1",), False),
        ("unfused-length", (), ("W1",), False),
        ("unfused-length", ("G1",), (), False),
    ],
)
def test_an_acceptance_is_for_one_rule_at_one_place(
    rule: str, parts: tuple[str, ...], wires: tuple[str, ...], fits: bool
) -> None:
    circuit = sketch(TWICE.replace("4 0.15", "4 0.5"))
    accepted = {"A1": Acceptance("A1", rule, parts, wires, "in a sheath")}
    (finding,) = check(replace(circuit, accepted=accepted)).findings
    assert finding.rule == "unfused-length"
    assert finding.accepted == ("in a sheath" if fits else "")
    assert check(replace(circuit, accepted=accepted)).clean() is fits
