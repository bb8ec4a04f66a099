"""What the README says is so: commands, outputs, exit codes, keys, rules, tables, links."""

from __future__ import annotations

import io
import json
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from app.cli import HELP, VERBS, main
from app.commands.errors import ExitCode
from app.entry import Entry
from app.entry import read as read_line
from checks.finding import SEVERITIES
from checks.rule import rules
from checks.sketch import sketch
from model.circuit import Circuit
from model.file.csv_table import read_table, with_table
from model.kinds import KINDS
from model.survey import MOST_STATES
from model.tables.ampacity import DEFAULT_TABLE, ampacity, ampacity_table_ids
from model.tables.copper import DEFAULT_TABLE as COPPER_TABLE
from model.tables.store import TABLE_FOLDER
from model.wiresize import parse_size
from model.zones import wire_warmth
from tests import markdown

ROOT = markdown.ROOT
README = markdown.page("README.md")
CALLS = [
    call
    for block in markdown.code_blocks(README, "console")
    for call in markdown.calls(block)
]  # fmt: skip
EXAMPLES = ROOT / "assets" / "examples"


def called(words: list[str]) -> tuple[int, str, str]:
    """Return exit code, stdout and stderr of a call."""
    out, err = io.StringIO(), io.StringIO()
    code = main(words, {}, out, err)
    return code, out.getvalue(), err.getvalue()


def data(*words: str) -> dict[str, Any]:
    """Return the JSON of a call."""
    found: dict[str, Any] = json.loads(called([*words, "--json"])[1])
    return found


def keys(rows: list[dict[str, str]], head: str) -> list[str]:
    """Return the keys that a table of the README lists, in order."""
    return [key for row in rows for key in markdown.words_in_code(row[head])]


# --- the page itself ------------------------------------------------------------------------


def test_it_opens_with_the_job_then_a_picture_then_the_commands() -> None:
    title, job, picture, head, *_ = [p for p in README.split("\n\n") if p.strip()]
    assert title == "# Voltwalk"
    for who in ("race car", "teaches", "owns"):
        assert who in job
    assert picture.startswith("![") and "assets/pictures/" in picture
    assert head == "## Start"
    assert markdown.code_blocks(README, "console")[0].split("\n")[:2] == [
        "python3 -m app",
        "python3 -m tests",
    ]


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_every_link_leads_somewhere(name: str) -> None:
    found = list(markdown.links(markdown.page(name)))
    assert found or name == "DEVELOPERS.md"
    for link in found:
        assert (ROOT / link).exists(), link


def test_every_file_named_is_there() -> None:
    for word in re.findall(r"(?:assets|tests/circuits|model)/[\w./-]+", README):
        assert (ROOT / word.rstrip(".")).exists(), word


def test_the_python_it_asks_for_is_the_one_of_the_project() -> None:
    project = tomllib.loads(markdown.page("pyproject.toml"))["project"]
    assert f"Python {project['requires-python'].removeprefix('>=')} or later" in README
    assert project["name"] in project["scripts"]
    assert project["license"] in README


def test_a_demo_is_there_for_the_first_start() -> None:
    pytest.importorskip("PySide6")
    from app.files import demo_path

    assert demo_path() is not None


# --- the rules and the examples --------------------------------------------------------------


def test_the_list_of_rules_is_that_of_the_program() -> None:
    rows = markdown.table(README, "family", "rule", "what it finds")
    told = [(r["family"], markdown.plain(r["rule"]), r["what it finds"]) for r in rows]
    assert told == [(r.family, r.name, r.help.splitlines()[0].rstrip(".")) for r in rules()]


def test_the_severities_and_the_number_of_states() -> None:
    listed = re.findall(r"^- \*\*(\w+)\*\*:", README, re.MULTILINE)
    assert tuple(listed) == SEVERITIES
    assert f"{MOST_STATES:,} combinations" in README


def test_the_examples_are_those_of_the_folder_and_sound() -> None:
    rows = markdown.table(README, "file", "circuit")
    files = sorted(EXAMPLES.glob("*.voltwalk"))
    titles = [json.loads(f.read_text(encoding="utf-8"))["title"] for f in files]
    told = [(markdown.plain(r["file"]), r["circuit"]) for r in rows]
    assert told == list(zip([f.stem for f in files], titles, strict=True))


# --- the tables ------------------------------------------------------------------------------


def test_published_tables_disagree_as_told() -> None:
    sentence = " ".join(markdown.section(README, "for the same\ncopper:", ". So").split())
    amperes = re.fullmatch(
        r"0\.75 mm² carries (\d+) A by a cautious workshop rule, (\d+) A by the data sheet of a "
        r"thin-wall cable, (\d+) A by the small-craft standard for 105 °C insulation "
        r"\(the last from memory\)",
        sentence,
    )
    assert amperes
    size = parse_size("0.75 mm²")
    found = [ampacity(size, table) for table in ("workshop", "thin-wall", "iso-10133-105")]
    assert [f.standing for f in found] == ["verified", "verified", "from memory"]
    assert [f.value_a for f in found] == [float(a) for a in amperes.groups()]
    assert max(map(float, amperes.groups())) == 2 * min(map(float, amperes.groups()))


def test_the_default_tables_are_those_told() -> None:
    assert f"**Current, `{DEFAULT_TABLE}`" in README
    assert f"**Copper, `{COPPER_TABLE}`" in README
    at = {text: ampacity(parse_size(text)).table for text in ("10 mm²", "16 mm²", "18 AWG")}
    assert at == {"10 mm²": "thin-wall", "16 mm²": "33cfr-105", "18 AWG": "33cfr-105"}
    assert ampacity(parse_size("0.1 mm²")).value_a is None
    assert ampacity(parse_size("1.3 mm²")) == ampacity(parse_size("1 mm²"))
    assert Circuit().settings.conditions.zone_c == 30.0


def test_another_table_is_chosen_as_told(tmp_path: Path) -> None:
    (line,) = re.findall(r'`("tables": .*)` in the file', README)
    text = (EXAMPLES / "fuel-pump.voltwalk").read_text(encoding="utf-8")
    path = tmp_path / "chosen.voltwalk"
    path.write_text(text.replace('"voltwalk": 1,', f'"voltwalk": 1, {line},'), encoding="utf-8")
    chosen = json.loads("{" + line + "}")["tables"]["ampacity"]
    assert f"ampacity: {chosen}" in data("check", str(path))["tables"]
    path.write_text(path.read_text(encoding="utf-8").replace(chosen, "nonsense"), encoding="utf-8")
    code, _, talk = called(["check", str(path)])
    assert code == ExitCode.BAD_FILE
    assert all(name in talk for name in ampacity_table_ids())


def test_the_standings_are_all_told() -> None:
    used = {
        standing
        for file in TABLE_FOLDER.glob("*.json")
        for standing in re.findall(r'"standing": "([^"]+)"', file.read_text(encoding="utf-8"))
    }
    told = markdown.section(README, "how well it is known:", "The default ratings")
    assert used == set(re.findall(r"\*([^*]+)\*", told))


# --- the command line ------------------------------------------------------------------------


@pytest.mark.parametrize("call", CALLS, ids=lambda c: " ".join(c.words))
def test_a_command_shows_what_is_shown(
    call: markdown.Call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert call.words[:3] == ("python3", "-m", "app")
    words = [str(ROOT / w) if w.endswith(".voltwalk") else w for w in call.words[3:]]
    if words[0] == "draw":
        pytest.importorskip("PySide6")
    monkeypatch.chdir(tmp_path)
    code, out, talk = called(words)
    assert code == call.code
    assert markdown.agrees(call.shown, out + talk), out + talk
    if "--out" in words:
        assert (tmp_path / words[-1]).stat().st_size > 1000


def test_enough_commands_are_shown() -> None:
    assert {call.words[3] for call in CALLS} == set(VERBS)
    assert {0, 1, 2} <= {call.code for call in CALLS}


def test_the_exit_codes_are_those_of_the_program() -> None:
    rows = markdown.table(README, "exit code", "meaning")
    codes = [int(r["exit code"]) for r in rows]
    assert codes == [int(c) for c in ExitCode if c is not ExitCode.INTERRUPTED]
    assert all(str(code) in HELP for code in codes)


def test_a_wrong_call_a_bad_file_and_strictness(tmp_path: Path) -> None:
    bad = tmp_path / "bad.voltwalk"
    bad.write_text("{", encoding="utf-8")
    assert called(["check", str(bad)])[0] == ExitCode.BAD_FILE
    assert called(["chek", str(bad)])[0] == ExitCode.WRONG_CALL
    advised = str(ROOT / "tests" / "circuits" / "C03B.voltwalk")
    counts = data("check", advised)["counts"]
    grave = counts["danger"] + counts["fault"]
    assert called(["check", advised])[0] == (1 if grave else 0)
    assert called(["check", "--strict", advised])[0] == (1 if any(counts.values()) else 0)


def test_the_keys_of_check_are_those_listed() -> None:
    found = data("check", str(ROOT / "tests" / "circuits" / "C01.voltwalk"))
    assert keys(markdown.table(README, "key", "holds"), "key") == list(found)
    finding = keys(markdown.table(README, "key of a finding", "holds"), "key of a finding")
    assert finding == list(found["findings"][0])
    (row,) = (r for r in markdown.table(README, "key", "holds") if r["key"] == "`counts`")
    assert markdown.words_in_code(row["holds"]) == list(found["counts"])


def test_the_keys_of_operate_are_those_listed() -> None:
    found = data("operate", str(EXAMPLES / "fuel-pump.voltwalk"), "--set", "S1=ON")
    assert list(found) == ["file", "circuit", "steps", "rests_on"]
    rows = markdown.table(README, "key of a step", "holds")
    assert keys(rows, "key of a step") == list(found["steps"][0])
    (loads,) = (r for r in rows if r["key of a step"] == "`loads`")
    assert markdown.words_in_code(loads["holds"]) == list(found["steps"][0]["loads"]["M1"])


def test_a_race_and_a_buzzer_come_out_as_told(tmp_path: Path) -> None:
    """Each of two relays fed through the other's break contact; one fed through its own."""
    steps = keys(markdown.table(README, "key of a step", "holds"), "key of a step")
    each = steps[steps.index("engine") :]
    for crossed, word, key in ((True, "several", "outcomes"), (False, "none", "states")):
        path = tmp_path / f"{word}.voltwalk"
        path.write_text(json.dumps(_undecided(crossed)), encoding="utf-8")
        code, out, _ = called(["operate", str(path), "--set", "S1=ON", "--json"])
        step = json.loads(out)["steps"][0]
        assert (code, step["settled"]) == (ExitCode.FOUND, word)
        assert len(step[key]) > 1
        assert [list(one) for one in step[key]] == [each] * len(step[key])


def _undecided(crossed: bool) -> dict[str, Any]:
    """Return two relays that fight (crossed), or one that cuts its own feed."""
    relays = ("k1", "k2") if crossed else ("k1",)
    feeds = {"k1": "k2" if crossed else "k1", "k2": "k1"}
    ends = [("g1.+", "s1.1"), ("x1.g", "g1.-")]
    for relay in relays:
        through = feeds[relay]
        ends += [(f"{through}.87a", f"{relay}.86"), (f"{relay}.85", "x1.g")]
        ends += [("s1.2", f"{relay}.30")]
    wires = [{"id": f"w{i}", "from": a, "to": b, "mm2": 1, "m": 1} for i, (a, b) in enumerate(ends)]
    kinds = {"g1": "battery", "s1": "switch", "x1": "ground"}
    kinds |= dict.fromkeys(relays, "relay-changeover")
    parts = [{"id": i, "kind": kind, "ref": i.upper()} for i, kind in kinds.items()]
    return {"voltwalk": 1, "parts": parts, "wires": wires}


def test_every_fault_listed_can_be_put_in_place() -> None:
    rows = markdown.table(README, "fault", "what it is")
    faults = [
        word for row in rows for cell in row.values() for word in markdown.words_in_code(cell)
    ]
    assert len(faults) > len(rows)
    pump, held = EXAMPLES / "fuel-pump.voltwalk", EXAMPLES / "water-pump-start-stop.voltwalk"
    for fault in faults:
        file = held if fault.startswith("V1") else pump
        step = data("operate", str(file), "--fault", fault)["steps"][0]
        assert len(step["faults"]) == 1
        assert called(["operate", str(file), "--fault", fault, "--fault", "W4=none"])[0] == 0


def test_engine_and_supply_are_set_as_told() -> None:
    told = markdown.section(README, "`--set` also takes", "Capitals")
    names = [w.partition("=")[2] or w for w in markdown.words_in_code(told)]
    engines, supplies = names[:3], names[3:]
    for key, values in (("engine", engines), ("supply", supplies)):
        assert len(values) == 3
        for value in values:
            step = data("operate", str(EXAMPLES / "fuel-pump.voltwalk"), "--set", f"{key}={value}")
            assert step["steps"][0][key] == value


def test_draw_gives_the_keys_listed(tmp_path: Path) -> None:
    pytest.importorskip("PySide6")
    told = markdown.section(README, "The ending says how:", "\n\n")
    words = markdown.words_in_code(told)
    for ending in (w for w in words if w.startswith(".")):
        out = tmp_path / f"sheet{ending}"
        found = data("draw", str(EXAMPLES / "fuel-pump.voltwalk"), "--out", str(out))
        assert out.stat().st_size == found["bytes"]
    assert list(found) == [w for w in words if w[0] not in ".-"]


def test_a_table_of_ones_own_is_read_as_told() -> None:
    (text,) = markdown.code_blocks(README, "csv")
    table = read_table(text)
    assert (table.sort, table.edition, table.heads) == ("ampacity", "2024", ("mm2", "90", "105"))
    assert "supplied by the user" in table.from_where
    for columns in ("percent,min_s,max_s\n135,1,600", "wires,share\n3,0.8",
                    "type,coil_v,coil_ohm,contact_a\nR1,12,90,40"):  # fmt: skip
        assert columns.splitlines()[0] in README
        with_table(Circuit(), read_table(f"table,x\nsource,y\n{columns}\n"))


def test_zones_and_bundles_are_typed_as_told() -> None:
    circuit = sketch("K1 relay-make\nF2 fuse-blade\nW3 F2.1 K1.30 1 1\nW7 F2.2 K1.87 1 1")
    for line in ('zone "engine bay" 85 °C K1 F2', "bundle B1 W3 W7"):
        assert f"`{line}`" in README
        entry = read_line(circuit, line)
        assert isinstance(entry, Entry)
        circuit = entry.change.apply(circuit)
    assert wire_warmth(circuit, circuit.wires["W3"]).celsius == 85.0
    assert circuit.wires["W7"].branches


# --- safety ----------------------------------------------------------------------------------


def test_the_cautions_are_those_of_the_window() -> None:
    pytest.importorskip("PySide6")
    from app.words import safety

    cautions = markdown.section(README, "## Safety", "## What it does not do yet")
    said = " ".join(cautions.split())
    for sentence in re.split(r"(?<=\.) |<br>|<b>.*</b>", safety().split("<br><br>", 1)[1]):
        assert not sentence.strip() or sentence.strip(". ") in said, sentence


def test_what_it_does_not_do_yet_is_still_so() -> None:
    """A limit that has gone must go from the page too."""
    pytest.importorskip("PySide6")
    from app.actions import ACTIONS

    names = " ".join(rule.name for rule in rules())
    for word in ("backwards", "series"):
        assert word not in names
    assert not {"connectors", "branches", "cables"} & {spec.key for spec in ACTIONS}
    assert not {"prove", "effects", "papers"} & set(VERBS)


def test_kinds_of_the_reference_are_all_kinds() -> None:
    told = (ROOT / "assets" / "format" / "kinds.md").read_text(encoding="utf-8")
    assert re.findall(r"^## (.*)$", told, re.MULTILINE) == list(KINDS)
