"""Every state of a circuit that the checks look at, solved once and kept as arrays.

All combinations of positions up to a limit; above it the rest state and all single and double
changes from it. Where the circuit has an engine (an alternator, or a load that keeps it running)
the engine stands for one more control, and relays with a clock are looked at early and settled.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, product
from math import prod

import numpy as np
from numpy.typing import NDArray

from model.circuit import Circuit
from model.kinds.body import Coil, SourcePath
from model.linear import Floats
from model.lookup import body_of, controls, rest_of
from model.solver import NONE, SEVERAL, Settled, Solver
from model.state import State
from model.states import Memory, Setting

MOST_STATES = 4096
"""Combinations of positions up to which all are solved."""
CLOCKED = frozenset(("timed", "pulse", "on-delay", "off-delay"))


@dataclass(frozen=True, slots=True)
class Asked:
    """The settings to look at, the first one at rest; `every` tells whether they are all."""

    settings: tuple[Setting, ...]
    every: bool


def settings_of(solver: Solver, most: int = MOST_STATES) -> Asked:
    """Return the settings of a circuit: all of them, or rest and up to two changes from it."""
    circuit = solver.circuit
    choices = _choices(solver)
    rest = {key: values[0] for key, values in choices.items()}
    moments = ("settled", "early") if _clocked(solver) else ("settled",)
    every = prod(len(v) for v in choices.values()) <= most
    combos = _all(choices) if every else _near(choices, rest)
    supply = circuit.settings.conditions.supply
    made = [_setting(c, supply, m) for c in combos for m in moments]
    return Asked(tuple(made), every)


def _choices(solver: Solver) -> dict[str, tuple[str, ...]]:
    """Return the values of every control, the one at rest first; "" is the engine."""
    circuit = solver.circuit
    found: dict[str, tuple[str, ...]] = {}
    if has_engine(solver):
        engine = circuit.settings.conditions.engine
        found[""] = tuple(dict.fromkeys((engine, "stopped", "running")))
    for part_id, names in controls(circuit).items():
        rest = rest_of(circuit, circuit.parts[part_id])
        found[part_id] = tuple(dict.fromkeys((rest, *names)))
    return found


def has_engine(solver: Solver) -> bool:
    """Tell whether the engine matters: an alternator, or a load that keeps it running."""
    return bool(solver.keepers) or any(
        isinstance(e.inner, SourcePath) and e.inner.source == "alternator"
        for e in solver.network.edges
    )


def _clocked(solver: Solver) -> bool:
    """Tell whether a relay with a clock is there."""
    inner = (e.inner for e in solver.network.edges)
    return any(isinstance(i, Coil) and i.action in CLOCKED for i in inner)


def _all(choices: Mapping[str, tuple[str, ...]]) -> Iterator[dict[str, str]]:
    """Yield every combination."""
    for values in product(*choices.values()):
        yield dict(zip(choices, values, strict=True))


def _near(choices: Mapping[str, tuple[str, ...]], rest: dict[str, str]) -> Iterator[dict[str, str]]:
    """Yield rest, every single and every double change from it."""
    yield rest
    singles = [(k, v) for k, values in choices.items() for v in values[1:]]
    for key, value in singles:
        yield {**rest, key: value}
    for (k1, v1), (k2, v2) in combinations(singles, 2):
        if k1 != k2:
            yield {**rest, k1: v1, k2: v2}


def _setting(combo: dict[str, str], supply: str, moment: str) -> Setting:
    """Return one combination as a setting."""
    positions = {k: v for k, v in combo.items() if k}
    return Setting(positions, combo.get("", "stopped"), supply, moment=moment)


class Survey:
    """The states of a circuit, solved.

    Every setting is settled from the rest state; where buttons are pressed and relays are in,
    the state after letting go is added, so that a relay that holds itself is seen holding.

    Attributes
    ----------
    states
        Every state met, the rest state first. A race gives each of its outcomes; a circuit
        without a steady state the states it runs through.
    restless
        Settings that gave several outcomes or none, with how they came out.
    every
        True when all combinations were solved, False when only rest and up to two changes were.
    """

    def __init__(self, circuit: Circuit, most: int = MOST_STATES) -> None:
        self.circuit = circuit
        self.solver = Solver(circuit)
        asked = settings_of(self.solver, most)
        self.every = asked.every
        self.restless: list[tuple[Setting, Settled]] = []
        self.states: list[State] = []
        for setting in asked.settings:
            self._visit(setting, self.states[0].memory if self.states else None)
        springs = _springs(circuit)
        for state in tuple(self.states) if springs else ():
            released = _let_go(state.setting, springs)
            if released is not state.setting and state.pulled:
                self._visit(released, state.memory)

    def _visit(self, setting: Setting, memory: Memory | None) -> None:
        """Solve one setting from what is remembered."""
        settled = self.solver.settle(setting, memory)
        if settled.settled in (SEVERAL, NONE):
            self.restless.append((setting, settled))
        self.states.extend(settled.states)

    @property
    def rest(self) -> State:
        """The state with every control at rest."""
        return self.states[0]

    @cached_property
    def volts(self) -> Floats:
        """Volts at every node in every state, shape (states, nodes)."""
        return np.array([s.solved.volts for s in self.states])

    @cached_property
    def amps(self) -> Floats:
        """Amperes in every edge in every state, shape (states, edges)."""
        count = len(self.solver.network.edges)
        return np.array([(s.solved.amps * s.solved.on)[:count] for s in self.states])

    @cached_property
    def on(self) -> NDArray[np.bool_]:
        """Which edges conduct in every state, shape (states, edges)."""
        count = len(self.solver.network.edges)
        return np.array([s.solved.on[:count] for s in self.states])

    def across(self, edge: int) -> Floats:
        """Return the volts across an edge in every state, shape (states,)."""
        found = self.solver.network.edges[edge]
        return self.volts[:, found.a] - self.volts[:, found.b]

    def peak(self, edge: int) -> tuple[float, State]:
        """Return the greatest amperes in an edge and the state that has them."""
        column = np.abs(self.amps[:, edge])
        worst = int(column.argmax())
        return float(column[worst]), self.states[worst]


def _springs(circuit: Circuit) -> dict[tuple[str, str], str]:
    """Return where every spring-loaded position goes when let go, by part id and position."""
    return {
        (part.id, position.name): position.springs_to
        for part in circuit.parts.values()
        for position in body_of(circuit, part).positions
        if position.springs_to
    }


def _let_go(setting: Setting, springs: Mapping[tuple[str, str], str]) -> Setting:
    """Return the setting with every spring-loaded control let go, itself if there is none."""
    back = {k: springs[(k, v)] for k, v in setting.positions.items() if (k, v) in springs}
    return setting.moved(back) if back else setting
