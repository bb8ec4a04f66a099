"""`loads` as a person and as a program call it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from model.file import dumps, load
from tests.app.commands.calling import call

ROOT = Path(__file__).parents[3]
PUMP = str(ROOT / "assets/examples/fuel-pump.voltwalk")


def test_the_text_has_every_load_and_how_long_the_battery_lasts() -> None:
    made = call("loads", PUMP, "--use", "M1=40%")
    assert made.code == 0
    lines = made.out.splitlines()
    (row,) = [x for x in lines if x.startswith("M1")]
    assert row.split("Fuel pump")[1].split() == [
        "7.67", "A", "23", "A", "50", "ms", "40", "%", "3.07", "A",
    ]  # fmt: skip
    assert "most together: 7.81 A (S1 ON)" in made.out
    assert "There is no alternator" in made.out
    assert "(assumed)" in made.out


def test_the_data_hold_the_same() -> None:
    data = call("loads", PUMP, "--use", "m1=0,4", "--json").json
    load, coil = data["loads"]
    assert (load["part"], load["coil"], load["use"]) == ("M1", False, 0.4)
    assert load["average_a"] == pytest.approx(0.4 * load["runs_a"])
    assert (coil["part"], coil["coil"]) == ("K1", True)
    by_name = {s["name"]: s for s in data["scenarios"]}
    assert by_name["rest"]["half_lasts_h"] is None
    most = by_name["most"]
    assert most["half_lasts_h"] == pytest.approx(30.0 / most["current_a"])
    assert most["positions"] == {"S1": "ON"}
    assert data["battery_ah"] == 60.0 and data["battery_assumed"]


@pytest.mark.parametrize("words", ["M1", "M1=", "=0.5", "M1=1.5", "M1=-1", "M1=often", "M9=0.5"])
def test_a_share_that_is_none_is_a_wrong_call(words: str) -> None:
    made = call("loads", PUMP, "--use", words)
    assert (made.code, made.out) == (2, "")
    assert words.split("=")[0] in made.err and "Traceback" not in made.err


def test_a_circuit_without_loads_says_so(tmp_path: Path) -> None:
    empty = tmp_path / "empty.voltwalk"
    empty.write_text('{"format": "voltwalk", "version": 1}')
    made = call("loads", str(empty))
    assert made.code in (0, 3)
    assert "No load draws anything" in made.out or made.code == 3


def test_rest_charging_and_cranking_come_by_themselves() -> None:
    made = call("loads", str(ROOT / "assets/examples/six-terminal-master.voltwalk"))
    lines = {x.split("  ")[1]: x for x in made.out.splitlines() if x.startswith("  ")}
    assert {"at rest", "engine off, most on", "charging, most on", "cranking"} <= set(lines)
    assert "-39.5 A" in lines["charging, most on"]  # into the battery
    assert "39.5 A are left at speed and 12 A are left at idle" in " ".join(made.out.split())
    assert "no starter is drawn" in made.out


def test_the_data_tell_who_gives_what() -> None:
    data = call("loads", str(ROOT / "assets/examples/six-terminal-master.voltwalk"), "--json").json
    cases = {(s["supply"], s["case"]): s for s in data["supplies"]}
    assert set(cases) == {("resting", "rest"), ("resting", "most"), ("charging", "most"),
                          ("cranking", "most")}  # fmt: skip
    charging = cases["charging", "most"]
    assert charging["battery_a"] + charging["alternator_a"] == pytest.approx(
        charging["loads_a"], rel=0.01
    )
    assert charging["rated_left_a"] == pytest.approx(55 - charging["average_a"])
    assert charging["idle_left_a"] == pytest.approx(27.5 - charging["average_a"])
    assert charging["half_lasts_h"] is None
    assert cases["cranking", "most"]["alternator_a"] == pytest.approx(0.0, abs=1e-6)


def test_what_rests_on_an_assumed_length_says_so_in_words_and_in_the_data(tmp_path: Path) -> None:
    circuit = load(Path(PUMP)).circuit
    wire = next(iter(circuit.wires.values()))
    bare = replace(circuit, wires={**circuit.wires, wire.id: replace(wire, length_m=None)})
    file = tmp_path / "bare.voltwalk"
    file.write_text(dumps(bare), encoding="utf-8")
    said = f"Assumed: size or length of {wire.number}."
    assert said in call("loads", str(file)).out
    assert call("loads", str(file), "--json").json["rests_on"] == [said]
    assert "Assumed: size" not in call("loads", PUMP).out
