"""One linear solve after one change, 1,000 wires, against plain scipy with the same matrix.

Solves that have to be repeated, because relays move or filaments and diodes follow a curve, are
counted apart: there the baseline solves as many matrices as the program did.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import cycle
from typing import Any
from unittest import mock

from model.conduct import Conducting, Conductor
from model.linear import Factored, Floats, Ints, Pattern
from model.solve import solve
from model.solver import Solver
from model.state import State
from model.states import Fault, Setting
from tests.bench import Row, compare
from tests.bench.changes import agrees, conducting, half_on, longer
from tests.bench.circuits import cells
from tests.bench.plain import Plain, plain_of

WIRES = 1000
PLAIN = "plain scipy: assemble, factor, solve the same matrix"


def table() -> list[Row]:
    """Return the rows; every second switch is on, so that half of the circuit carries current."""
    solver = Solver(cells(WIRES))
    state = solver.settle(half_on(solver)).state
    wires, controls = list(solver.circuit.wires)[::40], sorted(solver.conductor.by_control)[::5]
    setting, other = state.setting, {"ON": "OFF", "OFF": "ON"}
    resistances = [setting.faulty(Fault(w, "series", 0.05)) for w in wires]
    contacts = [setting.moved({c: other[state.position(c)]}) for c in controls]
    return [
        _one(solver, state, "one linear solve, a wire's resistance changed", resistances),
        _one(solver, state, "one linear solve, a contact changed", contacts),
        _settling("heater", "relays"),
        _settling("lamp", "relays and filaments"),
        _edited(solver, state),
    ]


def _one(solver: Solver, state: State, what: str, settings: list[Setting]) -> Row:
    """Return the row of linear solves, each of another change from a state."""
    net = solver.network
    given = [plain_of(net.count, net.reference, conducting(solver, state, s)) for s in settings]

    def ours(setting: Setting) -> Floats:
        return solve(net.count, net.reference, conducting(solver, state, setting)).volts

    def check() -> None:
        for setting, plain in zip(settings, given, strict=True):
            agrees(ours(setting), plain)

    todo, theirs = cycle(settings), cycle(given)
    return compare(
        f"{what}, 1,000 wires", PLAIN, ours=lambda: ours(next(todo)),
        baseline=lambda: next(theirs).volts(), check=check, limit=2, rounds=200,
    )  # fmt: skip


def _settling(load: str, why: str) -> Row:
    """Return the row of a settling from rest after every second switch was closed."""
    solver = Solver(cells(WIRES, load))
    setting = half_on(solver)
    solved = _recorded(solver, setting)
    net = solver.network

    def check() -> None:
        state = solver.settle(setting).state
        assert len(state.pulled) == len(setting.positions), "a relay of a closed switch is not in"
        agrees(state.solved.volts, solved[-1])
        assert net.count == solved[-1].count

    return compare(
        f"settled after switching, {why}: {len(solved)} solves of 1,000 wires",
        "plain scipy: as many solves",
        ours=lambda: solver.settle(setting), baseline=lambda: [plain.volts() for plain in solved],
        check=check, limit=2, rounds=25,
    )  # fmt: skip


def _recorded(solver: Solver, setting: Setting) -> list[Plain]:
    """Return every network that the program factors on its way to rest."""
    states: list[Conducting] = []
    factored: list[tuple[int, Floats]] = []
    conducts, factor = Conductor.conducting, Pattern.factor

    def conducted(*words: Any) -> Conducting:
        states.append(conducts(*words))
        return states[-1]

    def noted(pattern: Pattern, g: Floats, zeros: Ints) -> Factored:
        factored.append((len(states) - 1, g.copy()))
        return factor(pattern, g, zeros)

    with mock.patch.multiple(Conductor, conducting=conducted), \
            mock.patch.multiple(Pattern, factor=noted):  # fmt: skip
        solver.settle(setting)
    net = solver.network
    return [plain_of(net.count, net.reference, replace(states[k], g=g)) for k, g in factored]


def _edited(solver: Solver, state: State) -> Row:
    """Return the row of the way from an edit to volts, which finds the network anew."""
    circuit = solver.circuit
    wires = list(circuit.wires)[::40]
    net = solver.network
    plain = plain_of(net.count, net.reference, conducting(solver, state))

    def edited(wire: str) -> Floats:
        new = Solver(longer(circuit, wire, 7.0))
        return new.solve(state.setting, state.pulled, state.engine).solved.volts

    def check() -> None:
        for wire in wires:
            new = Solver(longer(circuit, wire, 7.0))
            agrees(edited(wire), plain_of(net.count, net.reference, conducting(new, state)))

    todo = cycle(wires)
    return compare(
        "from a wire's length edited to volts, network built anew, 1,000 wires", PLAIN,
        ours=lambda: edited(next(todo)), baseline=plain.volts,
        check=check, limit=math.inf, rounds=12,
    )  # fmt: skip
