"""Settles a circuit: relays from the state they were in, the engine, the supply.

All armatures move together. If that does not come to rest, each order of moving is tried, so that
a race (several outcomes) is told apart from a circuit that has no steady state.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, replace
from functools import partial

from model.armature import Coils
from model.circuit import Circuit, Part
from model.conduct import Conductor
from model.kinds.body import LoadPath
from model.lookup import duty_of
from model.network import Network
from model.solve import Solved, solve
from model.state import State
from model.states import Armature, Memory, Setting

ENGINE_NEEDS_V = 7.0
"""Volts that every load which keeps the engine running must have (rule of this program)."""
STARTER_DRAWS_A = 1.0
"""Amperes in a starter's motor above which the supply counts as cranking."""
MOST_STEPS = 200
MOST_ORDERS = 4096
"""States tried when the order of moving matters."""
MOST_FOLLOWED = 16
"""Times the supply and the engine may follow before a settling is given up."""
STEADY, SEVERAL, NONE = "steady", "several", "none"
Trail = tuple[tuple[tuple[frozenset[Armature], str, bool], State], ...]
"""States in which the supply or the engine had to follow, with what tells them apart."""


@dataclass(frozen=True, slots=True)
class Settled:
    """How a setting came out.

    `settled` is steady (one state), several (each outcome of a race) or none (the states it runs
    through without end). `complete` is False when not every order could be tried; `tried` counts
    the states that were looked at because the order of moving matters.
    """

    settled: str
    states: tuple[State, ...]
    complete: bool = True
    tried: int = 0

    @property
    def state(self) -> State:
        """The state, or the first one."""
        return self.states[0]


@dataclass(frozen=True, slots=True)
class _Way:
    """What a state of the relays depends on besides them."""

    setting: Setting
    engine: str
    cranking: bool
    most: int = MOST_ORDERS

    @property
    def supply(self) -> str:
        """The supply that applies."""
        return "cranking" if self.cranking else self.setting.supply


class Solver:
    """Solves one circuit in any setting.

    Parameters
    ----------
    circuit
        The circuit; immutable, so the solver may be kept as long as it is current.
    """

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self.network = Network(circuit)
        self._conductors = {frozenset[str](): Conductor(self.network)}
        self._coils = {id(self.network): Coils(self.network)}
        self.starters = [
            e.key for _, e in self.network.of_role("load")
            if isinstance(e.inner, LoadPath) and e.inner.draws == "starter"
        ]  # fmt: skip
        self.keepers = [
            e.key for _, e in self.network.of_role("load")
            if self._keeps_engine(circuit.parts[e.owner])
        ]  # fmt: skip

    def _keeps_engine(self, part: Part) -> bool:
        """Tell whether a load keeps the engine running."""
        duty = partial(duty_of, self.circuit, part)
        return self.network.frame.kept("duty", part.id, (part,), duty).keeps_engine is True

    @property
    def conductor(self) -> Conductor:
        """What turns settings without faults into conductances."""
        return self._conductors[frozenset()]

    @property
    def coils(self) -> Coils:
        """The coils of the network."""
        return self._coils[id(self.network)]

    @property
    def follows(self) -> bool:
        """Whether the engine stops by itself when a load that keeps it running fails."""
        return self.circuit.settings.conditions.engine_follows

    def rest(self) -> Setting:
        """Return the setting with every control at rest, under the circuit's conditions."""
        conditions = self.circuit.settings.conditions
        return Setting({}, conditions.engine, conditions.supply)

    def settle(
        self, setting: Setting, memory: Memory | None = None, most: int = MOST_ORDERS
    ) -> Settled:
        """Return how the circuit settles from what it remembers.

        Parameters
        ----------
        setting
            Positions, engine, supply and faults.
        memory
            Armatures that were in; none of them at power-on.
        most
            States to look at, at the most, where the order of moving matters.
        """
        start = memory.pulled if memory else frozenset()
        way = _Way(setting, setting.engine, False, most)
        return self._settle(way, start, ())

    def solve(
        self, setting: Setting, pulled: frozenset[Armature], engine: str, cranking: bool = False
    ) -> State:
        """Solve one state without moving any relay."""
        way = _Way(setting, engine, cranking)
        return self._state(way, pulled)

    def _settle(self, way: _Way, start: frozenset[Armature], trail: Trail) -> Settled:
        """Move all armatures together; try every order if that does not come to rest."""
        cache: dict[frozenset[Armature], State] = {}
        pulled, seen = start, [start]
        for _ in range(MOST_STEPS):
            state = self._cached(way, pulled, cache)
            after = self._moved(state)
            if after == pulled:
                return self._follow(way, state, trail)
            if after in seen:
                circle = seen[seen.index(after) :]
                return self._orders(way, start, cache, circle, trail)
            seen.append(after)
            pulled = after
        return self._orders(way, start, cache, seen[-2:], trail)

    def _orders(
        self,
        way: _Way,
        start: frozenset[Armature],
        cache: dict[frozenset[Armature], State],
        circle: list[frozenset[Armature]],
        trail: Trail,
    ) -> Settled:
        """Try each order of moving one armature at a time and collect where it can rest."""
        found: dict[frozenset[Armature], State] = {}
        known, todo = {start}, deque([start])
        while todo and len(known) < way.most:
            pulled = todo.popleft()
            state = self._cached(way, pulled, cache)
            restless = pulled ^ self._moved(state)
            if not restless:
                found[pulled] = state
            for armature in sorted(restless):
                after = pulled ^ {armature}
                if after not in known:
                    known.add(after)
                    todo.append(after)
        round_trip = [self._cached(way, p, cache) for p in circle]
        settled = self._outcomes(way, found, round_trip, not todo, trail)
        return replace(settled, tried=len(known))

    def _outcomes(
        self,
        way: _Way,
        found: dict[frozenset[Armature], State],
        circle: list[State],
        complete: bool,
        trail: Trail,
    ) -> Settled:
        """Return the outcomes of a race, or the circle where there is none."""
        if not found:
            return Settled(NONE, tuple(circle), complete)
        ways = [self._follow(way, state, trail) for state in found.values()]
        if all(w.settled == NONE for w in ways):
            return replace(ways[0], complete=complete)
        ends = {(e.pulled, e.engine, e.supply): e for w in ways for e in w.states}
        keys = sorted(ends, key=lambda k: (sorted(k[0]), *k[1:]))
        one = len(ends) == 1 and ways[0].settled == STEADY
        return Settled(STEADY if one else SEVERAL, tuple(ends[k] for k in keys), complete)

    def _follow(self, way: _Way, state: State, trail: Trail) -> Settled:
        """Let the supply and the engine follow; settle again if they changed.

        A starter that lets go on the supply it has pulled down, and pulls in again when that has
        recovered, chatters: there is no steady state.
        """
        cranking = self._cranks(state)
        engine = way.engine
        if engine == "running" and not self._kept_running(state):
            engine = "stopped"
        if cranking == way.cranking and engine == way.engine:
            return Settled(STEADY, (state,))
        here = (state.pulled, way.engine, way.cranking)
        for n, (before, _) in enumerate(trail):
            if before == here:
                return Settled(NONE, tuple(s for _, s in trail[n:]))
        if len(trail) >= MOST_FOLLOWED:
            return Settled(NONE, tuple(s for _, s in trail), complete=False)
        after = replace(way, engine=engine, cranking=cranking)
        return self._settle(after, state.pulled, (*trail, (here, state)))

    def _cranks(self, state: State) -> bool:
        """Tell whether a starter's motor draws current."""
        return any(abs(state.current(*key)) > STARTER_DRAWS_A for key in self.starters)

    def _kept_running(self, state: State) -> bool:
        """Tell whether every load that keeps the engine running has its 7 V."""
        if not self.follows:
            return True
        return all(abs(state.across(*key)) >= ENGINE_NEEDS_V for key in self.keepers)

    def _cached(
        self, way: _Way, pulled: frozenset[Armature], cache: dict[frozenset[Armature], State]
    ) -> State:
        """Return the state with these armatures in, solved once."""
        if pulled not in cache:
            cache[pulled] = self._state(way, pulled)
        return cache[pulled]

    def _state(self, way: _Way, pulled: frozenset[Armature]) -> State:
        """Solve one state."""
        conductor = self._conductor(way.setting)
        net = conductor.network
        now = conductor.conducting(way.setting, pulled, way.engine, way.supply)
        solved: Solved = solve(net.count, net.reference, now)
        setting = replace(way.setting, engine=way.engine)
        return State(net, setting, pulled, way.engine, way.supply, solved)

    def _conductor(self, setting: Setting) -> Conductor:
        """Return the conductor; a faulted wire without resistance needs a network of its own."""
        if not setting.faults:
            return self.conductor
        metal = {e.owner for e in self.network.merged}
        apart = frozenset(f.target for f in setting.faults if f.target in metal)
        if apart not in self._conductors:
            network = Network(self.circuit, apart)
            self._conductors[apart] = Conductor(network)
            self._coils[id(network)] = Coils(network)
        return self._conductors[apart]

    def _moved(self, state: State) -> frozenset[Armature]:
        """Return the armatures after one joint step from a state."""
        coils = self._coils[id(state.network)]
        solved = state.solved
        after = coils.moved(solved.volts, solved.on, state.pulled, state.setting.moment)
        stuck = {f.target for f in state.setting.faults if f.what == "stuck"}
        if not stuck:
            return after
        kept = {a for a in state.pulled if a[0] in stuck}
        return frozenset(kept | {a for a in after if a[0] not in stuck})
