"""Every reference circuit gives its state table, row by row, through the solver and the oracle.

The expected values are our own: two nodal calculations made apart from this program agreed on
them. `tests.oracle` is a third one, which shares no code with the solver.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Protocol

import pytest

from model.circuit import Circuit
from model.kinds.body import LoadPath
from model.lookup import body_of, number
from model.solver import Solver
from model.states import Fault, Memory, Setting
from tests import circuits
from tests.circuits import NAMES, Row, Sequence, node, part
from tests.oracle import Answer, Oracle

NEAR = 0.002
"""Volts and amperes by which a row may differ."""
ON, WEAK = 0.60, 0.08
"""Shares of the battery's stated voltage above which a load is on, or weak."""
ALL = [pytest.param(n, s, id=f"{n}: {s.title}") for n in NAMES for s in circuits.sequences(n)]


class Seen(Protocol):
    """What a table asks of a solved state."""

    engine: str

    def pulled_in(self, reference: str) -> bool:
        """Tell whether a relay is in."""
        ...

    def load(self, reference: str) -> tuple[float, float]:
        """Return volts across a load and amperes through it."""
        ...

    def volt(self, terminal: str) -> float | None:
        """Return volts at a terminal."""
        ...

    def through(self, reference: str) -> float:
        """Return amperes through the one contact of a switch."""
        ...


class BySolver:
    """Runs rows through the program's solver."""

    def __init__(self, of: Circuit) -> None:
        self.of, self.solver, self.memory = of, Solver(of), Memory()
        self.engine = "stopped"

    def step(self, row: Row) -> None:
        """Settle one row from the one before."""
        wrong = tuple(circuits.fault(self.of, f) for f in row.faults)
        positions = circuits.positions(self.of, row.positions)
        setting = Setting(positions, row.engine or self.engine, "resting", wrong)
        settled = self.solver.settle(setting, self.memory)
        assert settled.settled == "steady"
        self.state = settled.state
        self.memory, self.engine = self.state.memory, self.state.engine

    def pulled_in(self, reference: str) -> bool:
        return (part(self.of, reference).id, "coil") in self.state.pulled

    def load(self, reference: str) -> tuple[float, float]:
        key = part(self.of, reference).id, "load"
        return self.state.across(*key), self.state.current(*key)

    def volt(self, terminal: str) -> float | None:
        return self.state.volt(*node(self.of, terminal))

    def through(self, reference: str) -> float:
        return self.state.current(part(self.of, reference).id, "1-2")


class ByOracle:
    """Runs rows through the plain dense calculation."""

    def __init__(self, of: Circuit) -> None:
        self.of, self.oracle, self.engine = of, Oracle(of), "stopped"

    def step(self, row: Row) -> None:
        """Settle one row from the one before."""
        self.oracle.engine = row.engine or self.oracle.engine
        wrong = [circuits.fault(self.of, f) for f in row.faults]
        self.answer: Answer = self.oracle.settle(circuits.positions(self.of, row.positions), wrong)
        self.engine = self.answer.engine

    def pulled_in(self, reference: str) -> bool:
        return (part(self.of, reference).id, "coil") in self.answer.pulled

    def load(self, reference: str) -> tuple[float, float]:
        found = part(self.of, reference)
        (path,) = (e for e in body_of(self.of, found).elements if isinstance(e, LoadPath))
        volts = self.answer.across((found.id, path.a), (found.id, path.b))
        return volts, self.answer.amperes[found.id, path.name]

    def volt(self, terminal: str) -> float | None:
        return self.answer.volts[node(self.of, terminal)]

    def through(self, reference: str) -> float:
        return self.answer.amperes.get((part(self.of, reference).id, "1-2"), 0.0)


def word_for(volts: float, stated: float) -> str:
    """Return on, weak or off for the volts across a load."""
    share = abs(volts) / stated
    return "on" if share > ON else "weak" if share >= WEAK else "off"


def differences(seen: Seen, of: Circuit, expect: Mapping[str, Any]) -> Iterator[str]:
    """Yield one line for every value that is not as expected."""
    if expect.get("engine", seen.engine) != seen.engine:
        yield f"engine {seen.engine}"
    for reference, wanted in expect.get("relays", {}).items():
        if seen.pulled_in(reference) != (wanted == "in"):
            yield f"{reference} is not {wanted}"
    for reference, wanted in expect.get("loads", {}).items():
        yield from _load_differences(seen, of, reference, wanted)
    for terminal, volts in expect.get("volts", {}).items():
        found = seen.volt(terminal)
        if found is None or abs(found - volts) > NEAR:
            yield f"{terminal} at {found} V instead of {volts} V"
    for reference, amperes in expect.get("amperes", {}).items():
        if abs(seen.through(reference) - amperes) > NEAR:
            yield f"{reference} carries {seen.through(reference)} A instead of {amperes} A"


def _load_differences(
    seen: Seen, of: Circuit, reference: str, wanted: Mapping[str, Any]
) -> Iterator[str]:
    """Yield what differs at one load; its printed amperes are a magnitude."""
    volts, amperes = seen.load(reference)
    word = word_for(volts, number(of, part(of, "BAT"), "voltage_v"))
    if word != wanted["state"]:
        yield f"{reference} is {word} instead of {wanted['state']}"
    if abs(volts - wanted.get("voltage_v", volts)) > NEAR:
        yield f"{reference} has {volts} V instead of {wanted['voltage_v']} V"
    if abs(abs(amperes) - wanted.get("current_a", abs(amperes))) > NEAR:
        yield f"{reference} draws {amperes} A instead of {wanted['current_a']} A"


@pytest.mark.parametrize("by", [BySolver, ByOracle])
@pytest.mark.parametrize(("name", "sequence"), ALL)
def test_every_row_of_a_state_table(
    name: str, sequence: Sequence, by: type[BySolver] | type[ByOracle]
) -> None:
    of = circuits.circuit(name)
    seen = by(of)
    found = []
    for row in sequence.rows:
        seen.step(row)
        found += [f"{row.case}: {d}" for d in differences(seen, of, row.expect)]
    assert found == []


def test_a_wrong_value_would_be_seen() -> None:
    of = circuits.circuit("C07")
    seen = BySolver(of)
    seen.step(circuits.sequences("C07")[0].rows[1])
    wrong = {
        "engine": "running",
        "relays": {"K1": "out"},
        "loads": {"B1": {"state": "weak", "voltage_v": 12.229, "current_a": 6.789}},
        "volts": {"K1.85": 0.035},
        "amperes": {"S1": 0.2},
    }
    assert len(list(differences(seen, of, wrong))) == 7


def test_every_circuit_states_its_constants_and_every_control_its_rest() -> None:
    for name in NAMES:
        of = circuits.circuit(name)
        constants = of.settings.constants
        assert constants.copper_ohm_mm2_m == 0.0188, name
        assert (constants.pull_in_share, constants.drop_out_share) == (0.62, 0.20), name
        for found in of.parts.values():
            if body_of(of, found).positions:
                assert found.rest, f"{name} {found.reference}"


def test_a_way_of_a_connector_opened_is_the_same_as_its_wire_cut() -> None:
    """Pin 3 of the trailer socket open: every lamp of the trailer is dark."""
    of = circuits.circuit("C18")
    lost = Fault(part(of, "X1").id, "open", node="way 3")
    positions = circuits.positions(of, {"S1": "ON", "S2": "ON"})
    state = Solver(of).settle(Setting(positions, faults=(lost,))).state
    assert all(abs(state.across(part(of, r).id, "load")) < NEAR for r in ("H5", "H6", "H7"))
    whole = Solver(of).settle(Setting(positions)).state
    assert whole.across(part(of, "H6").id, "load") == pytest.approx(11.975, abs=NEAR)
