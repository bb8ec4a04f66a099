"""`check`: what it writes and which findings count for its exit code."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

import app.commands.check as check_verb
from checks.finding import ADVICE, DANGER, FAULT, SEVERITIES, UNKNOWN, Finding
from checks.run import Report
from checks.sketch import sketch
from model.circuit import Acceptance, Circuit
from model.file import dumps
from tests.app.commands.calling import call, written

NO_RETURN = """
G1 battery
F1 fuse-blade rating_a=15
S1 switch
M1 fan current_a=5
X1 ground
W1 G1.+ F1.1 2.5 0.1 RD
W2 F1.2 S1.1 2.5 1 RD
W3 S1.2 M1.+ 2.5 1 BU
W4 G1.- X1.g 2.5 1 BK
"""


def finding(severity: str, accepted: str = "") -> Finding:
    return Finding(
        rule="invented", severity=severity, says="{amps:current} in {part}.", parts=("M1",),
        wires=("W3",), values={"amps": 12.5, "part": "M1"}, accepted=accepted,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("found", "code", "strict"),
    [
        ([], 0, 0),
        ([finding(DANGER)], 1, 1),
        ([finding(FAULT)], 1, 1),
        ([finding(ADVICE)], 0, 1),
        ([finding(UNKNOWN)], 0, 1),
        ([finding(DANGER, "tried on the car")], 0, 0),
        ([finding(ADVICE, "meant so"), finding(UNKNOWN, "as found")], 0, 0),
        ([finding(DANGER, "meant so"), finding(FAULT)], 1, 1),
    ],
)
def test_what_counts(
    found: list[Finding], code: int, strict: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def report(_: Circuit) -> Report:
        return Report(tuple(found), ("ampacity: vehicle",), True)

    monkeypatch.setattr(check_verb, "check", report)
    file = written(tmp_path, NO_RETURN)
    for words in ((), ("--json",)):
        assert call("check", file, *words).code == code
        assert call("check", file, "--strict", *words).code == strict


def test_a_missing_return_is_found_and_written_with_references(tmp_path: Path) -> None:
    done = call("check", written(tmp_path, NO_RETURN), "--json")
    assert (done.code, done.err) == (1, "")
    data = done.json
    assert list(data) == [
        "file", "circuit", "findings", "tables", "every_state", "counts", "table_sources", "wires",
    ]  # fmt: skip
    (found,) = (f for f in data["findings"] if f["rule"] == "no-return")
    assert list(found) == [
        "rule", "severity", "parts", "wires", "values", "source", "sentence", "accepted", "reason",
        "assumed", "state",
    ]  # fmt: skip
    assert found["severity"] == "fault"
    assert found["parts"][0] == "M1"
    assert "M1" in found["sentence"]
    assert found["source"]
    assert (found["accepted"], found["reason"]) == (False, "")
    assert data["counts"]["fault"] == sum(f["severity"] == "fault" for f in data["findings"])
    assert any("ampacity" in t for t in data["tables"])
    assert set(data["counts"]) == {*SEVERITIES, "accepted"}


def test_an_accepted_finding_stays_listed_and_never_counts(tmp_path: Path) -> None:
    circuit = sketch(NO_RETURN)
    before = call("check", written(tmp_path, NO_RETURN), "--json").json["findings"]
    accepted = {
        f"a{i}": Acceptance(
            f"a{i}", f["rule"], tuple(f["parts"]), tuple(f["wires"]), "on the bench"
        )
        for i, f in enumerate(before)
    }
    file = tmp_path / "accepted.voltwalk"
    file.write_text(dumps(replace(circuit, accepted=accepted)), encoding="utf-8")
    done = call("check", file, "--json", "--strict")
    assert done.code == 0
    assert len(done.json["findings"]) == len(before)
    assert all(f["accepted"] and f["reason"] == "on the bench" for f in done.json["findings"])
    assert done.json["counts"]["accepted"] == len(before)
    text = call("check", file).out
    assert "ACCEPTED" in text
    assert "accepted: on the bench" in text
    assert "FAULT" not in text


def test_the_json_shows_references_and_not_ids(tmp_path: Path) -> None:
    circuit = sketch(NO_RETURN)
    renamed = replace(circuit.parts["M1"], reference="Fan, front")
    wire = replace(circuit.wires["W3"], number="203")
    circuit = replace(
        circuit,
        parts={**circuit.parts, "M1": renamed},
        wires={**circuit.wires, "W3": wire},
    )
    file = tmp_path / "renamed.voltwalk"
    file.write_text(dumps(circuit), encoding="utf-8")
    found = call("check", file, "--json").json["findings"]
    named = {name for f in found for name in (*f["parts"], *f["wires"])}
    assert "Fan, front" in named
    assert not named & {"M1", "W3"}


def test_the_text_is_grouped_with_counts_and_tables_at_the_end(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = tuple(finding(s) for s in SEVERITIES)
    monkeypatch.setattr(check_verb, "check", lambda _: Report(found, ("copper: vehicle",), False))
    lines = call("check", written(tmp_path, NO_RETURN)).out.splitlines()
    heads = [line for line in lines if line.isupper()]
    assert heads == ["DANGER", "FAULT", "ADVICE", "UNKNOWN"]
    assert lines.count("  invented  M1, W3") == 4
    assert "    12.5 A in M1." in lines
    assert "1 danger, 1 fault, 1 advice, 1 unknown, 0 accepted" in lines
    assert any(line.startswith("There are too many combinations") for line in lines)
    assert lines[-1] == "tables: copper: vehicle"
