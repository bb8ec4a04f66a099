"""How armatures move: coils, hysteresis, and relays with a clock."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

import numpy as np

from model.circuit import Circuit
from model.kinds.body import Coil
from model.linear import Bools, Floats
from model.lookup import number, word
from model.network import Edge, Network
from model.states import Armature

TIMED = "timed"


@dataclass(frozen=True, slots=True)
class Winding:
    """A coil with what moves its armature: volts to pull in and to let go at, and the action.

    The thresholds are those of a coil at 20 °C and grow with its resistance: what pulls is the
    current.
    """

    edge: int
    moves: Armature
    pull_v: float
    drop_v: float
    action: str


def windings(network: Network) -> list[Winding]:
    """Return every coil of a network."""
    circuit, kept = network.circuit, network.frame.kept
    return [
        kept("winding", index, (edge, circuit.parts[edge.owner]),
             partial(_winding, circuit, index, edge, edge.inner))
        for index, edge in network.of_role("coil")
        if isinstance(edge.inner, Coil)
    ]  # fmt: skip


def _winding(circuit: Circuit, index: int, edge: Edge, coil: Coil) -> Winding:
    """Return one coil's thresholds in volts."""
    part = circuit.parts[edge.owner]
    nominal = number(circuit, part, "coil_v", circuit.settings.nominal_v)
    cold = max(number(circuit, part, coil.ohm, 90.0), 1e-9)
    hot = edge.ohm / cold
    action = word(circuit, part, "timing") if coil.action == TIMED else coil.action
    return Winding(
        index,
        (edge.owner, coil.moves),
        number(circuit, part, "pull_in_share", 0.6) * nominal * hot,
        number(circuit, part, "drop_out_share", 0.25) * nominal * hot,
        action or "hold",
    )


class Coils:
    """Every coil of a network as arrays, to move all armatures in one step."""

    def __init__(self, network: Network) -> None:
        self.all = windings(network)
        self.edges = np.array([w.edge for w in self.all], np.intp)
        self._a, self._b = network.a[self.edges], network.b[self.edges]
        self._pull = np.array([w.pull_v for w in self.all])
        self._drop = np.array([w.drop_v for w in self.all])
        self._plain = np.array([w.action == "hold" for w in self.all], np.bool_)
        self._moves = [w.moves for w in self.all]
        self.armatures = list(dict.fromkeys(self._moves))
        columns = {m: k for k, m in enumerate(self.armatures)}
        self._column = np.array([columns[m] for m in self._moves], np.intp)
        self._clever = [i for i, w in enumerate(self.all) if w.action != "hold"]

    def moved(
        self, volts: Floats, on: Bools, pulled: frozenset[Armature], moment: str
    ) -> frozenset[Armature]:
        """Return the armatures that are in after one joint step from `pulled`.

        Parameters
        ----------
        volts
            Volts at the nodes.
        on
            Which edges conduct; an open coil holds nothing.
        pulled
            Armatures that are in.
        moment
            "settled": clocks have run; "early": they have just been started.
        """
        if not self.all:
            return frozenset()
        across = np.abs(volts[self._a] - volts[self._b]) * on[self.edges]
        was_in = np.array([m in pulled for m in self._moves], np.bool_) & self._plain
        held = across >= np.where(was_in, self._drop, self._pull)
        plain = held & self._plain
        found = {self._moves[i] for i in np.flatnonzero(plain).tolist()}
        acts: dict[Armature, list[tuple[str, bool]]] = {}
        for i in self._clever:
            acts.setdefault(self._moves[i], []).append((self.all[i].action, bool(held[i])))
        found.update(a for a, does in acts.items() if _in(does, a in pulled, moment))
        return frozenset(found)

    def moved_all(self, volts: Floats, on: Bools, pulled: Bools, early: Bools) -> Bools:
        """Return the armatures that are in after one joint step, for many states.

        Parameters
        ----------
        volts, on
            Volts at the nodes (states, nodes); edges that conduct (states, edges).
        pulled
            Armatures that are in, in the order of `armatures` (states, armatures).
        early
            States in which clocks have just been started.
        """
        across = np.abs(volts[:, self._a] - volts[:, self._b]) * on[:, self.edges]
        return self.moved_across(across, pulled, early)

    def moved_across(self, across: Floats, pulled: Bools, early: Bools) -> Bools:
        """Return the same from the volts across the coils, 0 where open, (states, coils)."""
        was_in = pulled[:, self._column] & self._plain
        held = across >= np.where(was_in, self._drop, self._pull)
        after = np.zeros_like(pulled)
        plain = np.flatnonzero(self._plain)
        after[:, self._column[plain]] = held[:, plain]
        for row in range(len(pulled)) if self._clever else ():
            self._move_clever(after[row], held[row], pulled[row], bool(early[row]))
        return after

    def _move_clever(self, after: Bools, held: Bools, pulled: Bools, early: bool) -> None:
        """Put the armatures of clocks and bistable relays in one state."""
        acts: dict[int, list[tuple[str, bool]]] = {}
        for i in self._clever:
            acts.setdefault(int(self._column[i]), []).append((self.all[i].action, bool(held[i])))
        for column, does in acts.items():
            after[column] = _in(does, bool(pulled[column]), "early" if early else "settled")


def _in(acts: list[tuple[str, bool]], was_in: bool, moment: str) -> bool:
    """Tell whether an armature is in, from what its coils do."""
    actions = dict(acts)
    if "set" in actions or "reset" in actions:
        put, back = actions.get("set", False), actions.get("reset", False)
        return was_in if put == back else put
    action, held = acts[0]
    if action == "pulse":
        return held and moment == "early"
    if action == "on-delay":
        return held and moment != "early"
    if action == "off-delay":
        return held or (was_in and moment == "early")
    return held
