"""`check` under other tables and tables of one's own; `size` with one too."""

from __future__ import annotations

from pathlib import Path

import pytest

from app.commands.errors import ExitCode
from model.file import load
from tests.app.commands.calling import call, refused, written

# 18 A through 1.5 mm²: a thin-wall data sheet gives 21 A, ISO 10133 at 70 °C 18 A, at 60 °C 12 A.
HEATER = """
G1 battery
F1 fuse-blade rating_a=25
E1 heater current_a=17.5 at_v=12.6
X1 ground
X2 ground
W1 G1.+ F1.1 6 0.1 RD
W2 F1.2 E1.+ 1.5 0.5 BU
W3 E1.- X1.g 6 0.1 BK
W4 X2.g G1.- 6 0.1 BK
"""
TABLE = "table,acme\nsource,ACME sheet 4\nmm2,70,105\n1.5,13,16\n6,40,50\n"


@pytest.fixture
def heater(tmp_path: Path) -> Path:
    return written(tmp_path, HEATER)


def test_both_limits_of_every_wire_and_what_differs(heater: Path) -> None:
    done = call("check", heater, "--beside", "iso-10133-60")
    assert "BESIDE: ampacity vehicle | iso-10133-60" in done.out
    flat = " ".join(done.out.split())
    assert "(withdrawn 2020, ISO 13297 took over) (from memory)" in flat and "ISO 10133" in flat
    row = next(line for line in done.out.splitlines() if line.split()[:1] == ["W2"])
    assert "21 A" in row and "12 A !" in row
    said = done.out.split("ONLY UNDER ISO-10133-60")[1]
    assert "danger wire-overload  E1, W2" in said and "fuse-above-wire" in said


def test_the_same_as_data(heater: Path) -> None:
    found = call("check", heater, "--beside", "iso-10133-60", "--json").json
    beside = found["beside"]
    assert (beside["kind"], beside["chosen"], beside["other"]) == (
        "ampacity", "vehicle", "iso-10133-60",
    )  # fmt: skip
    wire = next(w for w in beside["wires"] if w["wire"] == "W2")
    assert (wire["chosen"]["may_carry_a"], wire["other"]["may_carry_a"]) == (21.0, 12.0)
    amps = wire["chosen"]["current_a"]
    # 30 °C + 75 K · (I/21)² for 105 °C insulation, 30 °C + 30 K · (I/12)² for 60 °C.
    assert wire["chosen"]["copper_c"] == pytest.approx(30 + 75 * (amps / 21) ** 2)
    assert wire["other"]["copper_c"] == pytest.approx(30 + 30 * (amps / 12) ** 2)
    assert wire["other"]["standing"] == "from memory"
    assert "wire-overload" in {f["rule"] for f in beside["new"]}
    changed = {f["rule"]: (f["was"], f["severity"]) for f in beside["changed"]}
    assert changed.get("fuse-above-wire", ("advice", "danger")) == ("advice", "danger")
    # The findings proper, and the exit code, are those of the chosen table.
    assert "wire-overload" not in {f["rule"] for f in found["findings"]}
    assert found["tables"][0] == "ampacity: vehicle"


def test_tables_of_bundles_and_copper_stand_beside_too(heater: Path) -> None:
    assert "The findings are the same." in call("check", heater, "--beside", "none").out
    copper = call("check", heater, "--beside", "copper:jaso-av", "--json").json["beside"]
    assert copper["kind"] == "copper"
    said = refused(ExitCode.WRONG_CALL, "check", heater, "--beside", "iso-1")
    assert "no table “iso-1”" in said and "iso-10133-105" in said


def test_a_table_of_ones_own_is_used_and_says_so(heater: Path, tmp_path: Path) -> None:
    table = tmp_path / "acme.csv"
    table.write_text(TABLE, encoding="utf-8")
    before = heater.read_bytes()
    done = call("check", heater, "--table", table)
    assert done.code == ExitCode.FOUND and "W2" in done.out
    assert "(table acme-105, supplied by the user)" in " ".join(done.out.split())
    assert "ampacity acme-105: ACME sheet 4 (supplied by the user)" in " ".join(done.out.split())
    data = call("check", heater, "--table", table, "--json").json
    over = next(f for f in data["findings"] if f["rule"] == "wire-overload")
    assert over["values"]["limit"] == 16.0 and "ACME sheet 4" in over["source"]
    assert data["table_sources"][0]["standing"] == "supplied by the user"
    assert heater.read_bytes() == before
    sized = call("size", heater, "--table", table, "--json").json
    assert sized["loads"][0]["fits_size"] == "6 mm²"


def test_a_table_is_kept_in_the_file_where_that_is_asked(heater: Path, tmp_path: Path) -> None:
    table = tmp_path / "acme.csv"
    table.write_text(TABLE, encoding="utf-8")
    assert "written with 1 table" in call("check", heater, "--table", table, "--keep").err
    kept = load(heater).circuit
    assert kept.own_tables["acme"].source == "ACME sheet 4"
    assert kept.settings.chosen.ampacity == "acme-105"
    table.unlink()
    assert call("check", heater, "--json").json["tables"][0] == "ampacity: acme-105"
    assert "name one" in refused(ExitCode.WRONG_CALL, "check", heater, "--keep")


def test_a_wrong_table_is_refused_with_its_line(heater: Path, tmp_path: Path) -> None:
    table = tmp_path / "acme.csv"
    table.write_text(TABLE.replace("13", "much"), encoding="utf-8")
    said = refused(ExitCode.BAD_FILE, "check", heater, "--table", table)
    assert "acme.csv, line 4" in said and "“much”" in said


def test_a_length_that_is_assumed_is_marked(tmp_path: Path) -> None:
    """The star beside the amperes, and the flag in the data."""
    circuit = written(tmp_path, HEATER.replace("E1.+ 1.5 0.5", "E1.+ 1.5 ?"))
    data = call("check", circuit, "--beside", "none", "--json").json
    assert {w["wire"] for w in data["wires"] if w["assumed"]} == {"W2"}
    row = next(r for r in call("check", circuit, "--beside", "none").out.splitlines()
               if r.split()[:1] == ["W2"])  # fmt: skip
    assert "A*" in row


def test_the_battery_is_looked_at_while_charging_or_cranking(heater: Path) -> None:
    """A heater in proportion: its current at 12.6 V, at 14.2 V, and at the 9.5 V of cranking."""
    amps = {}
    for supply in ("resting", "charging", "cranking"):
        found = call("check", heater, "--supply", supply, "--json").json
        amps[supply] = next(w["current_a"] for w in found["wires"] if w["wire"] == "W2")
        assert {f["state"]["supply"] for f in found["findings"] if f["state"]} <= {supply}
    assert amps["charging"] / amps["resting"] == pytest.approx(14.2 / 12.6, rel=1e-3)
    assert amps["cranking"] / amps["resting"] == pytest.approx(9.5 / 12.6, rel=1e-3)


OHMS = "table,thin-copper\nsource,ACME sheet C\nmm2,milliohm_per_m\n1.5,25\n6,6.2\n"


def test_resistances_of_a_table_are_chosen_where_it_is_given(heater: Path, tmp_path: Path) -> None:
    """25 mΩ/m for 1.5 mm², where ISO 6722 has at most 12.7: nearly twice the drop is lost."""
    table = tmp_path / "ohms.csv"
    table.write_text(OHMS, "utf-8")
    plain = call("size", heater, "--json").json["loads"][0]["drop_share"]
    told = call("size", heater, "--table", table, "--json").json
    assert told["copper_table"] == "thin-copper"
    assert 1.3 * plain < told["loads"][0]["drop_share"] < 2.1 * plain
    assert any("thin-copper" in r and "supplied by the user" in r for r in told["rests_on"])
