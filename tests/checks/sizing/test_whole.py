"""A whole circuit with shared feeds against brute force in plain numbers.

Two loads behind their own fuses hang on one trunk behind a main fuse. For every random circuit all
fuses and sizes up to the advised ones are tried together: only the advised ones may satisfy
everything. So no advice violates a rule, and nothing smaller satisfies all of them.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

import numpy as np
import pytest

from checks.sizing import FUSE, WIRE, Plan, plan_sizes
from checks.sketch import sketch
from model.circuit import Constants, Settings
from tests.checks.sizing.plain import (
    AMPACITY,
    FUSES,
    INNER,
    LIFT_V,
    VOLTS,
    earliest_s,
    ohm,
    runs,
    survives,
)

PLAIN = Settings(constants=Constants(wire_ends_ohm=0.0, fuse_ohm_a=1e-6, ground_ohm=1e-6))
JUST = 0.00005
"""A drop of 3.004 % is shown as 3.0 % and counts as kept."""
TRUNK = """
    G1 battery inner_ohm=0.02 voltage_v=12.6
    F0 fuse-blade rating_a=40
    B1 splice
    X3 ground
    W1 G1.+ F0.1 6 0.1
    W2 F0.2 B1.s 6 {trunk}
    W3 X3.g G1.- 120 0.001
"""
BRANCH = """
    F{n} fuse-blade rating_a=20
    S{n} switch contact_a=80 contact_ohm=0.000001
    M{n} motor at_v=12 resistance_ohm={ohm} start_multiple={times} start_s={lasts} duty={duty}
    X{n} ground
    W{n}1 B1.s F{n}.1 6 {stub}
    W{n}2 F{n}.2 S{n}.1 6 {length}
    W{n}3 S{n}.2 M{n}.a 6 0.5
    W{n}4 M{n}.b X{n}.g 6 0.3
"""


@dataclass(frozen=True)
class Load:
    """One branch: what it draws, how it starts, how far it is."""

    ohm: float
    times: float
    lasts: float
    stub: float
    length: float
    critical: bool


@dataclass(frozen=True)
class Sizes:
    """One way to size it all: main fuse and trunk, and (stub, fuse, branch) of each load."""

    main: float
    trunk: float
    branches: tuple[tuple[float, float, float], ...]


def random_circuit(seed: int) -> tuple[float, tuple[Load, Load]]:
    dice = np.random.default_rng(seed)

    def some(low: float, high: float, digits: int = 2) -> float:
        return round(float(dice.uniform(low, high)), digits)

    loads = tuple(
        Load(some(1.2, 6), some(1, 3), some(0.02, 0.6, 3), some(0.1, 1), some(0.5, 4), bool(flag))
        for flag in dice.integers(0, 2, 2)
    )
    return some(0.3, 2.5), (loads[0], loads[1])


def text_of(trunk: float, loads: tuple[Load, Load]) -> str:
    branches = (
        BRANCH.format(
            n=n, ohm=d.ohm, times=d.times, lasts=d.lasts, stub=d.stub, length=d.length,
            duty="critical" if d.critical else "not-critical",
        )
        for n, d in enumerate(loads, 1)
    )  # fmt: skip
    return TRUNK.format(trunk=trunk) + "".join(branches)


def holds(sizes: Sizes, trunk_m: float, loads: tuple[Load, Load]) -> bool:
    """Tell in plain numbers whether everything is satisfied."""
    head = ohm(sizes.trunk, 0.1 + trunk_m)
    ways = [
        ohm(stub, d.stub) + ohm(size, d.length + 0.8)
        for (stub, _, size), d in zip(sizes.branches, loads, strict=True)
    ]
    leads = [1 / (w + d.ohm) for w, d in zip(ways, loads, strict=True)]
    bus = VOLTS / (1 + (INNER + head) * sum(leads))
    both = [bus * g for g in leads]
    alone = [VOLTS / (INNER + head + 1 / g) for g in leads]
    if not runs(sizes.main, sum(both)) or not sizes.main <= AMPACITY[sizes.trunk]:
        return False
    if not survives(sizes.main, sizes.trunk, INNER + head):
        return False
    for n, ((stub, fuse, size), d) in enumerate(zip(sizes.branches, loads, strict=True)):
        if not runs(fuse, alone[n]) or fuse > AMPACITY[size] or sizes.main > AMPACITY[stub]:
            return False
        if alone[n] * ohm(size, 0.3) > LIFT_V:
            return False
        limit = (0.03 if d.critical else 0.1) + JUST
        if sum(both) * head + both[n] * ways[n] > limit * 12.0:
            return False
        if d.lasts >= earliest_s(fuse, alone[n] * d.times):
            return False
        if d.lasts >= earliest_s(sizes.main, sum(both) + both[n] * (d.times - 1)):
            return False
        near = INNER + head + ohm(stub, d.stub)
        if not survives(sizes.main, stub, near):
            return False
        ends = (d.length, d.length + 0.5)
        if not all(survives(fuse, size, near + ohm(size, metres)) for metres in ends):
            return False
    return True


def advised(plan: Plan) -> Sizes | None:
    """Return what a plan advises, None where something fits nowhere."""
    if plan.stuck:
        return None
    fuses = {c.part: c.fits_a for c in plan.choices if c.kind == FUSE}
    sizes = {c.wires[0]: c.size.area_mm2 for c in plan.choices if c.kind == WIRE and c.size}
    branches = tuple((sizes[f"W{n}1"], float(fuses[f"F{n}"] or 0), sizes[f"W{n}2"]) for n in (1, 2))
    return Sizes(float(fuses["F0"] or 0), sizes["W1"], branches)


def below(top: Sizes) -> list[Sizes]:
    """Return every way to size it that is nowhere larger, itself left out."""

    def up_to(values: tuple[float, ...], most: float) -> list[float]:
        return [v for v in values if v <= most]

    wires = tuple(AMPACITY)
    axes = [up_to(FUSES, top.main), up_to(wires, top.trunk)]
    for stub, fuse, size in top.branches:
        axes += [up_to(wires, stub), up_to(FUSES, fuse), up_to(wires, size)]
    found = [
        Sizes(m, t, ((s1, f1, b1), (s2, f2, b2)))
        for m, t, s1, f1, b1, s2, f2, b2 in product(*axes)
        # What these alone break needs no trying with all others.
        if m <= AMPACITY[t] and m <= AMPACITY[s1] and m <= AMPACITY[s2]
        and f1 <= AMPACITY[b1] and f2 <= AMPACITY[b2]
    ]  # fmt: skip
    return [s for s in found if s != top]


SEEDS = range(1, 15)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_advice_holds_and_nothing_smaller_does(seed: int) -> None:
    trunk, loads = random_circuit(seed)
    plan = plan_sizes(sketch(text_of(trunk, loads), PLAIN))
    found = advised(plan)
    assert found is not None
    assert holds(found, trunk, loads)
    assert not [s for s in below(found) if holds(s, trunk, loads)]


def test_random_circuits_are_of_many_sorts() -> None:
    plans = [plan_sizes(sketch(text_of(*random_circuit(s)), PLAIN)) for s in SEEDS]
    found = [a for a in map(advised, plans) if a is not None]
    assert len(found) >= 10
    assert len({s.main for s in found}) >= 3
    assert len({b for s in found for b in s.branches}) >= 8


def test_the_trunk_carries_what_is_downstream_together() -> None:
    """Two heaters of 10 A: 20 A through the trunk, so 30 A there and 15 A each (73.1 %)."""
    loads = (Load(1.2, 1, 0, 0.2, 0.5, False),) * 2
    found = advised(plan_sizes(sketch(text_of(0.3, loads), PLAIN)))
    assert found is not None
    assert found.main == 30
    assert [fuse for _, fuse, _ in found.branches] == [15, 15]
    assert found.trunk == 3  # 33 A; 2.5 mm² carries 29
