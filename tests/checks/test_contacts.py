"""What contacts are made for, with figures worked out by hand.

Published micro relay: 30 A resistive, 17 A motor with 65 A of start, 17 A lamp (rallyrace.net,
verified), 17/30 taken as 0.55. Published cube relays: 40 A make, 30 A break, at 24 V 20 and 15 A.
Filament lamps draw ten to fifteen times as they start (azmanual.top data book, p. 8).
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from checks.contacts import Ratings, ratings_of
from checks.rules import contact_overload
from checks.sketch import sketch
from model.circuit import Settings
from model.file.csv_table import read_table, with_table
from model.kinds.body import Contact
from model.lookup import body_of
from tests.checks.rules.looking import look, places, settings


def rated(line: str, contact: str = "", nominal_v: float = 12.0) -> Ratings:
    """Return the ratings of a part's first contact, or the one of that name."""
    circuit = sketch(line, Settings(nominal_v=nominal_v))
    (part,) = circuit.parts.values()
    contacts = [e for e in body_of(circuit, part).elements if isinstance(e, Contact)]
    found = ratings_of(circuit, part, next(c for c in contacts if contact in ("", c.name)))
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("line", "contact", "volts", "amps"),
    [
        ("K1 relay-changeover", "make", 12, 40),  # the published cube relay
        ("K1 relay-changeover", "break", 12, 30),
        ("K1 relay-changeover", "make", 24, 20),
        ("K1 relay-changeover", "break", 24, 15),
        ("K1 relay-changeover contact_a=20", "break", 12, 15),  # 75 % of 20 A
        ("K1 relay-changeover contact_a=20 break_a=18", "break", 12, 18),  # its own counts
        ("K1 relay-changeover contact_a=40", "make", 24, 40),  # stated for what it is used at
        ("K1 relay-changeover contact_a=40 contact_v=12", "make", 24, 20),
        ("K1 relay-changeover contact_a=40 contact_v=13.5", "break", 24, 15),
        ("K1 relay-changeover contact_a=40 contact_v=12", "make", 12, 40),
        ("K1 relay-changeover contact_v=12", "make", 24, 20),
        ("K1 relay-bistable contact_a=16", "break", 12, 12),
        ("S1 crash-switch contact_a=10", "C-NC", 12, 10),  # a snap switch, no relay's spring
        ("S1 key-switch", "30-50", 12, 20),
        ("S1 master-switch-6 contact_a=200", "W-W1", 12, 10),
    ],
)
def test_make_and_break_at_12_and_24_volts(
    line: str, contact: str, volts: float, amps: float
) -> None:
    found = rated(line, contact, volts)
    assert found.resistive == pytest.approx(amps)
    assert found.amps["motor"] == pytest.approx(0.55 * amps)
    assert found.amps["lamp"] == pytest.approx(0.55 * amps)
    assert found.makes["motor"] == pytest.approx(0.55 * amps * 65 / 17)
    assert found.makes["lamp"] == pytest.approx(5.5 * amps)
    assert found.makes["resistive"] == pytest.approx(65 / 30 * amps)


def test_the_published_micro_relay_makes_its_65_amperes() -> None:
    found = rated("K1 relay-make contact_a=30 motor_a=17 lamp_a=17")
    assert found.makes["motor"] == pytest.approx(65)
    assert found.makes["lamp"] == pytest.approx(170)


def test_what_is_stated_for_the_make_contact_goes_along_with_the_break_contact() -> None:
    found = rated("K1 relay-changeover contact_a=40 motor_a=20 inrush_a=100", "break")
    assert found.amps["motor"] == pytest.approx(15)
    assert found.makes["motor"] == pytest.approx(75)
    assert found.made
    assert found.broken
    assert found.breaks


def test_electronic_outputs_do_not_weld() -> None:
    assert not rated("A1 driver-supply contact_a=5").makes
    assert rated("A1 driver-supply contact_a=5 inrush_a=40").makes["lamp"] == 40


def test_what_is_assumed_is_told_from_what_is_stated() -> None:
    assert rated("S1 switch").assumed
    assert not rated("S1 switch contact_a=10").assumed
    assert rated("K1 relay-changeover", "break").assumed
    assert not rated("K1 relay-changeover contact_a=20", "break").assumed


START = """
    G1 battery voltage_v={v} inner_ohm=1e-7
    F1 fuse-strip rating_a=100
    X1 ground
    {s}
    {load}
    W1 G1.+ F1.1 6 0.05
    W2 F1.2 S1.{i} 6 0.05
    W3 S1.{o} M1.+ 6 0.05
    W4 M1.- X1.g 6 0.05
    W5 X1.g G1.- 50 0.05
"""


def started(s: str, load: str, i: str = "1", o: str = "2", v: float = 12.0) -> list[str]:
    """Return how bad what is found at a load on a control is, its start most of all."""
    text = START.format(s=f"S1 {s}", load=f"M1 {load}", i=i, o=o, v=v)
    found = look(contact_overload, text, settings(nominal_v=v))
    assert all("closes" in f.sentence() for f in found)
    return [f.severity for f in found]


PUMP = "pump law=resistor resistance_ohm=1.2 start_multiple={}"


@pytest.mark.parametrize(
    ("s", "load", "wanted"),
    [
        # 10 A of motor on 13.75 A; 13.75·65/17 = 52.57 A: 5.257 times.
        ("switch contact_a=25", PUMP.format(5.25), []),
        ("switch contact_a=25", PUMP.format(5.27), ["fault"]),
        # Stated: 60 A, six times.
        ("switch contact_a=25 inrush_a=60", PUMP.format(5.99), []),
        ("switch contact_a=25 inrush_a=60", PUMP.format(6.1), ["fault"]),
        # Nothing stated of the start: three times, 30 A.
        ("switch contact_a=25 inrush_a=29", PUMP.format(3).replace("start_multiple=3", ""),
         ["unknown"]),
        ("switch contact_a=25 inrush_a=31", PUMP.format(3).replace("start_multiple=3", ""), []),
        # 11 A of lamps on 20 A make 110 A: 7.33 A at 15 times.
        ("switch contact_a=20", "lamp law=resistor resistance_ohm=1.65 start_multiple=15", []),
        ("switch contact_a=20", "lamp law=resistor resistance_ohm=1.63 start_multiple=15",
         ["fault"]),
        # Electronics: 10 A make 21.7 A; 1 A of which nothing is stated may start softly.
        ("switch contact_a=10", "module law=resistor resistance_ohm=12", []),
        ("switch contact_a=10", "module law=resistor resistance_ohm=12 start_multiple=21.5", []),
        ("switch contact_a=10", "module law=resistor resistance_ohm=12 start_multiple=22",
         ["fault"]),
        ("switch contact_a=10", "module law=resistor resistance_ohm=12 start_multiple=40",
         ["fault"]),
        ("push-make contact_a=25", PUMP.format(5.27), ["fault"]),
        ("pressure-switch contact_a=25", PUMP.format(5.27), ["fault"]),
        ("brake-switch contact_a=25", PUMP.format(5.27), ["fault"]),
        ("master-switch contact_a=25", PUMP.format(5.27), ["fault"]),
    ],
)  # fmt: skip
def test_the_start_against_what_a_contact_makes(s: str, load: str, wanted: list[str]) -> None:
    assert started(s, load) == wanted


@pytest.mark.parametrize(
    ("s", "i", "o"),
    [
        ("key-switch contact_a=25", "30", "15"),
        ("crash-switch contact_a=25", "C", "NC"),
        ("switch-changeover contact_a=25", "C", "B"),
        ("driver-supply contact_a=25 inrush_a=52.6", "30", "out"),
    ],
)
def test_keys_crash_switches_and_outputs_too(s: str, i: str, o: str) -> None:
    assert started(s, PUMP.format(5.25), i, o) == []
    assert started(s, PUMP.format(5.27), i, o) == ["fault"]


def test_the_numbers_of_a_start() -> None:
    text = START.format(s="S1 switch contact_a=25", load="M1 " + PUMP.format(6), i=1, o=2, v=12)
    (finding,) = look(contact_overload, text)
    assert finding.values["start"] == pytest.approx(6 * 12 / 1.2, rel=1e-3)
    assert finding.values["makes"] == pytest.approx(25 * 0.55 * 65 / 17, rel=1e-6)
    assert "As S1 (1–2) closes, M1 draws 60 A, 6 times what runs" in finding.sentence()
    assert "M1 then stays on with S1 off" in finding.sentence()


def test_the_taken_figures_are_told_with_their_source() -> None:
    text = START.format(s="S1 switch contact_a=20 contact_v=12",
                        load="M1 heater at_v=24 resistance_ohm=2", i=1, o=2, v=24)  # fmt: skip
    (finding,) = look(contact_overload, text, settings(nominal_v=24.0))  # 12 A on 10 A
    assert finding.values["rating"] == pytest.approx(10)
    assert "half of the 20 A stated for 12 V" in finding.sentence()
    assert "rallyrace.net" in finding.source
    assert look(contact_overload, text.replace("contact_v=12", ""), settings(nominal_v=24.0)) == []


BREAK = """
    G1 battery voltage_v=12 inner_ohm=1e-7
    X1 ground
    K1 relay-changeover contact_a=40
    M1 {load}
    S1 switch
    W1 G1.+ K1.30 6 0.05
    W2 K1.{t} M1.+ 6 0.05
    W3 M1.- X1.g 6 0.05
    W4 X1.g G1.- 50 0.05
    W5 G1.+ S1.1 1 0.1
    W6 S1.2 K1.86 1 0.1
    W7 K1.85 X1.g 1 0.1
"""


@pytest.mark.parametrize(
    ("t", "ohm", "wanted"),
    [
        ("87", 0.55, 0),  # 21.8 A on 22 A
        ("87", 0.54, 1),  # 22.2 A
        ("87a", 0.73, 0),  # 16.4 A on 0.55 · 0.75 · 40 A = 16.5 A
        ("87a", 0.72, 1),  # 16.7 A
    ],
)
def test_a_motor_on_the_break_contact(t: str, ohm: float, wanted: int) -> None:
    load = f"fan law=resistor resistance_ohm={ohm} start_multiple=2"
    found = look(contact_overload, BREAK.format(load=load, t=t))
    assert len(found) == wanted
    for finding in found:
        says = finding.sentence()
        assert ("75 % of the make contact's 40 A" in says) == (t == "87a")
        assert ("stays on while K1 is in" if t == "87a" else "stays on with K1 out") in says


def test_a_pump_on_a_cube_relay_is_fine() -> None:
    for start in ("", "start_multiple=7"):
        assert look(contact_overload, BREAK.format(load=f"pump current_a=8 {start}", t="87")) == []


LATER = """
    G1 battery voltage_v=12 inner_ohm=1e-7
    X1 ground
    S1 key-switch contact_a=20
    K1 relay-make contact_a=60
    M1 fan law=resistor resistance_ohm=1.2 start_multiple=7
    W1 G1.+ S1.30 6 0.05
    W2 S1.15 K1.30 6 0.05
    W3 K1.87 M1.+ 6 0.05
    W4 M1.- X1.g 6 0.05
    W5 X1.g G1.- 50 0.05
    W6 {coil} K1.86 1 0.1
    W7 K1.85 X1.g 1 0.1
"""


def test_a_start_that_a_later_relay_makes_is_not_the_switchs() -> None:
    # 20 A make 42 A; 70 A start, but only after the relay that the same key feeds has pulled in.
    assert look(contact_overload, LATER.format(coil="S1.15")) == []
    other = LATER.format(coil="S2.2") + "S2 switch\nW8 G1.+ S2.1 1 0.1"
    assert places(look(contact_overload, other)) == [("fault", ("S1", "M1"))]


def test_starts_of_several_loads_add_up() -> None:
    # Each starts with 3 · 6 A = 18 A; 30 A make 63 A, so that three are borne and four not.
    text = START.format(s="S1 switch contact_a=60 inrush_a=63", load="M1 " + SIX, i=1, o=2, v=12)
    for n in (2, 3):
        text += f"\nM{n} {SIX}\nW{n}6 S1.2 M{n}.+ 6 0.05\nW{n}7 M{n}.- X1.g 6 0.05"
    assert look(contact_overload, text) == []
    text += f"\nM4 {SIX}\nW46 S1.2 M4.+ 6 0.05\nW47 M4.- X1.g 6 0.05"
    (finding,) = look(contact_overload, text)
    assert set(finding.parts) == {"S1", "M1", "M2", "M3", "M4"}
    assert finding.values["start"] == pytest.approx(72, rel=0.03)
    assert "M1, M2, M3 and M4 draw 72 A" in finding.sentence()


SIX = "pump law=resistor resistance_ohm=2 start_multiple=3"


def test_what_a_type_of_ones_own_states_comes_before_any_share() -> None:
    text = "table,kit\nsource,maker's list K\n" \
        "type,contact_a,contact_v,motor_a,break_a\nbig,40,12,30,36\n"  # fmt: skip
    drawn = sketch("K1 relay-changeover", Settings(nominal_v=24.0))
    circuit = with_table(drawn, read_table(text, "kit.csv"), "kit.csv")
    (relay,) = (replace(p, type="big") for p in circuit.parts.values())
    circuit = replace(circuit, parts={relay.id: relay})
    make, rest = (c for c in body_of(circuit, relay).elements if isinstance(c, Contact))
    found = [ratings_of(circuit, relay, c) for c in (make, rest)]
    # 40 A at 12 V are 20 A at 24 V; 30 A of motor on 40 A stay three quarters of it.
    assert [(f.resistive, f.amps["motor"]) for f in found if f] == [(20, 15), (18, 13.5)]
    assert all(f and f.halved and not f.assumed and not f.broken for f in found)


PART = {"fan": 0.55, "lamp": 0.55, "heater": 1.0}
MAKES = {"fan": 0.55 * 65 / 17, "lamp": 5.5, "heater": 65 / 30}


@pytest.mark.parametrize("seed", range(12))
def test_the_worst_state_of_either_side_against_all_of_them(seed: int) -> None:
    """Loads on both sides of a selector: the greater sum of shares, which is not always that of
    the greater current, running and starting."""
    dice = np.random.default_rng(seed)
    text = START.format(s="S1 switch contact_a=30", load="S9 switch-changeover contact_a=900",
                        i=1, o=2, v=12)  # fmt: skip
    text = text.replace("M1.+", "S9.C").replace("W4 M1.- X1.g 6 0.05", "")
    runs, starts = {"A": 0.0, "B": 0.0}, {"A": 0.0, "B": 0.0}
    for n in range(6):
        side, kind = "AB"[n % 2], str(dice.choice(list(PART)))
        amps, times = float(dice.uniform(2, 9)), float(dice.choice([1, 3, 7, 14]))
        text += f"""
            M{n} {kind} law=resistor resistance_ohm={12 / amps} start_multiple={times}
            S{n + 20} switch contact_a=900
            W{n}7 S9.{side} S{n + 20}.1 6 0.05
            W{n}8 S{n + 20}.2 M{n}.+ 6 0.05
            W{n}9 M{n}.- X1.g 6 0.05
        """
        runs[side] += amps / PART[kind] / 30
        starts[side] += times * amps / MAKES[kind] / 30
    found = [f for f in look(contact_overload, text) if f.parts[0] == "S1"]
    assert bool(found) == (max(*runs.values(), *starts.values()) > 1)
    for finding in found:
        if max(runs.values()) > 1:
            assert finding.values["share"] == pytest.approx(max(runs.values()), rel=2e-3)
        if max(starts.values()) > 1:
            assert finding.values["start share"] == pytest.approx(max(starts.values()), rel=2e-3)
