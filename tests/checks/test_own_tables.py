"""Rules under tables of the user's: what they find, and that they name where it is from."""

from __future__ import annotations

from dataclasses import replace

import pytest

from checks.case import Case
from checks.compare import compare
from checks.heat import heat_of
from checks.run import check
from checks.sketch import sketch
from checks.used import rests_on, tables_used
from model.circuit import Chosen, Circuit
from model.errors import UnknownNameError
from model.file.csv_table import read_table, with_table
from tests.app.commands.test_beside import HEATER, TABLE

# A fuse slower than any blade: 60 s at twice its rating, 5 s at six times.
SLOW = """table,slow
source,maker's sheet S
percent,min_s,max_s
110,1000,
200,10,60
350,3,20
600,1,5
"""
TYPES = "table,kit\nsource,maker's list K\ntype,contact_a,coil_ohm\nsmall,5,90\n"
BRANCH = """
G1 battery inner_ohm=0.009
F1 fuse-blade rating_a=30 {band}
S1 switch contact_a=60
E1 heater current_a=3
X1 ground
W1 G1.+ F1.1 4 0.1
W2 F1.2 S1.1 4 0.1
W3 S1.2 E1.+ 0.5 1
W4 E1.- X1.g 4 0.1
W5 X1.g G1.- 10 0.1
"""


def rules(circuit: Circuit) -> dict[str, list[str]]:
    """Return the sources of the findings of every rule."""
    found: dict[str, list[str]] = {}
    for finding in check(circuit).findings:
        found.setdefault(finding.rule, []).append(finding.source)
    return found


def test_a_slow_band_lets_a_wire_burn_that_a_blade_fuse_saves() -> None:
    """A short through 1 m of 0.5 mm² draws some 200 A: a 30 A blade opens within 0.1 s, and the
    wire stands (87.6·0.5/200)² ≈ 0.05…0.1 s; by the slow band it takes seconds."""
    plain = sketch(BRANCH.format(band=""))
    slow = with_table(sketch(BRANCH.format(band="band=slow")), read_table(SLOW))
    severity = {f.rule: f.severity for f in check(slow).findings}
    assert severity["short-outlasts-wire"] == "danger"
    assert any("maker's sheet S (supplied by the user)" in s
               for s in rules(slow)["short-outlasts-wire"])  # fmt: skip
    assert not any("supplied by the user" in s for found in rules(plain).values() for s in found)
    assert [t.id for t in tables_used(slow) if t.kind == "fuse-band"] == ["slow"]


def test_a_type_of_relay_or_switch_is_judged_and_named() -> None:
    """A heater of 20 A on contacts of a type rated 5 A."""
    text = BRANCH.format(band="").replace("current_a=3", "current_a=20").replace("0.5 1", "4 1")
    circuit = with_table(sketch(text.replace("S1 switch contact_a=60", "S1 switch")),
                         read_table(TYPES.replace(",coil_ohm", "").replace(",90", "")))  # fmt: skip
    typed = replace(circuit, parts={**circuit.parts, "S1": replace(circuit.parts["S1"],
                                                                   type="small")})  # fmt: skip
    assert "contact-overload" in rules(typed)
    (source,) = rules(typed)["contact-overload"]
    assert "type small: maker's list K (supplied by the user)" in source
    assert any("types kit (supplied by the user)" in s for s in rests_on(typed))


def test_compare_finds_what_appears_and_what_goes() -> None:
    """1.5 mm² with some 17 A: 21 A by the data sheet, 16 A by the user's table."""
    circuit = with_table(sketch(HEATER), read_table(TABLE))
    found = compare(circuit, "acme-105")
    pair = next(p for p in found.wires if p.wire == "W2")
    assert pair.first.held is not None and pair.second.held is not None
    assert (pair.first.held.value_a, pair.second.held.value_a) == (21.0, 16.0)
    assert pair.first.amps == pair.second.amps > 16.0
    assert {f.rule for f in found.new} >= {"wire-overload"}
    back = compare(replace(circuit, settings=replace(
        circuit.settings, chosen=Chosen(ampacity="acme-105"))), "vehicle")  # fmt: skip
    assert {f.rule for f in back.gone} == {f.rule for f in found.new}
    assert compare(circuit, "copper:iso-6722").kind == "copper"
    with pytest.raises(UnknownNameError, match="acme-70"):
        compare(circuit, "acme")


def test_copper_reaches_the_limit_at_the_limit() -> None:
    """At its ampacity a wire of any table comes to what its insulation stands; at half of it to a
    quarter of the rise: 30 + 75/4 = 48.75 °C."""
    for amps, wanted in ((21.0, 105.0), (10.5, 48.75)):
        circuit = sketch(HEATER.replace("current_a=17.5", f"current_a={amps}"))
        heat = heat_of(_case(circuit))["W2"]
        assert heat.copper_c is not None
        assert heat.copper_c == pytest.approx(30 + 75 * (heat.amps / 21.0) ** 2)
        scaled = 30 + (heat.copper_c - 30) * (amps / heat.amps) ** 2
        assert scaled == pytest.approx(wanted)


def _case(circuit: Circuit) -> Case:
    case = check(circuit).case
    assert case is not None
    return case
