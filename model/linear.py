"""Nodal analysis: conductances in, volts out; one factorisation serves many right-hand sides.

A network of n nodes is solved for the n volts against node `reference`. Islands that nothing
joins to it are found by structure: each gets a zero of its own, so nothing is divided by zero.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import scipy.linalg
import scipy.sparse as sp
import scipy.sparse.linalg as spla
from numpy.typing import NDArray
from scipy.sparse.csgraph import connected_components

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
DENSE_UP_TO = 80
"""Up to this many nodes a dense factorisation is the faster one."""


def islands(count: int, a: Ints, b: Ints, on: NDArray[np.bool_]) -> NDArray[np.int32]:
    """Return the number of each node's island: nodes joined by edges that are on."""
    rows, cols = a[on], b[on]
    links = sp.coo_array((np.ones(len(rows), np.int8), (rows, cols)), shape=(count, count))
    found: NDArray[np.int32] = connected_components(links, directed=False)[1]
    return found


def zeros_of(island: NDArray[np.int32], reference: int) -> Ints:
    """Return one node an island to be its 0 V: the reference in its own, the first elsewhere."""
    _, first = np.unique(island, return_index=True)
    first[island[reference]] = reference
    return first.astype(np.intp)


class Factored:
    """The conductance matrix of a network, factored.

    Parameters
    ----------
    count
        Number of nodes.
    a, b
        End nodes of the edges, shape (edges,).
    g
        Conductances in siemens, shape (edges,); 0 for an edge that does not conduct.
    zeros
        Nodes held at 0 V.
    """

    def __init__(self, count: int, a: Ints, b: Ints, g: Floats, zeros: Ints) -> None:
        self.count = count
        self._free = np.ones(count, np.bool_)
        self._free[zeros] = False
        place = np.cumsum(self._free) - 1
        self._size = int(self._free.sum())
        self._factor: Any = None
        if self._size:
            self._factor = self._factorise(place, a, b, g)

    def _factorise(self, place: Ints, a: Ints, b: Ints, g: Floats) -> Any:
        """Factor the matrix of the free nodes."""
        rows, cols, data = _stamps(a, b, g)
        keep = self._free[rows] & self._free[cols]
        rows, cols, data = place[rows[keep]], place[cols[keep]], data[keep]
        size = self._size
        self._dense = size <= DENSE_UP_TO
        if self._dense:
            full = np.bincount(rows * size + cols, data, size * size).reshape(size, size)
            return scipy.linalg.lu_factor(full, check_finite=False)
        matrix = sp.coo_array((data, (rows, cols)), shape=(size, size)).tocsc()
        return spla.splu(
            matrix, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0,
            options={"SymmetricMode": True},
        )  # fmt: skip

    def solve(self, injected: Floats) -> Floats:
        """Return the volts for currents injected at the nodes.

        Parameters
        ----------
        injected
            Amperes into each node, shape (count,) or (count, cases).

        Returns
        -------
        Volts of the same shape.
        """
        volts = np.zeros_like(injected)
        if self._size:
            free = injected[self._free]
            solved = (
                scipy.linalg.lu_solve(self._factor, free, check_finite=False)
                if self._dense
                else self._factor.solve(free)
            )
            volts[self._free] = solved
        return volts

    def between(self, a: Ints, b: Ints) -> Floats:
        """Return, for unit current in at `a` and out at `b`, the volts: shape (count, cases).

        These columns are what a low-rank change of conductance needs.
        """
        injected = np.zeros((self.count, len(a)))
        cases = np.arange(len(a))
        injected[a, cases] += 1.0
        injected[b, cases] -= 1.0
        return self.solve(injected)


def _stamps(a: Ints, b: Ints, g: Floats) -> tuple[Ints, Ints, Floats]:
    """Return rows, columns and values of the conductance matrix, duplicates to be summed."""
    on = g != 0.0
    a, b, g = a[on], b[on], g[on]
    rows = np.concatenate((a, b, a, b))
    cols = np.concatenate((a, b, b, a))
    return rows, cols, np.concatenate((g, g, -g, -g))


def inject(count: int, a: Ints, b: Ints, j: Floats) -> Floats:
    """Return the currents into the nodes from the constant parts `j` of edges (a to b)."""
    return np.asarray(np.bincount(b, j, count) - np.bincount(a, j, count), np.float64)
