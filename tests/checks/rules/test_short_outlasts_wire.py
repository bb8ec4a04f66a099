"""Dead shorts against fuse and wire, with loops and times worked out beside the program.

The two circuits: 12.6 V behind 9 mΩ, the body as a return of 2 mΩ, wire at 20 °C of the greatest
resistance of ISO 6722-1 (1.5 mm² 12.7 mΩ/m, 0.5 mm² 37.1 mΩ/m), PVC 70 °C with k = 115 (IEC 60949
and IEC 60364-5-54, from a cable reference article). Fuse gates: ISO 8820-3 at second hand.
"""

from __future__ import annotations

import math
from itertools import product

import numpy as np
import pytest

from checks.rules import short_outlasts_wire
from checks.sketch import sketch
from model.circuit import Circuit, Constants, Settings
from tests.checks.rules.looking import case, look, places

REAL = Settings(constants=Constants(wire_ends_ohm=0.0, fuse_ohm_a=1e-6, ground_ohm=2e-3))
"""A short rubs through to the shell itself: one ground point of 2 mΩ is the way back."""
ONE = """
    G1 battery inner_ohm=0.009 voltage_v=12.6
    F1 {kind} rating_a={rating}
    E1 heater current_a=0.5
    X1 ground
    X2 ground
    W1 G1.+ F1.1 120 0.001
    W2 F1.2 E1.+ {size} {length}
    W3 E1.- X1.g 2.5 0.3
    W4 X2.g G1.- 120 0.001
"""
MILLIOHM_PER_M = {1.5: 12.7, 0.5: 37.1}
GATES_MAX = ((135, 600), (160, 50), (200, 5), (350, 0.5), (600, 0.1))


def one(rating: float, size: float, length: float, kind: str = "fuse-blade") -> str:
    return ONE.format(kind=kind, rating=rating, size=size, length=length)


def loop_a(size: float, length: float) -> float:
    """Return the current of the loop by Ohm's law, in plain numbers."""
    return 12.6 / (0.009 + MILLIOHM_PER_M[size] / 1e3 * length + 0.002)


def latest_s(rating: float, amps: float) -> float:
    """Return the latest opening on log-log paper, independently of the program's tables."""
    percent, seconds = np.log([g[0] for g in GATES_MAX]), np.log([g[1] for g in GATES_MAX])
    here = 100 * amps / rating
    if here < 135:
        return math.inf
    if here > 600:
        return 0.1 * (600 / here) ** 2
    return float(np.exp(np.interp(math.log(here), percent, seconds)))


def pvc(circuit: Circuit) -> Circuit:
    from dataclasses import replace

    wires = {k: replace(w, insulation="pvc-70") for k, w in circuit.wires.items()}
    return replace(circuit, wires=wires)


@pytest.mark.parametrize(("size", "length", "wanted"), [(1.5, 3, 256.6), (0.5, 6, 53.9)])
def test_the_current_of_the_two_worked_loops(size: float, length: float, wanted: float) -> None:
    here = case(one(15, size, length), REAL)
    (feed,) = [f for f in here.feeds if f.fuse]
    fault = here.faults.at_far_end(feed, "W2")
    assert fault is not None
    assert loop_a(size, length) == pytest.approx(wanted, abs=0.05)
    assert fault.amps == pytest.approx(wanted, rel=2e-3)


@pytest.mark.parametrize(
    ("rating", "size", "length", "burns"),
    [(15, 1.5, 3, False), (30, 1.5, 3, False), (15, 0.5, 6, False), (30, 0.5, 6, True)],
)
def test_the_two_worked_circuits(rating: int, size: float, length: float, burns: bool) -> None:
    amps = loop_a(size, length)
    assert (latest_s(rating, amps) > (115 * size / amps) ** 2) is burns
    from checks.case import Case

    found = list(short_outlasts_wire.find(Case(pvc(sketch(one(rating, size, length), REAL)))))
    assert places(found) == ([("danger", ("F1", "W2"))] if burns else [])
    if burns:
        values = found[0].values
        assert values["current"] == pytest.approx(amps, rel=2e-3)
        assert values["lasts"] == pytest.approx((115 * size / amps) ** 2, rel=5e-3)
        assert values["opens"] == pytest.approx(latest_s(rating, amps), rel=0.02)
        assert 1.1 < float(values["lasts"]) < 1.2 < float(values["opens"]) < 16


def clear_cases() -> list[tuple[float, float, float]]:
    """Return fuses, sizes and lengths inside the formula's range and not too near to tell apart."""
    found: list[tuple[float, float, float]] = []
    for rating in (5, 10, 15, 20, 25, 30, 40):
        for size, length in product((0.5, 1.5), (0.2, 1, 3, 5)):
            amps = loop_a(size, length)
            lasts = (115 * size / amps) ** 2
            if lasts <= 5 and abs(latest_s(rating, amps) / lasts - 1) >= 0.05:
                found.append((rating, size, length))
    return found


@pytest.mark.parametrize(("rating", "size", "length"), clear_cases())
def test_every_pair_against_plain_numbers(rating: float, size: float, length: float) -> None:
    """Inside five seconds the verdict is that of the two formulas side by side."""
    from checks.case import Case

    amps = loop_a(size, length)
    lasts = (115 * size / amps) ** 2
    found = list(short_outlasts_wire.find(Case(pvc(sketch(one(rating, size, length), REAL)))))
    assert bool([f for f in found if f.severity == "danger"]) is (latest_s(rating, amps) > lasts)


def test_enough_pairs_are_clear() -> None:
    assert len(clear_cases()) > 45


def test_the_remedy_is_the_largest_fuse_that_opens_in_time() -> None:
    from checks.case import Case

    (found,) = short_outlasts_wire.find(Case(pvc(sketch(one(30, 0.5, 6), REAL))))
    assert found.remedy is not None
    cured = found.remedy.change.apply(pvc(sketch(one(30, 0.5, 6), REAL)))
    fit = cured.parts["F1"].ratings["rating_a"]
    amps = loop_a(0.5, 6)
    lasts = (115 * 0.5 / amps) ** 2
    ratings = (5, 7.5, 10, 15, 20, 25, 30, 40)
    assert fit == max(r for r in ratings if latest_s(r, amps) <= lasts)


def test_a_bare_fuse_rating_of_glass_is_not_guessed() -> None:
    assert places(look(short_outlasts_wire, one(30, 0.5, 1, "fuse-glass"), REAL)) == [
        ("unknown", ("F1", "W2"))
    ]
    assert look(short_outlasts_wire, one(10, 0.5, 1, "fuse-glass"), REAL) == []


def test_a_length_that_is_assumed_is_said() -> None:
    text = one(30, 0.5, 6).replace("0.5 6", "0.5 ?")
    for finding in look(short_outlasts_wire, text, REAL):
        assert finding.severity == "unknown"
        assert "assumed" in finding.sentence()


def test_without_the_shell_the_return_is_as_long_as_the_way_out() -> None:
    # Both ways of 6 m of 0.5 mm²: 12.6 V / (9 + 222.6 + 222.6 mΩ) = 27.7 A.
    text = one(15, 0.5, 6).replace("X1.g", "G1.-").replace("W4 X2.g G1.-", "W4 X2.g X1.g")
    here = case(text, REAL)
    (feed,) = [f for f in here.feeds if f.fuse]
    fault = here.faults.at_far_end(feed, "W2")
    assert fault is not None
    assert fault.amps == pytest.approx(27.7, abs=0.05)
