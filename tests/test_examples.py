"""The gallery: every example opens, is sound, and does in some state what it is drawn for."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import numpy as np
import pytest

from checks.finding import ADVICE, Finding
from checks.run import Report, check
from model.circuit import Circuit, Constants
from model.file import dumps, load
from model.kinds import KINDS
from model.kinds.body import Coil
from model.lookup import controls, label, wire_label
from model.survey import Survey

FOLDER = Path(__file__).parents[1] / "assets" / "examples"
PATHS = sorted(FOLDER.glob("*.voltwalk"))
NAMES = [p.stem for p in PATHS]
DEMO = "fuel-pump"
ADVICE_MEANT: dict[str, dict[tuple[str, ...], str]] = {}
"""Advice that stays, by circuit: rule, references and numbers, and why it is meant."""
ON_SHARE, OFF_SHARE = 0.6, 0.08
"""Shares of the nominal voltage above which a load runs, and below which it is off."""


@cache
def circuit(name: str) -> Circuit:
    """Return an example."""
    loaded = load(FOLDER / f"{name}.voltwalk")
    assert not loaded.warnings
    assert not loaded.read_only
    return loaded.circuit


@cache
def report(name: str) -> Report:
    """Return what is found in an example."""
    return check(circuit(name))


def across(name: str, role: str) -> dict[str, np.ndarray[tuple[int], np.dtype[np.float64]]]:
    """Return the volts across every load or coil in every state, by label and element."""
    survey = survey_of(name)
    return {
        f"{label(circuit(name).parts[e.owner])} {e.element}": np.abs(survey.across(i))
        for i, e in survey.solver.network.of_role(role)
    }


def survey_of(name: str) -> Survey:
    """Return the states the checks looked at."""
    case = report(name).case
    assert case is not None
    return case.survey


def place(of: Circuit, finding: Finding) -> tuple[str, ...]:
    """Return rule, references and wire numbers of a finding."""
    parts = [label(of.parts[p]) for p in finding.parts]
    return (finding.rule, *parts, *(wire_label(of.wires[w]) for w in finding.wires))


def test_the_gallery_is_complete() -> None:
    assert DEMO in NAMES
    assert 8 <= len(circuit(DEMO).parts) <= 10
    assert len(NAMES) >= 16
    kinds = {p.kind for n in NAMES for p in circuit(n).parts.values()}
    assert {"timer", "flasher", "lamp-led", "fuse-box", "relay-socket", "starter"} <= kinds
    assert any(circuit(n).settings.nominal_v == 24.0 for n in NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_it_opens_and_is_written_as_it_stands(name: str) -> None:
    assert dumps(circuit(name)) == (FOLDER / f"{name}.voltwalk").read_text(encoding="utf-8")
    assert circuit(name).settings.title
    assert circuit(name).settings.vehicle
    assert circuit(name).settings.note


@pytest.mark.parametrize("name", NAMES)
def test_it_is_sound_without_accepting_anything(name: str) -> None:
    of = circuit(name)
    assert not of.accepted
    assert of.settings.constants == Constants()
    found = {place(of, f) for f in report(name).findings}
    assert {f.severity for f in report(name).findings} <= {ADVICE}
    assert found == set(ADVICE_MEANT.get(name, {}))
    assert report(name).every_state


@pytest.mark.parametrize("name", NAMES)
def test_everything_is_named_and_every_control_says_where_it_rests(name: str) -> None:
    of = circuit(name)
    references = [p.reference for p in of.parts.values()]
    numbers = [w.number for w in of.wires.values()]
    assert len(set(references)) == len(references)
    assert len(set(numbers)) == len(numbers)
    assert all(p.name for p in of.parts.values())
    assert all(w.size and w.length_m and w.colour for w in of.wires.values())
    assert all(of.parts[i].rest for i in controls(of))


@pytest.mark.parametrize("name", NAMES)
def test_every_load_runs_and_every_relay_pulls_in_some_state_and_rests_in_another(
    name: str,
) -> None:
    volts = circuit(name).settings.nominal_v
    for role in ("load", "coil"):
        for what, across_v in across(name, role).items():
            assert across_v.max() >= ON_SHARE * volts, what
            assert across_v.min() <= OFF_SHARE * volts, what


@pytest.mark.parametrize("name", NAMES)
def test_every_position_of_every_control_changes_something(name: str) -> None:
    survey = survey_of(name)
    of = circuit(name)
    for control, positions in controls(of).items():
        seen = {
            p: {
                tuple(np.round(s.solved.volts, 6))
                for s in survey.states
                if s.position(control) == p
            }
            for p in positions
        }
        assert all(seen.values())
        apart = {frozenset(v) for v in seen.values()}
        assert len(apart) == len(positions), label(of.parts[control])


@pytest.mark.parametrize("name", NAMES)
def test_coils_are_suppressed(name: str) -> None:
    of = circuit(name)
    for part in of.parts.values():
        kind = KINDS[part.kind]
        has_coil = any(isinstance(e, Coil) for e in kind.body.elements)
        if has_coil and kind.family == "relay":
            stated = part.ratings.get("suppression", kind.specs["suppression"].default)
            assert stated in ("resistor", "diode"), label(part)
