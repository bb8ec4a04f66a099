"""Many relays that never rest: the orders of moving have one budget for all states together."""

from __future__ import annotations

import time

import pytest

from checks.sketch import sketch
from model.circuit import Circuit
from model.solver import NONE, SEVERAL, Solver
from model.states import Setting
from model.survey import Survey

HEAD = """
    G1 battery
    F1 fuse-blade
    X1 ground
    S0 switch
    W01 G1.+ F1.1 1 0.1
    W02 F1.2 S0.1 1 0.1
    W03 X1.g G1.- 1 0.1
"""


def buzzers(count: int, switches: int) -> Circuit:
    """Return relays that each cut their own feed, beside switches with a lamp each."""
    lines = [HEAD]
    for i in range(count):
        lines += [f"K{i} relay-changeover", f"W1{i} S0.2 K{i}.30 1 1",
                  f"W2{i} K{i}.87a K{i}.86 1 1", f"W3{i} K{i}.85 X1.g 1 1"]  # fmt: skip
    for i in range(1, switches + 1):
        lines += [f"S{i} switch", f"H{i} lamp", f"W4{i} F1.2 S{i}.1 1 1",
                  f"W5{i} S{i}.2 H{i}.+ 1 1", f"W6{i} H{i}.- X1.g 1 1"]  # fmt: skip
    return sketch("\n".join(lines))


def test_twelve_buzzers_and_six_switches_are_looked_at_in_time() -> None:
    start = time.process_time()
    survey = Survey(buzzers(12, 6))
    assert time.process_time() - start < 30.0
    assert survey.every
    assert len(survey.restless) == 64  # every setting with S0 on
    assert {settled.settled for _, settled in survey.restless} == {NONE}


@pytest.mark.parametrize("count", [2, 3, 5])
def test_a_few_are_tried_in_every_order(count: int) -> None:
    settled = Solver(buzzers(count, 0)).settle(Setting({"S0": "ON"}))
    assert settled.settled == NONE
    assert settled.complete
    assert settled.tried == 2**count


def test_a_small_budget_says_that_it_was_not_enough() -> None:
    solver = Solver(buzzers(6, 0))
    assert not solver.settle(Setting({"S0": "ON"}), most=10).complete
    assert solver.settle(Setting({"S0": "ON"})).complete


def test_a_ring_of_break_contacts_still_has_its_two_outcomes() -> None:
    lines = [HEAD]
    for i in range(6):
        lines += [f"K{i} relay-changeover", f"W1{i} S0.2 K{i}.30 1 1",
                  f"W2{i} K{i}.87a K{(i + 1) % 6}.86 1 1", f"W3{i} K{i}.85 X1.g 1 1"]  # fmt: skip
    survey = Survey(sketch("\n".join(lines)))
    ((_, settled),) = survey.restless
    assert settled.settled == SEVERAL
    # Every second relay in, one way or the other.
    assert [sorted(k for k, _ in s.pulled) for s in settled.states] == [
        ["K0", "K2", "K4"], ["K1", "K3", "K5"]]  # fmt: skip
