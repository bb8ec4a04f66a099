"""Which loads hang on a contact: currents followed, shared where ways part and meet."""

from __future__ import annotations

import pytest

from checks.case import Case
from checks.flows import Flows
from checks.sketch import sketch
from model.file import load
from tests.circuits import FOLDER, NAMES

SHARED = """
    G1 battery voltage_v=12 inner_ohm=1e-7
    S1 switch rest=ON contact_ohm=0.1
    S2 switch rest=ON contact_ohm=0.3
    E1 heater resistance_ohm=2
    E2 heater resistance_ohm=4
    P1 splice
    W1 G1.+ S1.1 50 0.01
    W2 G1.+ S2.1 50 0.01
    W3 S1.2 P1.s 50 0.01
    W4 S2.2 P1.s 50 0.01
    W5 P1.s E1.+ 50 0.01
    W6 P1.s E2.+ 50 0.01
    W7 E1.- G1.- 50 0.01
    W8 E2.- G1.- 50 0.01
"""


def test_two_switches_side_by_side_share_every_load() -> None:
    case = Case(sketch(SHARED))
    edges = case.network.edges
    index = case.network.by_key[("S1", "1-2")]
    row = next(i for i, s in enumerate(case.survey.states) if s.position("S2") == "ON")
    loads = {edges[i].owner: a for i, a in case.flows(row).loads_through(index).items()}
    all_of_it = abs(case.survey.amps[row, index])
    assert sum(loads.values()) == pytest.approx(all_of_it, rel=1e-6)
    # The loads draw 2 : 1 whatever the way the current came.
    assert loads["E1"] / loads["E2"] == pytest.approx(2.0, rel=1e-3)


@pytest.mark.parametrize("name", NAMES)
def test_what_hangs_on_a_contact_is_its_current(name: str) -> None:
    """In every state: loads found through a contact never add up to more than its current.

    With the engine stopped there are some; running, a contact may carry charging current alone.
    """
    case = Case(load(FOLDER / f"{name}.voltwalk").circuit)
    for row in range(len(case.survey.states)):
        for index, _ in case.network.of_role("contact"):
            amps = abs(case.survey.amps[row, index])
            loads = case.flows(row).loads_through(index)
            assert sum(loads.values()) <= amps + 1e-4
            if amps > 1e-3 and case.survey.states[row].engine == "stopped":
                assert loads


@pytest.mark.parametrize("name", NAMES)
def test_followed_one_by_one_and_reckoned_together_is_the_same(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    case = Case(load(FOLDER / f"{name}.voltwalk").circuit)
    for row in range(0, len(case.survey.states), 7):
        monkeypatch.setattr("checks.flows.NEAR", 10**6)
        followed = Flows(case.survey, row)
        near = [followed.loads_through(i) for i in range(len(case.network.edges))]
        monkeypatch.setattr("checks.flows.NEAR", 0)
        together = Flows(case.survey, row)
        far = [together.loads_through(i) for i in range(len(case.network.edges))]
        for one, other in zip(near, far, strict=True):
            assert {k: v for k, v in one.items() if v > 1e-6} == pytest.approx(
                {k: v for k, v in other.items() if v > 1e-6}, rel=1e-6, abs=2e-6
            )


def test_a_short_is_nobody_s_load() -> None:
    """6 A of heater beside the amperes of a short are not what runs through the switch."""
    case = Case(sketch(SHARED + "W9 P1.s G1.- 50 0.01"))
    index = case.network.by_key[("S1", "1-2")]
    row = int(abs(case.survey.amps[:, index]).argmax())
    assert abs(case.survey.amps[row, index]) > 50.0
    assert case.flows(row).loads_through(index) == {}
