"""Every wire of a circuit opened alone, relays settling, by updates of one factorisation.

A broken wire and the contacts that move because of it are a handful of edges: the columns of all
contacts are solved once, and each fault is then a small system. What an update cannot answer (a
part cut off, a device that leaves its line, relays that do not come to rest) is settled in full.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from model.kinds.body import Contact
from model.linear import Bools, Floats, Ints
from model.lowrank import CUT, devices_stay, every_open
from model.solver import Solver
from model.state import State
from model.states import Armature, Fault

MOST_ROUNDS = 6


@dataclass(frozen=True, slots=True)
class Settling:
    """Every wire opened alone, settled.

    Attributes
    ----------
    edges
        Indices of the wires' edges, shape (faults,).
    volts
        Volts at the nodes, shape (faults, nodes).
    pulled
        Armatures that are in, one set a fault.
    full
        Which had to be settled in full, shape (faults,).
    """

    edges: Ints
    volts: Floats
    pulled: tuple[frozenset[Armature], ...]
    full: Bools


def settle_opens(solver: Solver, state: State) -> Settling:
    """Return how the circuit settles with each wire open, from one state."""
    found = every_open(solver, state)
    moves = _Moves(solver, state)
    volts = found.volts.copy()
    pulled = [state.pulled] * len(found.edges)
    full = np.zeros(len(found.edges), np.bool_)
    for row in np.flatnonzero(~found.sure).tolist():
        edge = int(found.edges[row])
        answer = moves.settle(edge, found.volts[row])
        if answer is None:
            full[row] = True
            answer = _in_full(solver, state, edge)
        volts[row], pulled[row] = answer
    return Settling(found.edges, volts, tuple(pulled), full)


def _in_full(solver: Solver, state: State, edge: int) -> tuple[Floats, frozenset[Armature]]:
    """Settle one broken wire from scratch."""
    fault = Fault(state.network.edges[edge].owner, "open")
    after = solver.settle(state.setting.faulty(fault), state.memory).state
    return after.solved.volts, after.pulled


class _Moves:
    """The contacts that armatures move, each with its column of the factorisation."""

    def __init__(self, solver: Solver, state: State) -> None:
        self._coils, self._state = solver.coils, state
        self._closed = solver.conductor.closed_s
        net = state.network
        contacts = [(i, e) for i, e in net.of_role("contact")
                    if isinstance(e.inner, Contact) and e.inner.by]  # fmt: skip
        self._edges = np.array([i for i, _ in contacts], np.intp)
        self._place = {i: k for k, (i, _) in enumerate(contacts)}
        self._columns = state.solved.factored.between(net.a[self._edges], net.b[self._edges])
        self._alone = not _floats(state)

    def settle(self, edge: int, volts: Floats) -> tuple[Floats, frozenset[Armature]] | None:
        """Return volts and armatures with one wire open, None where only a full look can tell."""
        state = self._state
        if not self._alone:
            return None
        pulled = state.pulled
        for _ in range(MOST_ROUNDS):
            on = state.solved.on.copy()
            on[edge] = False
            after = self._coils.moved(volts, on, pulled, state.setting.moment)
            if after == pulled:
                stays = devices_stay(state, volts[None])[0]
                return (volts, pulled) if stays else None
            pulled = after
            moved = self._with(edge, pulled)
            if moved is None:
                return None
            volts = moved
        return None

    def _with(self, edge: int, pulled: frozenset[Armature]) -> Floats | None:
        """Return the volts with a wire open and armatures as told."""
        state = self._state
        net, solved = state.network, state.solved
        changes = self._changes(pulled)
        edges = np.array([edge, *changes], np.intp)
        by = np.array([-solved.g[edge], *changes.values()])
        a, b = net.a[edges], net.b[edges]
        own = solved.factored.between(a[:1], b[:1])
        columns = np.column_stack((own, self._columns[:, [self._place[i] for i in changes]]))
        small = np.eye(len(edges)) + by[:, None] * (columns[a] - columns[b])
        if abs(np.linalg.det(small)) < CUT:
            return None
        pushed = np.linalg.solve(small, by * (solved.volts[a] - solved.volts[b]))
        volts = solved.volts - columns @ pushed
        return np.asarray(volts - volts[net.reference], np.float64)

    def _changes(self, pulled: frozenset[Armature]) -> dict[int, float]:
        """Return the contacts that armatures move, with the siemens added to each."""
        state = self._state
        found = {}
        for index in self._edges.tolist():
            edge = state.network.edges[index]
            contact = edge.inner
            assert isinstance(contact, Contact)
            key = (edge.owner, contact.by)
            if (key in pulled) != (key in state.pulled):
                closed = ("in" if key in pulled else "out") in contact.closed
                wanted = self._closed(index) if closed else 0.0
                if wanted != state.solved.g[index]:
                    found[index] = float(wanted - state.solved.g[index])
        return found


def _floats(state: State) -> bool:
    """Tell whether something floats: joining it moves its zero, which an update cannot."""
    joined = state.solved.joined
    touched = np.zeros(state.network.count, np.bool_)
    touched[state.network.a] = touched[state.network.b] = True
    return bool((touched & ~joined).any())
