"""Circuits put together by chance: no crash, no number that is none, always an answer in time."""

from __future__ import annotations

import math
import time
from dataclasses import replace
from random import Random

import numpy as np
import pytest

from checks.run import CRASHED, check
from model.circuit import Circuit, Conditions, End, Part, Settings, Wire
from model.kinds import KINDS, Kind, Value
from model.lookup import body_of
from model.wiresize import Size

NUMBERS = (0.0, 1e-9, 1e-3, 0.5, 1.0, 12.0, 24.0, 100.0, 1e4, 1e9)
SIZES = (None, Size(mm2=1.0), Size(mm2=2.5), Size(awg=14), Size(mm2=1000.0), Size(mm2=0.001))
LENGTHS_M = (None, 0.0, 1.0, 0.2, 1e5)
HARD = (219, 842, 1069, 1088, 1813, 1931, 2079, 2446)
"""Seeds at which the solver once failed: floating thick metal, diodes without a threshold,
contacts without resistance beside lamps."""
MOST_S = 20.0


def by_chance(seed: int) -> Circuit:
    """Return a circuit of parts of every kind, joined at random, some ratings absurd."""
    dice = Random(seed)
    count, keys = dice.randint(2, 9), list(KINDS)
    parts = {"G1": Part("G1", "battery", "G1")}
    for i in range(count):
        parts[f"P{i}"] = _part(dice, f"P{i}", KINDS[dice.choice(keys)])
    circuit = Circuit(parts=parts, settings=_settings(dice))
    ends = [End(p.id, t.key, t.face) for p in parts.values() for t in body_of(circuit, p).terminals]
    wires = [_wire(dice, f"W{i}", ends) for i in range(dice.randint(count, 3 * count))]
    return replace(circuit, wires={w.id: w for w in wires})


def _part(dice: Random, key: str, kind: Kind) -> Part:
    """Return a part with a few ratings stated."""
    ways = dice.randint(1, 4) if kind.shape == "ways" else 0
    ratings: dict[str, Value] = {}
    for spec in kind.ratings:
        if dice.random() < 0.12:
            if spec.choices:
                ratings[spec.key] = dice.choice(spec.choices)
            elif spec.quantity not in ("choice", "text"):
                ratings[spec.key] = dice.choice(NUMBERS)
    return Part(key, kind.key, key, ratings=ratings, ways=ways)


def _settings(dice: Random) -> Settings:
    """Return settings."""
    nominal_v = dice.choice([12.0, 12.0, 24.0])
    supply = dice.choice(["resting", "charging", "cranking"])
    engine = dice.choice(["stopped", "running"])
    temperature_c = dice.choice([20.0, -40.0, 125.0])
    conditions = Conditions(supply, engine, dice.random() < 0.8, temperature_c)
    return Settings(nominal_v=nominal_v, conditions=conditions)


def _wire(dice: Random, key: str, ends: list[End]) -> Wire:
    """Return a wire between any two ends, now and then without one."""
    first = dice.choice(ends) if dice.random() > 0.05 else None
    ohm = dice.choice([None, None, 0.0, 0.0])
    size, length_m = dice.choice(SIZES), dice.choice(LENGTHS_M)
    return Wire(key, key, first, dice.choice(ends), size, length_m, ends_ohm=ohm)


@pytest.mark.parametrize("seed", [*range(60), *HARD])
def test_it_is_checked(seed: int) -> None:
    start = time.perf_counter()
    report = check(by_chance(seed))
    assert time.perf_counter() - start < MOST_S
    assert not [f.sentence() for f in report.findings if f.rule in (CRASHED, "no-solution")]
    assert report.case is not None
    assert np.isfinite(report.case.survey.volts).all()
    assert np.isfinite(report.case.survey.amps).all()
    for finding in report.findings:
        numbers = [v for v in finding.values.values() if isinstance(v, float)]
        assert all(math.isfinite(n) for n in numbers), finding.sentence()


@pytest.mark.parametrize("seed", range(60, 100))
def test_currents_at_every_node_sum_to_zero(seed: int) -> None:
    report = check(by_chance(seed))
    assert report.case is not None
    survey, net = report.case.survey, report.case.network
    for row in range(0, len(survey.settings), 7):
        amps = survey.amps[row]
        left = np.bincount(net.a, amps, net.count) - np.bincount(net.b, amps, net.count)
        assert np.abs(left).max() <= 1e-6 * (1.0 + np.abs(amps).max())


@pytest.mark.parametrize("kind", ["", *KINDS])
@pytest.mark.parametrize("quick", [True, False])
def test_a_blank_circuit_and_a_lone_part_are_checked(kind: str, quick: bool) -> None:
    """Nothing conducts there, or nothing is joined: tables of nothing must have their types."""
    parts = {"P1": Part("P1", kind, "P1")} if kind else {}
    assert not [f for f in check(Circuit(parts), quick=quick).findings if f.rule == CRASHED]
