"""The baseline of the electrical benchmarks: plain scipy, nothing kept from one solve to the next.

Each solve assembles its matrix from triplets, factors it by `splu` with scipy's own defaults and
solves. What floats has to be held at a zero of its own, or the matrix is singular; where these
zeros can be found beforehand they are, outside the timed part, in favour of the baseline.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import scipy.sparse as sp
import scipy.sparse.linalg as spla
from scipy.sparse.csgraph import connected_components

from model.circuit import Circuit
from model.conduct import Conducting
from model.kinds.body import Contact
from model.linear import Bools, Floats, Ints
from model.solver import Solver
from model.states import Armature, Setting

HELD_S = 1.0
MOST_MOVES = 50


@dataclass(frozen=True, slots=True)
class Plain:
    """Edges from `a` to `b` carrying g·(volts a − volts b) + j, and the nodes held at 0 V."""

    count: int
    reference: int
    a: Ints
    b: Ints
    g: Floats
    j: Floats
    held: Ints

    def volts(self) -> Floats:
        """Assemble, factor, solve; return the volts of every node against the reference."""
        a, b, g, held = self.a, self.b, self.g, self.held
        rows = np.concatenate((a, b, a, b, held))
        cols = np.concatenate((a, b, b, a, held))
        data = np.concatenate((g, g, -g, -g, np.full(len(held), HELD_S)))
        matrix = sp.coo_array((data, (rows, cols)), shape=(self.count, self.count)).tocsc()
        into = np.bincount(b, self.j, self.count) - np.bincount(a, self.j, self.count)
        volts: Floats = spla.splu(matrix).solve(into)
        above: Floats = volts - volts[self.reference]
        return above

    def kept(self, keep: Bools) -> Plain:
        """Return the network with these edges alone, its zeros found anew."""
        a, b = self.a[keep], self.b[keep]
        held = zeros(self.count, self.reference, a, b)
        return replace(self, a=a, b=b, g=self.g[keep], j=self.j[keep], held=held)

    def joined(self) -> Bools:
        """Tell which nodes conductors join to the reference."""
        island = _islands(self.count, self.a, self.b)
        joined: Bools = island == island[self.reference]
        return joined


def _islands(count: int, a: Ints, b: Ints) -> Ints:
    """Return the number of each node's island."""
    links = sp.coo_array((np.ones(len(a)), (a, b)), shape=(count, count))
    return np.asarray(connected_components(links, directed=False)[1], np.intp)


def zeros(count: int, reference: int, a: Ints, b: Ints) -> Ints:
    """Return one node of every island, the reference in its own."""
    island = _islands(count, a, b)
    first = np.unique(island, return_index=True)[1]
    first[island[reference]] = reference
    return np.asarray(first, np.intp)


def plain_of(count: int, reference: int, now: Conducting) -> Plain:
    """Return what conducts as plain scipy is given it: open edges left out, zeros found."""
    every = Plain(count, reference, now.a, now.b, now.g, now.j, np.zeros(0, np.intp))
    return every.kept(now.g != 0.0)


class PlainSettling:
    """Moves relays until they rest, each state solved by plain scipy.

    The thresholds and the joint step of the armatures are those of the program; how the volts
    come about is not.
    """

    def __init__(self, circuit: Circuit, setting: Setting) -> None:
        self.solver = Solver(circuit)
        net = self.solver.network
        now = self.solver.conductor.conducting(setting, frozenset(), setting.engine, setting.supply)
        none = np.zeros(0, np.intp)
        self.every = Plain(net.count, net.reference, now.a, now.b, now.g, now.j, none)
        self.contacts = [
            (i, (e.owner, e.inner.by), "in" in e.inner.closed, 1.0 / e.ohm)
            for i, e in net.of_role("contact")
            if isinstance(e.inner, Contact) and e.inner.by
        ]

    def settle(
        self, opened: int | None, pulled: frozenset[Armature]
    ) -> tuple[Plain, Floats, frozenset[Armature]]:
        """Return network, volts and armatures at rest from `pulled`, one edge open or none."""
        for _ in range(MOST_MOVES):
            now = self.network(opened, pulled)
            volts = now.volts()
            after = self.solver.coils.moved(volts, self._on(opened), pulled, "settled")
            if after == pulled:
                return now, volts, pulled
            pulled = after
        raise AssertionError("the relays of the benchmark's circuit do not come to rest")

    def network(self, opened: int | None, pulled: frozenset[Armature]) -> Plain:
        """Return the network with these armatures in and one edge open."""
        g = self.every.g.copy()
        for index, armature, closed_in, siemens in self.contacts:
            g[index] = siemens if (armature in pulled) == closed_in else 0.0
        if opened is not None:
            g[opened] = 0.0
        return replace(self.every, g=g).kept(g != 0.0)

    def _on(self, opened: int | None) -> Bools:
        """Return which edges conduct as far as a coil is concerned."""
        on = np.ones(len(self.every.g), np.bool_)
        if opened is not None:
            on[opened] = False
        return on
