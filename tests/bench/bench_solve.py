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
from model.states import Fault, Setting
from tests.bench import Row, compare
from tests.bench.changes import agrees, half_on, longer
from tests.bench.circuits import cells
from tests.bench.plain import Plain, plain_of

WIRES = 1000
PLAIN = "plain scipy: assemble, factor, solve the same matrix"


def table() -> list[Row]:
    """Return the rows."""
    circuit = cells(WIRES)
    solver = Solver(circuit)
    wires, controls = list(circuit.wires)[::40], sorted(solver.conductor.by_control)[::5]
    rest = solver.rest()
    resistances = [rest.faulty(Fault(w, "series", 0.05)) for w in wires]
    contacts = [rest.moved({c: "ON"}) for c in controls]
    return [
        _one(solver, "one linear solve, a wire's resistance changed, 1,000 wires", resistances),
        _one(solver, "one linear solve, a contact changed, 1,000 wires", contacts),
        _settling("heater", "relays"),
        _settling("lamp", "relays and filaments"),
        _edited(),
    ]


def _one(solver: Solver, what: str, settings: list[Setting]) -> Row:
    """Return the row of linear solves, each of another change."""
    net = solver.network
    given = [plain_of(net.count, net.reference, _now(solver, s)) for s in settings]

    def ours(setting: Setting) -> Floats:
        return solve(net.count, net.reference, _now(solver, setting)).volts

    def check() -> None:
        for setting, plain in zip(settings, given, strict=True):
            agrees(ours(setting), plain)

    todo, theirs = cycle(settings), cycle(given)
    return compare(
        what, PLAIN, ours=lambda: ours(next(todo)), baseline=lambda: next(theirs).volts(),
        check=check, limit=2, rounds=200,
    )  # fmt: skip


def _now(solver: Solver, setting: Setting) -> Conducting:
    """Return what conducts in a setting with no relay in."""
    return solver.conductor.conducting(setting, frozenset(), setting.engine, setting.supply)


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
    conducting, factor = Conductor.conducting, Pattern.factor

    def conducted(*words: Any) -> Conducting:
        states.append(conducting(*words))
        return states[-1]

    def noted(pattern: Pattern, g: Floats, zeros: Ints) -> Factored:
        factored.append((len(states) - 1, g.copy()))
        return factor(pattern, g, zeros)

    with mock.patch.multiple(Conductor, conducting=conducted), \
            mock.patch.multiple(Pattern, factor=noted):  # fmt: skip
        solver.settle(setting)
    net = solver.network
    return [plain_of(net.count, net.reference, replace(states[k], g=g)) for k, g in factored]


def _edited() -> Row:
    """Return the row of the way from an edit to volts, which finds the network anew."""
    circuit = cells(WIRES)
    wires = list(circuit.wires)[::40]
    solver = Solver(circuit)
    plain = plain_of(solver.network.count, solver.network.reference, _now(solver, solver.rest()))

    def edited(wire: str) -> Floats:
        new = Solver(longer(circuit, wire, 7.0))
        return new.settle(new.rest()).state.solved.volts

    def check() -> None:
        for wire in wires[:3]:
            new = Solver(longer(circuit, wire, 7.0))
            net = new.network
            agrees(edited(wire), plain_of(net.count, net.reference, _now(new, new.rest())))

    todo = cycle(wires)
    return compare(
        "from a wire's length edited to volts, network built anew, 1,000 wires", PLAIN,
        ours=lambda: edited(next(todo)), baseline=plain.volts,
        check=check, limit=math.inf, rounds=12,
    )  # fmt: skip
