"""The quick look: a few states, never a finding that all states would take back."""

from __future__ import annotations

from pathlib import Path

import pytest

from checks.finding import Finding
from checks.rule import rules
from checks.run import check
from checks.sketch import sketch
from model.circuit import Circuit
from model.file import load
from model.survey import Survey
from tests.bench.circuits import cells

ROOT = Path(__file__).parents[2]
FILES = sorted((ROOT / "tests/circuits").glob("*.voltwalk")) + sorted(
    (ROOT / "assets/examples").glob("*.voltwalk")
)


NAMED = [f"{rule.name}-{i}" for rule in rules() for i, _ in enumerate(rule.bad)]


def places(findings: tuple[Finding, ...]) -> set[tuple[str, str]]:
    """Return rule and main place of every finding."""
    return {(f.rule, f.place[0] if f.place else "") for f in findings}


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_the_quick_look_finds_what_the_long_one_does(path: Path) -> None:
    circuit = load(path).circuit
    quick, full = check(circuit, quick=True), check(circuit)
    missing = places(full.findings) - places(quick.findings)
    assert {rule for rule, _ in missing} <= quick.pending
    assert places(quick.findings) <= places(full.findings)


@pytest.mark.parametrize("text", [text for rule in rules() for text, _ in rule.bad], ids=NAMED)
def test_no_quick_finding_is_taken_back(text: str) -> None:
    circuit = sketch(text)
    assert places(check(circuit, quick=True).findings) <= places(check(circuit).findings)


def test_many_controls_are_looked_at_a_few_times() -> None:
    circuit: Circuit = cells(100)
    assert len(Survey(circuit).settings) == 4096
    assert len(Survey(circuit, quick=True).settings) == 26
    report = check(circuit, quick=True)
    assert report.quick and not report.every_state
