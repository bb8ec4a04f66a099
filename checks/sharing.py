"""How the currents of one state divide: what of a current comes to which load.

At a node whatever comes is shared among what leaves in proportion to the currents. That is one
linear system for a whole state; each current that is followed is one right-hand side of it.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import scipy.sparse as sp
import scipy.sparse.linalg as spla
from numpy.typing import NDArray

from model.linear import Bools, Floats, Ints
from model.network import Network

LEAST_A = 1e-6
"""Current below which nothing flows: what blocking diodes and sources leak."""
NONE_A = 1e-9
"""A share below this is rounding."""


class Sharing:
    """The currents of one state, followed to where they go, or back to where they come from.

    Parameters
    ----------
    network
        The network.
    volts, amps
        Of one state, shapes (nodes,) and (edges,).
    down
        True to follow them from higher to lower voltage, False to go against them.
    """

    def __init__(self, network: Network, volts: Floats, amps: Floats, down: bool) -> None:
        self._volts = -volts if down else volts
        some = np.flatnonzero((np.abs(amps) > LEAST_A) & (network.a != network.b))
        forth = (amps[some] > 0) == down
        a, b = network.a[some], network.b[some]
        self._from, to = np.where(forth, a, b), np.where(forth, b, a)
        self._amps = np.abs(amps[some])
        coming = np.bincount(to, self._amps, network.count)
        self._share = self._amps / np.maximum(coming[self._from], LEAST_A)
        uses, sources = _roles(network)
        self._loads: Ints = np.flatnonzero(uses[some])
        self._places: Ints = some
        passing = np.flatnonzero(~uses[some] & ~sources[some])
        self._solver = self._system(network.count, to, passing)

    def _system(self, count: int, to: Ints, passing: Ints) -> Any:
        """Factor what each node is brought, by what leaves the others for it."""
        rows, cols = to[passing], self._from[passing]
        ones = np.arange(count)
        data = np.concatenate((np.ones(count), -self._share[passing]))
        where = (np.concatenate((ones, rows)), np.concatenate((ones, cols)))
        return spla.splu(sp.csc_array(sp.coo_array((data, where), shape=(count, count))))

    def loads(self, node: int, amps: float) -> dict[int, float]:
        """Return the amperes of each load and coil, by edge, of a current brought to a node.

        They come in the order in which the current meets them.
        """
        start = np.zeros(len(self._volts))
        start[node] = amps
        brought: Floats = self._solver.solve(start)
        at = self._from[self._loads]
        found = brought[at] * self._share[self._loads]
        order = np.lexsort((self._places[self._loads], at, self._volts[at]))
        order = order[found[order] > NONE_A]
        places = self._places[self._loads[order]]
        return dict(zip(places.tolist(), found[order].tolist(), strict=True))


def greatest(network: Network, amps: Floats, wanted: Bools, *, up: bool) -> NDArray[np.intp]:
    """Return the edge of each node with the greatest current to it (`up`) or from it, −1 for none.

    Parameters
    ----------
    network
        The network.
    amps
        Of one state, shape (edges,).
    wanted
        Edges that count, shape (edges,).
    """
    some = np.flatnonzero((np.abs(amps) > LEAST_A) & wanted)
    forth = amps[some] > 0
    ends = (network.b, network.a) if up else (network.a, network.b)
    at = np.where(forth, ends[0][some], ends[1][some])
    order = np.lexsort((-some, np.abs(amps[some])))
    best = np.full(network.count, -1, np.intp)
    best[at[order]] = some[order]  # the last one written, the greatest, stays
    return best


def _roles(network: Network) -> tuple[Bools, Bools]:
    """Return which edges are loads or coils, and which are sources."""

    def make() -> tuple[Bools, Bools]:
        uses = [e.role in ("load", "coil") for e in network.edges]
        sources = [e.role == "source" for e in network.edges]
        return np.array(uses, np.bool_), np.array(sources, np.bool_)

    return network.frame.fact("roles", make)
