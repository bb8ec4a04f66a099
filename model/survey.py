"""Every state of a circuit that the checks look at, solved once and kept as arrays.

All combinations of positions up to a limit; above it the rest state and all single and double
changes from it. Where the circuit has an engine (an alternator, or a load that keeps it running)
the engine stands for one more control, and relays with a clock are looked at early and settled.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, compress, product
from math import prod
from typing import overload

import numpy as np

from model.batch import Stack, Stopped, stack
from model.circuit import Circuit
from model.kinds.body import Coil, SourcePath
from model.linear import Bools, Floats
from model.lookup import body_of, controls, rest_of
from model.solver import (
    ENGINE_NEEDS_V,
    MOST_ORDERS,
    NONE,
    SEVERAL,
    STARTER_DRAWS_A,
    Settled,
    Solver,
)
from model.state import State
from model.states import Armature, Memory, Setting
from model.updates import Updates

MOST_STATES = 4096
"""Combinations of positions up to which all are solved."""
LEAST_ORDERS = 64
"""States that each setting may try, where the order of moving matters, when those before it have
used up what all of them share (`MOST_ORDERS`)."""
FEW = 4
"""Below this many states of a kind they are solved one by one."""
CLOCKED = frozenset(("timed", "pulse", "on-delay", "off-delay"))


@dataclass(frozen=True, slots=True)
class Asked:
    """The settings to look at, the first one at rest; `every` tells whether they are all."""

    settings: tuple[Setting, ...]
    every: bool


def settings_of(solver: Solver, most: int = MOST_STATES, *, quick: bool = False) -> Asked:
    """Return the settings of a circuit: all of them, or rest and up to two changes from it.

    `quick` takes a few that show almost everything: rest, each control moved alone, every control
    where it closes most, and each of them moved from there.
    """
    circuit = solver.circuit
    choices = _choices(solver)
    rest = {key: values[0] for key, values in choices.items()}
    moments = ("settled", "early") if _clocked(solver) else ("settled",)
    every = prod(len(v) for v in choices.values()) <= most
    if quick:
        combos = _few(choices, rest, _most_closed(circuit, choices))
        every = every and prod(len(v) for v in choices.values()) <= FEW
    else:
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


def _few(
    choices: Mapping[str, tuple[str, ...]], rest: dict[str, str], closed: dict[str, str]
) -> Iterator[dict[str, str]]:
    """Yield rest and the closed combination, each with every single change from it, once."""
    seen: set[tuple[str, ...]] = set()
    for base in (rest, closed):
        changes = [{**base, k: v} for k, values in choices.items() for v in values]
        for combo in (base, *changes):
            key = tuple(combo.values())
            if key not in seen:
                seen.add(key)
                yield combo


def _most_closed(circuit: Circuit, choices: Mapping[str, tuple[str, ...]]) -> dict[str, str]:
    """Return every control in the position that closes most pairs, the engine running."""
    found: dict[str, str] = {}
    for key, values in choices.items():
        if not key:
            found[key] = "running"
            continue
        closed = {p.name: len(p.closed) for p in body_of(circuit, circuit.parts[key]).positions}
        found[key] = max(values, key=lambda name: closed[name])
    return found


def _setting(combo: dict[str, str], supply: str, moment: str) -> Setting:
    """Return one combination as a setting."""
    positions = {k: v for k, v in combo.items() if k}
    return Setting(positions, combo.get("", "stopped"), supply, moment=moment)


Pair = tuple[Setting, frozenset[Armature]]
"""A setting, and the armatures that are in before it."""


@dataclass(frozen=True, slots=True)
class _Row:
    """One state as arrays: what it was asked from, and what came out."""

    setting: Setting
    start: frozenset[Armature]
    pulled: frozenset[Armature]
    supply: str
    volts: Floats
    amps: Floats
    on: Bools


class Survey:
    """The states of a circuit, solved.

    Every setting is settled from the rest state; where buttons are pressed and relays are in,
    the state after letting go is added, so that a relay that holds itself is seen holding.

    Attributes
    ----------
    settings
        The setting of every state met, the engine as it came out; the rest state first. A race
        gives each of its outcomes; a circuit without a steady state those it runs through.
    supplies
        The supply that applied in every state.
    volts, amps, on
        Volts at every node (states, nodes), amperes in every edge and which conduct (states,
        edges).
    restless
        Settings that gave several outcomes or none, with how they came out.
    every
        True when all combinations were solved, False when only rest and up to two changes were.
    """

    def __init__(
        self,
        circuit: Circuit,
        most: int = MOST_STATES,
        *,
        quick: bool = False,
        go_on: Callable[[], bool] = lambda: True,
    ) -> None:
        """Solve the states of a circuit; `quick` only those that show almost everything.

        `go_on` is asked now and then; `Stopped` is raised when it says no.
        """
        self._go_on = go_on
        self.circuit = circuit
        self.quick = quick
        self.solver = Solver(circuit)
        self._orders = MOST_ORDERS
        self.restless: list[tuple[Setting, Settled]] = []
        self._rows: list[_Row] = []
        asked = settings_of(self.solver, most, quick=quick)
        self.every = asked.every
        self._look(asked.settings[:1], [frozenset()])
        rest = self._rows[0].pulled
        self._look(asked.settings[1:], [rest] * (len(asked.settings) - 1))
        self._let_go()
        self._arrays()

    def _let_go(self) -> None:
        """Add what is left when buttons are let go while relays are in."""
        springs = _springs(self.circuit)
        if not springs:
            return
        released = [(r, _let_go(r.setting, springs)) for r in self._rows if r.pulled]
        wanted = [(r, s) for r, s in released if s is not r.setting]
        self._look([s for _, s in wanted], [r.pulled for r, _ in wanted])

    def _look(self, settings: Sequence[Setting], starts: Sequence[frozenset[Armature]]) -> None:
        """Solve settings, stacked where that pays, one by one where it does not."""
        pairs = list(zip(settings, starts, strict=True))
        rows: list[list[_Row]] = [[] for _ in pairs]
        groups: dict[tuple[str, str], list[int]] = {}
        for k, (setting, _) in enumerate(pairs):
            groups.setdefault((setting.engine, setting.supply), []).append(k)
        for group in groups.values():
            found = self._together([pairs[k] for k in group])
            for n, k in enumerate(group):
                row = found[n] if found else None
                rows[k] = [row] if row else self._singly(*pairs[k])
        self._rows += [row for several in rows for row in several]

    def _together(self, pairs: Sequence[Pair]) -> list[_Row | None] | None:
        """Solve settings of one engine and supply together; None for those that need more."""
        if len(pairs) < FEW:
            return None
        return self._stacked(pairs) or self._updated(pairs)

    def _updated(self, pairs: Sequence[Pair]) -> list[_Row | None] | None:
        """Solve settings by updates of the rest state; None for those that are not near it.

        A quick look also takes what is near the first setting that is not, settled singly: that
        is every control where it closes most. A relay whose coil is between pull-in and drop-out
        there may be taken as in.
        """
        if not self._rows:
            return None
        bases = [Updates(self.solver, self._row_state(self._rows[0]))]
        found: list[_Row | None] = []
        for setting, start in pairs:
            row = self._near(bases, setting, start)
            if row is None and self.quick and len(bases) == 1 and bases[0].moved(setting) > FEW:
                (row, *_) = self._singly(setting, start)
                bases.append(Updates(self.solver, self._row_state(row)))
            found.append(row)
        return found

    def _near(
        self, bases: Sequence[Updates], setting: Setting, start: frozenset[Armature]
    ) -> _Row | None:
        """Solve one setting by update of the nearest base, if nothing must follow."""
        if not self._go_on():
            raise Stopped("The look at all states was called off.")
        base = min(bases, key=lambda b: b.moved(setting))
        was = base.state
        if start != self._rows[0].pulled or was.setting.moment != setting.moment:
            return None
        if (was.setting.engine, was.setting.supply) != (setting.engine, setting.supply):
            return None
        near = base.settle(setting)
        if near is None or self._follow(near.volts, near.amps, setting.engine):
            return None
        return _Row(setting, start, near.pulled, setting.supply, near.volts, near.amps, near.on)

    def _follow(self, volts: Floats, amps: Floats, engine: str) -> bool:
        """Tell whether the engine or the supply must follow in a state."""
        keys, edges = self.solver.network.by_key, self.solver.network.edges
        if any(abs(amps[keys[k]]) > STARTER_DRAWS_A for k in self.solver.starters):
            return True
        if engine != "running" or not self.solver.follows:
            return False
        ends = (edges[keys[k]] for k in self.solver.keepers)
        return any(abs(volts[e.a] - volts[e.b]) < ENGINE_NEEDS_V for e in ends)

    def _row_state(self, row: _Row) -> State:
        """Return the state of a row, solved singly."""
        cranking = row.supply == "cranking"
        return self.solver.solve(row.setting, row.pulled, row.setting.engine, cranking)

    def _singly(self, setting: Setting, start: frozenset[Armature]) -> list[_Row]:
        """Settle one setting and return its outcomes."""
        if not self._go_on():
            raise Stopped("The look at all states was called off.")
        settled = self.solver.settle(setting, Memory(start), self._orders)
        self._orders = max(self._orders - settled.tried, LEAST_ORDERS)
        if settled.settled in (SEVERAL, NONE):
            self.restless.append((setting, settled))
        count = len(self.solver.network.edges)
        return [
            _Row(
                state.setting, start, state.pulled, state.supply, state.solved.volts,
                (state.solved.amps * state.solved.on)[:count], state.solved.on[:count],
            )
            for state in settled.states
        ]  # fmt: skip

    def _stacked(
        self, pairs: Sequence[tuple[Setting, frozenset[Armature]]]
    ) -> list[_Row | None] | None:
        """Solve settings of one engine and supply stacked; None for those that need more."""
        coils = self.solver.coils
        starts = np.array([[a in start for a in coils.armatures] for _, start in pairs], np.bool_)
        starts = starts.reshape(len(pairs), len(coils.armatures))
        found = stack(self.solver.conductor, coils, [s for s, _ in pairs], starts, self._go_on)
        if found is None:
            return None
        fine = (found.done & ~self._follows(found, pairs[0][0].engine)).tolist()
        pulled = found.pulled.tolist()
        return [
            _Row(
                setting, start, _named(coils.armatures, pulled[n]), setting.supply,
                found.volts[n], found.amps[n], found.on[n],
            )
            if fine[n] else None
            for n, (setting, start) in enumerate(pairs)
        ]  # fmt: skip

    def _follows(self, found: Stack, engine: str) -> Bools:
        """Tell in which states the engine or the supply must follow."""
        keys = self.solver.network.by_key
        must = np.zeros(len(found.done), np.bool_)
        for key in self.solver.starters:
            must |= np.abs(found.amps[:, keys[key]]) > STARTER_DRAWS_A
        if engine == "running" and self.solver.follows:
            for key in self.solver.keepers:
                edge = self.solver.network.edges[keys[key]]
                must |= np.abs(found.volts[:, edge.a] - found.volts[:, edge.b]) < ENGINE_NEEDS_V
        return must

    def _arrays(self) -> None:
        """Lay the rows out as arrays."""
        self.settings = [r.setting for r in self._rows]
        self.supplies = [r.supply for r in self._rows]
        self.volts: Floats = np.array([r.volts for r in self._rows])
        self.amps: Floats = np.array([r.amps for r in self._rows])
        self.on: Bools = np.array([r.on for r in self._rows])
        self.states = States(self)

    def state(self, index: int) -> State:
        """Return one state to be asked by part and wire; solved anew, singly."""
        return self._row_state(self._rows[index])

    @property
    def rest(self) -> State:
        """The state with every control at rest."""
        return self.states[0]

    def across(self, edge: int) -> Floats:
        """Return the volts across an edge in every state, shape (states,)."""
        found = self.solver.network.edges[edge]
        return self.volts[:, found.a] - self.volts[:, found.b]

    def peak(self, edge: int) -> tuple[float, int]:
        """Return the greatest amperes in an edge and the index of the state that has them."""
        column = np.abs(self.amps[:, edge])
        worst = int(column.argmax())
        return float(column[worst]), worst

    @cached_property
    def ever_pulled(self) -> frozenset[Armature]:
        """Armatures that are in, in some state."""
        return frozenset(a for row in self._rows for a in row.pulled)


class States(Sequence[State]):
    """The states of a survey, each solved singly when it is asked for."""

    def __init__(self, survey: Survey) -> None:
        self._survey = survey
        self._known: dict[int, State] = {}

    def __len__(self) -> int:
        return len(self._survey.settings)

    @overload
    def __getitem__(self, index: int) -> State: ...
    @overload
    def __getitem__(self, index: slice) -> Sequence[State]: ...
    def __getitem__(self, index: int | slice) -> State | Sequence[State]:
        """Return a state, or several."""
        if isinstance(index, slice):
            return [self[i] for i in range(*index.indices(len(self)))]
        place = index if index >= 0 else index + len(self)
        if not 0 <= place < len(self):
            raise IndexError(index)
        if place not in self._known:
            self._known[place] = self._survey.state(place)
        return self._known[place]


def _named(armatures: Sequence[Armature], pulled: Sequence[bool]) -> frozenset[Armature]:
    """Return the armatures of a row that are in."""
    return frozenset(compress(armatures, pulled))


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
