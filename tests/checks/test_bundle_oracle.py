"""Limits in bundles against a plain second calculation, over random zones, bundles and loads."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from checks.case import Case
from checks.sketch import sketch
from model.circuit import Branch, Circuit, Zone

# A seller's data sheet of thin-wall cable, A at 30 °C for 105 °C material.
SHEET = {1.0: 16.5, 1.5: 21.0, 2.5: 29.0, 4.0: 39.0}
# MIL-W-5088L curves as tabulated in a public note.
SHARE = [1.0, 1.0, 0.825, 0.725, 0.66, 0.61, 0.57]

loads = st.tuples(
    st.sampled_from(sorted(SHEET)),  # mm²
    st.floats(0.2, 30.0),  # A
    st.booleans(),  # behind the change-over's first throw, else its second
    st.sets(st.integers(0, 2), max_size=2),  # bundles it lies in
)


def circuit_of(chosen: list[tuple[float, float, bool, set[int]]], celsius: list[float]) -> Circuit:
    """Return heaters on either throw of a switch, their feeds in up to three bundles."""
    lines = ["G1 battery", "F1 fuse-strip rating_a=250", "X1 ground", "X2 stud", "X3 stud",
             "S1 switch terminals=C,A,B table=ONE:C-A;TWO:C-B rest=ONE contact_a=500",
             "WF G1.+ F1.1 50 0.1", "WS F1.2 S1.C 50 0.1", "WA S1.A X2.s 50 0.1",
             "WB S1.B X3.s 50 0.1", "WG X1.g G1.- 50 0.1"]  # fmt: skip
    for n, (mm2, amps, first, _) in enumerate(chosen):
        lines += [f"E{n} heater current_a={amps} at_v=12.6",
                  f"W{n} {'X2' if first else 'X3'}.s E{n}.+ {mm2} 0.1",
                  f"WE{n} E{n}.- X1.g 50 0.1"]  # fmt: skip
    made = sketch("\n".join(lines))
    zones = {f"z{k}": Zone(f"z{k}", f"z{k}", c) for k, c in enumerate(celsius)}
    branches = {f"b{k}": Branch(f"b{k}", f"B{k}", zone=f"z{k}") for k in range(3)}
    wires = dict(made.wires)
    for n, (_, _, _, lies) in enumerate(chosen):
        along = tuple(f"b{k}" for k in sorted(lies))
        wires[f"W{n}"] = replace(wires[f"W{n}"], branches=along)
    return replace(made, wires=wires, zones=zones, branches=branches)


def oracle(
    case: Case, chosen: list[tuple[float, float, bool, set[int]]], celsius: list[float]
) -> dict[str, float]:
    """Return the least limit of every feed over the states, by counting wire by wire."""
    amps = {e.owner: np.abs(case.survey.amps[:, i]) for i, e in case.network.of_role("wire")}
    least: dict[str, float] = {}
    for n, (mm2, _, _, lies) in enumerate(chosen):
        limits = [] if lies else [SHEET[mm2]]
        if lies:  # outside the bundles: as warm as the hottest of them
            limits.append(SHEET[mm2] * _warm(max(celsius[k] for k in lies)))
        for k in lies:
            members = [m for m, other in enumerate(chosen) if k in other[3]]
            for row in range(len(case.survey.settings)):
                loaded = 1
                for m in members:
                    size = chosen[m][0]
                    least_a = 0.30 * SHARE[len(members)] * SHEET[size] * _warm(celsius[k])
                    loaded += m != n and amps[f"W{m}"][row] > max(least_a, 0.01)
                limits.append(SHEET[mm2] * _warm(celsius[k]) * SHARE[loaded])
        least[f"W{n}"] = min(limits)
    return least


def _warm(celsius: float) -> float:
    return math.sqrt(max(105.0 - max(celsius, 30.0), 0.0) / 75.0)


@settings(max_examples=60, deadline=None)
@given(st.lists(loads, min_size=1, max_size=5), st.lists(st.floats(0, 104), min_size=3, max_size=3))
def test_limits_are_those_of_a_plain_count(
    chosen: list[tuple[float, float, bool, set[int]]], celsius: list[float]
) -> None:
    case = Case(circuit_of(chosen, celsius))
    for wire, wanted in oracle(case, chosen, celsius).items():
        held = case.ampacity(case.circuit.wires[wire])
        assert held is not None and held.value_a is not None
        assert math.isclose(held.value_a, wanted, rel_tol=1e-9, abs_tol=1e-9), wire
        hot = held.copper_c(wanted)
        if wanted > 0.0 and hot is not None and held.warmth.celsius >= 30.0:
            assert math.isclose(hot, 105.0, rel_tol=1e-9)
