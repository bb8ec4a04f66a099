"""What every rule owes: its help, a bad example that fires as listed, a good one that is silent."""

from __future__ import annotations

import re

import pytest

from checks.finding import SEVERITIES, Finding
from checks.rule import FAMILIES, SECTIONS, Rule, rules
from checks.run import check
from checks.sketch import sketch

BAD = [(rule, text, expected) for rule in rules() for text, expected in rule.bad]
GOOD = [(rule, text) for rule in rules() for text in rule.good]


def found(rule: Rule, text: str) -> list[Finding]:
    """Return what one rule finds in a sketch when all of them run."""
    return [f for f in check(sketch(text)).findings if f.rule == rule.name]


def names(value: Rule | str | tuple[object, ...]) -> str:
    """Return the name pytest shows."""
    return value.name if isinstance(value, Rule) else ""


def test_the_families_are_there() -> None:
    assert {r.family for r in rules()} <= set(FAMILIES)
    assert {"continuity", "ground path", "rating", "protection", "logic"} <= {
        r.family for r in rules()
    }


@pytest.mark.parametrize("rule", rules(), ids=names)
def test_its_help_has_every_section(rule: Rule) -> None:
    heads = re.findall(r"^([A-Z][a-z ]+)$", rule.help, re.MULTILINE)
    assert tuple(heads) == SECTIONS
    for section in SECTIONS:
        text = rule.help.split(f"\n{section}\n")[1]
        assert len(text.strip().splitlines()[0].strip()) > 10


@pytest.mark.parametrize("rule", rules(), ids=names)
def test_it_has_examples(rule: Rule) -> None:
    assert rule.good
    assert rule.bad


@pytest.mark.parametrize(("rule", "text", "expected"), BAD, ids=names)
def test_its_bad_example_fires_exactly_as_listed(
    rule: Rule, text: str, expected: tuple[tuple[str, tuple[str, ...]], ...]
) -> None:
    got = [(f.severity, f.place) for f in found(rule, text)]
    assert sorted(got) == sorted(expected)


@pytest.mark.parametrize(("rule", "text"), GOOD, ids=names)
def test_its_good_example_is_silent(rule: Rule, text: str) -> None:
    assert found(rule, text) == []


@pytest.mark.parametrize(("rule", "text", "expected"), BAD, ids=names)
def test_its_sentences_are_whole(
    rule: Rule, text: str, expected: tuple[tuple[str, tuple[str, ...]], ...]
) -> None:
    for finding in found(rule, text):
        sentence = finding.sentence()
        assert sentence[0].isupper() or sentence[0].isdigit()
        assert sentence.endswith(".")
        assert "{" not in sentence and "None" not in sentence
        assert finding.severity in SEVERITIES
        assert finding.source
        comma = finding.sentence(",")
        assert comma.replace(",", ".") == sentence.replace(",", ".")


@pytest.mark.parametrize(("rule", "text", "expected"), BAD, ids=names)
def test_its_remedy_cures_and_leaves_nothing_new(
    rule: Rule, text: str, expected: tuple[tuple[str, tuple[str, ...]], ...]
) -> None:
    circuit = sketch(text)
    before = {(f.rule, f.place) for f in check(circuit).findings}
    for finding in found(rule, text):
        if finding.remedy is None:
            continue
        after = {(f.rule, f.place) for f in check(finding.remedy.change.apply(circuit)).findings}
        assert (finding.rule, finding.place) not in after
        assert after <= before


@pytest.mark.parametrize(("rule", "text", "expected"), BAD, ids=names)
def test_same_circuit_same_findings_in_order(
    rule: Rule, text: str, expected: tuple[tuple[str, tuple[str, ...]], ...]
) -> None:
    first, second = check(sketch(text)).findings, check(sketch(text)).findings
    assert first == second
    assert list(first) == sorted(first, key=lambda f: f.order)
