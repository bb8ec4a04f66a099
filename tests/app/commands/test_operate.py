"""`operate`: steps, what they remember, races, and calls that are wrong."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from app.commands.readings import common, load_state
from checks.sketch import sketch
from model.file import dumps, load
from tests.app.commands.calling import call, refused, written
from tests.circuits import path

C01 = path("C01")
RACE = """
G1 battery
F1 fuse-blade rating_a=10
S1 switch
K1 relay-changeover
K2 relay-changeover
M1 pump
M2 pump
X1 ground
W1 G1.+ F1.1 2.5 0.1
W2 F1.2 S1.1 2.5 1
W3 S1.2 K2.30 1 1
W4 K2.87a K1.86 1 1
W5 K1.85 X1.g 1 1
W6 S1.2 K1.30 1 1
W7 K1.87a K2.86 1 1
W8 K2.85 X1.g 1 1
W9 K1.87 M1.+ 2.5 1
W10 M1.- X1.g 2.5 1
W11 K2.87 M2.+ 2.5 1
W12 M2.- X1.g 2.5 1
W13 X1.g G1.- 2.5 1
"""
BUZZER = """
G1 battery
F1 fuse-blade rating_a=10
S1 switch
K1 relay-changeover
X1 ground
W1 G1.+ F1.1 2.5 0.1
W2 F1.2 S1.1 2.5 1
W3 S1.2 K1.30 1 1
W4 K1.87a K1.86 1 1
W5 K1.85 X1.g 1 1
W6 X1.g G1.- 2.5 1
"""
CONTROLS = """
G1 battery
S1 switch
S3 pressure-switch
S4 switch
E1 lamp-twin
K1 relay-bistable
K2 flasher
M1 starter
H1 lamp-led
S5 push-make
W1 G1.+ S3.1 2.5 1
W2 S3.2 E1.56a 2.5 1
W3 E1.31 G1.- 2.5 1
W4 G1.+ M1.30 16 1
W5 M1.31 G1.- 16 1
W6 G1.+ S5.1 2.5 1
W7 S5.2 M1.50 2.5 1
W8 G1.+ S4.1 2.5 1
W9 S4.2 K1.S 2.5 1
W10 K1.31 G1.- 2.5 1
W11 S4.2 K2.49 2.5 1
W12 K2.31 G1.- 2.5 1
W13 S4.2 H1.- 1 1
W14 H1.+ G1.- 1 1
W15 S1.2 - 1 1
"""


def test_without_a_step_everything_is_at_rest() -> None:
    done = call("operate", C01, "--json")
    assert (done.code, done.err) == (0, "")
    data = done.json
    assert data["file"] == "C01.voltwalk"
    assert data["circuit"]
    (step,) = data["steps"]
    assert (step["set"], step["faults"], step["settled"]) == ({}, [], "steady")
    assert step["positions"] == {"S0": "ON", "S1": "OFF", "S2": "SET"}
    assert step["loads"]["M1"]["state"] == "off"


def test_the_fields_of_a_step() -> None:
    (step,) = call("operate", C01, "--json", "--set", "S1=ON").json["steps"]
    assert list(step) == [
        "set", "faults", "settled", "engine", "supply", "positions", "relays", "loads",
        "terminals", "wires", "currents",
    ]  # fmt: skip
    assert len(step["wires"]) == 13
    assert step["wires"]["W13"] == pytest.approx(sum(step["wires"][w] for w in ("W07", "W12")),
                                                abs=1e-4)  # fmt: skip
    assert step["terminals"]["BAT.-"] == 0.0
    assert step["currents"]["F1"] == step["wires"]["W04"]


def test_each_option_is_a_step_in_the_order_written() -> None:
    done = call("operate", C01, "--json", "--fault", "W06=open", "--set", "S1=ON", "--fault",
                "W06=none", "--set", "s2=tripped,S1=off")  # fmt: skip
    steps = done.json["steps"]
    assert [s["loads"]["M1"]["state"] for s in steps] == ["off", "off", "on", "off"]
    assert [s["faults"] for s in steps] == [["W06=open"], ["W06=open"], [], []]
    assert steps[3]["set"] == {"S2": "TRIPPED", "S1": "OFF"}


def test_relays_remember_the_step_before() -> None:
    # C13 holds itself: the load runs on once START was pressed, until STOP.
    done = call("operate", path("C13"), "--json", "--set", "S0=ON", "--set", "S1=PRESS", "--set",
                "S1=REST", "--set", "S2=PRESS", "--set", "S2=REST")  # fmt: skip
    assert [s["loads"]["M1"]["state"] for s in done.json["steps"]] == [
        "off", "on", "on", "off", "off",
    ]  # fmt: skip


def test_the_engine_stays_as_it_came_out() -> None:
    done = call("operate", path("C14c"), "--json", "--set", "S0=ON,S1=ON,engine=running",
                "--set", "S0=OFF", "--set", "S0=ON")  # fmt: skip
    assert [s["engine"] for s in done.json["steps"]] == ["running", "stopped", "stopped"]
    assert done.json["steps"][0]["set"] == {"S0": "ON", "S1": "ON", "engine": "running"}


def test_the_supply_is_set_by_name() -> None:
    done = call("operate", C01, "--json", "--set", "supply=charging", "--set", "SUPPLY=Cranking")
    assert [s["supply"] for s in done.json["steps"]] == ["charging", "cranking"]
    volts = [s["terminals"]["BAT.+"] for s in done.json["steps"]]
    assert volts == pytest.approx([14.2, 9.5], abs=0.01)


def test_a_race_has_its_outcomes(tmp_path: Path) -> None:
    done = call("operate", written(tmp_path, RACE), "--json", "--set", "S1=ON")
    assert done.code == 1
    (step,) = done.json["steps"]
    assert step["settled"] == "several"
    relays = [o["relays"] for o in step["outcomes"]]
    assert sorted(r["K1"] for r in relays) == ["in", "out"]
    assert all(r["K1"] != r["K2"] for r in relays)
    assert {o["loads"]["M1"]["state"] for o in step["outcomes"]} == {"on", "off"}
    assert step["positions"] == {"S1": "ON"}
    assert step["relays"] == {}
    assert step["terminals"]["G1.-"] == 0.0
    assert "K1.87" not in step["terminals"]


def test_after_a_race_it_is_said_where_the_next_step_starts(tmp_path: Path) -> None:
    file = written(tmp_path, RACE)
    done = call("operate", file, "--json", "--set", "S1=ON", "--set", "S1=OFF")
    assert done.code == 1
    assert "step 2 starts from the first" in done.err
    assert done.json["steps"][1]["settled"] == "steady"


def test_a_relay_that_cuts_its_own_feed_never_rests(tmp_path: Path) -> None:
    file = written(tmp_path, BUZZER)
    done = call("operate", file, "--json", "--set", "S1=ON")
    assert done.code == 1
    (step,) = done.json["steps"]
    assert step["settled"] == "none"
    assert {s["relays"]["K1"] for s in step["states"]} == {"in", "out"}
    text = call("operate", file, "--set", "S1=ON")
    assert text.code == 1
    assert "no steady state" in text.out
    assert "state 2" in text.out


def test_parts_with_several_loads_and_relays(tmp_path: Path) -> None:
    file = written(tmp_path, CONTROLS)
    done = call("operate", file, "--json", "--set", "S3=no pressure,S4=ON", "--set",
                'S3="PRESSURE",S5=PRESS,S4=OFF')  # fmt: skip
    first, second = done.json["steps"]
    assert first["relays"] == {"K1": "in", "K2": "flashing", "M1": "out"}
    assert second["relays"] == {"K1": "in", "K2": "out", "M1": "in"}
    assert second["loads"]["E1.main"]["state"] == "on"
    assert second["loads"]["E1.dip"]["state"] == "off"
    assert (first["supply"], second["supply"]) == ("resting", "cranking")
    assert second["loads"]["M1"]["state"] == "on"


def test_a_floating_terminal_is_null_and_a_backwards_lamp_is_off(tmp_path: Path) -> None:
    file = written(tmp_path, CONTROLS)
    (step,) = call("operate", file, "--json", "--set", "S4=ON").json["steps"]
    assert step["terminals"]["S1.2"] is None
    assert step["loads"]["H1"]["state"] == "off"
    assert step["loads"]["H1"]["voltage_v"] < -12


def test_a_position_with_a_comma_is_quoted(tmp_path: Path) -> None:
    circuit = sketch(CONTROLS)
    table = tuple(replace(p, name=f"{p.name}, OIL") for p in sketchy_positions())
    switch = replace(circuit.parts["S3"], table=table)
    circuit = replace(circuit, parts={**circuit.parts, "S3": switch})
    file = tmp_path / "comma.voltwalk"
    file.write_text(dumps(circuit), encoding="utf-8")
    done = call("operate", file, "--json", "--set", 'S3="PRESSURE, OIL",S4=ON')
    assert done.json["steps"][0]["positions"]["S3"] == "PRESSURE, OIL"
    assert done.json["steps"][0]["loads"]["E1.main"]["state"] == "on"


def sketchy_positions() -> tuple[object, ...]:
    from model.kinds import KINDS

    return KINDS["pressure-switch"].body.positions


@pytest.mark.parametrize(
    ("volts", "amps", "state"),
    [(7.57, 1.0, "on"), (7.55, 1.0, "weak"), (-7.57, -1.0, "on"), (1.02, 1.0, "weak"),
     (1.0, 1.0, "off"), (12.6, 0.0, "off"), (0.0, 0.0, "off")],
)  # fmt: skip
def test_on_weak_and_off_of_a_battery_of_12_6_volts(volts: float, amps: float, state: str) -> None:
    # 60 % of 12.6 V is 7.56 V, 8 % is 1.008 V.
    assert load_state(volts, amps, 12.6) == state


def test_what_all_outcomes_share() -> None:
    first = {"a": 1, "b": {"x": 1, "y": 2}, "c": None}
    second = {"a": 2, "b": {"x": 1, "y": 3}, "c": None}
    assert common([first, second]) == {"b": {"x": 1}, "c": None}
    assert common([first]) == first


def test_the_text_names_steps_relays_loads_and_currents() -> None:
    done = call("operate", C01, "--set", "S1=ON", "--fault", "W06=open")
    assert done.code == 0
    assert done.err == ""
    lines = [" ".join(line.split()) for line in done.out.splitlines()]
    assert "Step 1: S1 ON" in lines
    assert "Step 2: nothing moved (faults: W06=open)" in lines
    assert "relays K1 in" in lines
    assert "loads M1 on 12.01 V 8.008 A" in lines
    assert "loads M1 off 0 V 0 A" in lines
    assert all(len(line) <= 100 for line in done.out.splitlines())


def test_a_reference_that_repeats_is_a_wrong_call_once_it_is_used(tmp_path: Path) -> None:
    file = tmp_path / "twice.voltwalk"
    circuit = sketch(CONTROLS)
    twice = replace(circuit.parts["S4"], reference="S1")
    file.write_text(dumps(replace(circuit, parts={**circuit.parts, "S4": twice})), "utf-8")
    assert "“S1” names 2 parts" in refused(2, "operate", file, "--set", "S1=ON")
    assert "“S1” names 2 parts" in refused(2, "operate", file, "--fault", "S1=stuck")
    positions = call("operate", file, "--json").json["steps"][0]["positions"]
    assert positions["S1 (1)"] == positions["S1 (2)"] == "OFF"


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--set", "S9=ON"), "there is no “S9” in this circuit"),
        (("--set", "S11=ON"), "did you mean S1?"),
        (("--set", "S1=LEFT"), "S1 has no position “LEFT”; it has OFF, ON"),
        (("--set", "M1=ON"), "M1 is no control and has no positions"),
        (("--set", "W06=ON"), "W06 is a wire and has no positions; to put a fault there"),
        (("--set", "engine=fast"), "engine cannot be “fast”; there are stopped, cranking, running"),
        (("--set", "supply=charged"), "did you mean charging?"),
        (("--set", "S1"), "is not NAME=VALUE"),
        (("--set", ""), "is not NAME=VALUE"),
        (("--set", "S1=ON,s1=OFF"), "stands twice"),
        (("--set",), "expected one argument"),
        (("--sett", "S1=ON"), "unrecognized arguments"),
        (("--strict",), "unrecognized arguments"),
        (("other.voltwalk",), "unrecognized arguments"),
    ],
)
def test_a_wrong_call(words: tuple[str, ...], says: str) -> None:
    assert says in refused(2, "operate", C01, *words)


def test_a_wrong_later_step_writes_nothing() -> None:
    sentence = refused(2, "operate", C01, "--json", "--set", "S1=ON", "--set", "S9=ON")
    assert sentence.startswith("voltwalk: --set S9=ON: ")


def test_what_rests_on_an_assumed_length_says_so_in_words_and_in_the_data(tmp_path: Path) -> None:
    circuit = load(C01).circuit
    wire = next(iter(circuit.wires.values()))
    bare = replace(circuit, wires={**circuit.wires, wire.id: replace(wire, length_m=None)})
    file = tmp_path / "bare.voltwalk"
    file.write_text(dumps(bare), encoding="utf-8")
    said = f"Assumed: size or length of {wire.number}."
    assert said in call("operate", str(file)).out
    assert call("operate", str(file), "--json").json["rests_on"] == [said]
    assert "Assumed: size" not in call("operate", str(C01)).out
