"""What is found in the reference circuits as people draw them: each line read and judged.

A list a circuit stands in `reviewed`: rule, severity, place by references and numbers, and why it
is right. A finding that is not in the list, or one that is gone, fails: no rule is blind, none
cries wolf.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from checks.finding import Finding
from checks.run import check
from model.circuit import Circuit
from model.lookup import label, wire_label
from tests.circuits import NAMES, circuit

FOLDER = Path(__file__).parent / "reviewed"
Line = tuple[str, str, tuple[str, ...]]
CERTAIN = {
    "C01": ("thinner-without-fuse", "danger", "W08"),  # 60 A on 0.75 mm²
    "C06": ("thinner-without-fuse", "danger", "W05"),  # 40 A on 2 mm²
    "C13": ("fuse-above-wire", "advice", "W06"),  # 15 A on 0.75 mm²
    "C05": ("unfused-length", "danger", "W07"),
    "C18": ("unfused-length", "danger", "W13"),
}
"""Findings any practitioner expects, kept apart from the lists."""


def reviewed(name: str) -> list[dict[str, Any]]:
    """Return the list of a circuit."""
    lines: list[dict[str, Any]] = json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))
    return lines


@cache
def found(name: str) -> tuple[Line, ...]:
    """Return what is found in a circuit, as lines of the list."""
    of = circuit(name)
    return tuple((f.rule, f.severity, place(of, f)) for f in check(of).findings)


def place(of: Circuit, finding: Finding) -> tuple[str, ...]:
    """Return the references of the parts, then the numbers of the wires."""
    parts = [label(of.parts[p]) for p in finding.parts]
    return (*parts, *(wire_label(of.wires[w]) for w in finding.wires))


@pytest.mark.parametrize("name", NAMES)
def test_exactly_what_was_reviewed_is_found(name: str) -> None:
    wanted = [(r["rule"], r["severity"], tuple(r["place"])) for r in reviewed(name)]
    assert sorted(found(name)) == sorted(wanted)


@pytest.mark.parametrize("name", NAMES)
def test_every_line_says_why(name: str) -> None:
    for line in reviewed(name):
        assert len(line["why"].split()) >= 6
        assert line["why"].endswith(".")


@pytest.mark.parametrize("name", CERTAIN)
def test_what_nobody_overlooks_is_found(name: str) -> None:
    rule, severity, wire = CERTAIN[name]
    assert any(r == rule and s == severity and wire in p for r, s, p in found(name))
