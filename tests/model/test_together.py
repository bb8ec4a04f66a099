"""Above the limit of combinations each ground point is seen with all that can be on together.

The oracle is the look at every single combination, which takes too long for such circuits in the
program but not here.
"""

from __future__ import annotations

import numpy as np
import pytest

from checks.sketch import sketch
from model.circuit import Circuit
from model.survey import Survey

HEAD = """
    G1 battery
    F1 fuse-strip rating_a=150
    B1 stud
    X1 ground
    X2 ground
    X3 ground
    W1 G1.+ F1.1 25 0.2
    W2 F1.2 B1.s 25 1
    W3 X1.g G1.- 25 0.3
"""


def plain(count: int) -> str:
    """Return loads on switches of their own, on two ground points by turns."""
    lines = [HEAD]
    for n in range(count):
        lines.append(f"""
    S{n} switch
    E{n} heater current_a={2 + n % 3}
    W{n}1 B1.s S{n}.1 2.5 1
    W{n}2 S{n}.2 E{n}.+ 2.5 1
    W{n}3 E{n}.- X{2 + n % 2}.g 2.5 0.5""")
    return "".join(lines)


def turns(seed: int) -> Circuit:
    """Return a circuit of selectors, switches in series and relays, 12 controls and more."""
    dice = np.random.default_rng(seed)
    lines = [HEAD]
    for n in range(4):  # low beam or high beam, and only in B the load behind a second selector
        a, b = (round(float(x), 1) for x in dice.uniform(1, 8, 2))
        lines.append(f"""
    S{n} switch-table terminals=1,2,3,4 table=OFF;A:1-2,1-4;B:1-3
    T{n} switch-table terminals=1,2,3 table=OFF:1-2;ON:1-3
    E{n}a heater current_a={a}
    E{n}b heater current_a={b}
    W{n}1 B1.s S{n}.1 2.5 1
    W{n}2 S{n}.2 E{n}a.+ 2.5 1
    W{n}3 S{n}.3 T{n}.1 2.5 1
    W{n}4 T{n}.3 E{n}b.+ 2.5 1
    W{n}5 E{n}a.- X{dice.integers(1, 4)}.g 2.5 0.5
    W{n}6 E{n}b.- X{dice.integers(1, 4)}.g 2.5 0.5""")
    for n in range(3):  # a relay whose contact rests on one load and works another
        lines.append(f"""
    U{n} switch
    K{n} relay-changeover
    E{n}c heater current_a={round(float(dice.uniform(1, 5)), 1)}
    E{n}d heater current_a={round(float(dice.uniform(1, 5)), 1)}
    W{n}c B1.s U{n}.1 1 1
    W{n}d U{n}.2 K{n}.86 1 1
    W{n}e K{n}.85 X1.g 1 0.5
    W{n}f B1.s K{n}.30 2.5 1
    W{n}g K{n}.87 E{n}c.+ 2.5 1
    W{n}h K{n}.87a E{n}d.+ 2.5 1
    W{n}i E{n}c.- X{dice.integers(1, 4)}.g 2.5 0.5
    W{n}j E{n}d.- X{dice.integers(1, 4)}.g 2.5 0.5""")
    return sketch("".join(lines))


def lifts(survey: Survey) -> dict[str, float]:
    """Return the greatest volts at every ground point."""
    grounds = survey.solver.network.of_role("ground")
    return {e.owner: float(survey.volts[:, e.a].max()) for _, e in grounds}


def test_every_load_on_at_once_is_one_of_the_states() -> None:
    circuit = sketch(plain(13))  # 8,192 combinations
    survey = Survey(circuit)
    assert not survey.every and len(survey.settings) < 300
    assert lifts(survey) == pytest.approx(lifts(Survey(circuit, most=10_000)), rel=1e-6)
    assert max(len(s.positions) for s in survey.settings) == 13


@pytest.mark.parametrize("seed", range(8))
def test_loads_that_take_turns_are_seen_in_the_worst_of_them(seed: int) -> None:
    circuit = turns(seed)  # (3 · 2)^4 · 2^3 = 10,368 combinations
    every = Survey(circuit, most=20_000)
    some = Survey(circuit)
    assert every.every and not some.every
    assert len(some.settings) < 1200 < len(every.settings)
    assert lifts(some) == pytest.approx(lifts(every), rel=1e-6)


@pytest.mark.parametrize("seed", range(3))
def test_each_load_is_seen_beside_the_most_that_can_be_on_with_it(seed: int) -> None:
    every, some = (Survey(turns(seed), most=most) for most in (20_000, 4096))
    network = some.solver.network
    loads = [i for i, _ in network.of_role("load")]
    for index in loads:
        most = [
            np.abs(s.amps[np.abs(s.across(index)) > 7.2][:, loads]).sum(axis=1).max()
            for s in (every, some)
        ]
        assert most[1] == pytest.approx(most[0], rel=1e-3), network.edges[index].owner
