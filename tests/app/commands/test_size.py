"""`size` as a person and as a program call it."""

from __future__ import annotations

import json
from pathlib import Path

from app.commands.size_text import AXIS
from tests.app.commands.calling import call

ROOT = Path(__file__).parents[3]
PUMP = str(ROOT / "assets" / "examples" / "fuel-pump.voltwalk")
FAN = str(ROOT / "tests" / "circuits" / "C05.voltwalk")


def _called(*words: object) -> tuple[int, str, str]:
    made = call(*words)
    return made.code, made.out, made.err


def test_the_data_say_what_fits_and_why_no_smaller() -> None:
    code, out, _ = _called("size", PUMP, "M1", "--json")
    (load,) = json.loads(out)["loads"]
    assert code == 0
    assert (load["fuse"], load["fits_a"], load["fits_size"]) == ("F1", 15, "1.5 mm²")
    assert load["sizes"] == ["2.5 mm²"] * 4
    assert load["wires"] == ["W1", "W2", "W3", "W4"]
    assert {s["what"] for s in load["smaller"]} >= {"10 A", "1 mm²", "0.75 mm²"}
    assert all(s["why"].endswith(".") for s in load["smaller"])
    assert load["ampacity_table"] == "vehicle"


def test_every_load_comes_without_a_reference() -> None:
    _, out, _ = _called("size", str(ROOT / "assets/examples/headlamps.voltwalk"), "--json")
    assert [load["load"] for load in json.loads(out)["loads"]] == ["E1", "E2", "E3"]


def test_where_nothing_fits_the_code_is_1_and_the_demands_are_named(tmp_path: Path) -> None:
    huge = tmp_path / "huge.voltwalk"  # 400 A, more than any fuse carries for long
    text = Path(FAN).read_text(encoding="utf-8")
    huge.write_text(text.replace('"resistance_ohm": 0.57', '"resistance_ohm": 0.03'), "utf-8")
    code, out, _ = _called("size", huge, "M1")
    assert code == 1
    assert "none fits" in out
    assert "Nothing fits." in out


def test_where_no_blade_fuse_fits_a_large_one_is_tried_and_why_is_told() -> None:
    code, out, _ = _called("size", FAN, "M1")
    flat = " ".join(out.split())
    assert code == 0
    assert "fuse F1: now 40 A, smallest 30 A (blade fuse, high current)" in out
    assert "not 1 to 40 A, blade fuse, standard: No fuse of this form fits: While M1" in flat


def test_a_reference_that_is_none_is_a_wrong_call() -> None:
    code, out, talk = _called("size", PUMP, "M9")
    assert (code, out) == (2, "")
    assert "M9" in talk and "Traceback" not in talk


def test_the_axis_has_load_fuse_wire_and_short_below_each_other() -> None:
    _, out, _ = _called("size", PUMP, "m1")
    lines = out.splitlines()
    lanes = [next(n for n, x in enumerate(lines) if x.startswith(f"  {lane:5} "))
             for lane in ("load", "fuse", "wire", "short")]  # fmt: skip
    assert lanes == sorted(lanes)
    running, rating = lines[lanes[0]].index("●"), lines[lanes[1]].index("┃")
    carries, short = lines[lanes[2]].index("┤"), lines[lanes[3]].index("─")
    assert running < rating < carries < short
    assert max(map(len, lines)) < AXIS + 30


def test_a_relay_is_chosen_by_what_its_contact_carries() -> None:
    _, out, _ = _called("size", PUMP, "--json")
    choices = {c["part"]: c for c in json.loads(out)["choices"] if c["part"]}
    assert choices["K1"]["fits"] == "micro relay, 30 A"
    _, out, _ = _called("size", FAN, "--json")
    choices = {c["part"]: c for c in json.loads(out)["choices"] if c["part"]}
    (smaller,) = choices["K1"]["smaller"]
    assert (smaller["what"], smaller["rule"]) == ("micro relay", "contact-overload")


def test_what_it_rests_on_is_said() -> None:
    _, out, _ = _called("size", PUMP, "M1", "--json")
    rests = json.loads(out)["rests_on"]
    assert any("start current of M1 is not stated" in r for r in rests)
    assert any("table vehicle (verified)" in r for r in rests)
