"""Nodal analysis: conductances in, volts out; one factorisation serves many right-hand sides.

The places of a matrix's entries depend on the network alone, so they are found once; each state
only fills in its values. Islands that nothing joins to the reference are found by structure: each
is held at a zero of its own, so nothing is divided by zero.
"""

from __future__ import annotations

from typing import Any, Literal

import numpy as np
import scipy.linalg
import scipy.sparse as sp
import scipy.sparse.linalg as spla
from numpy.typing import NDArray
from scipy.sparse.csgraph import connected_components

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
Bools = NDArray[np.bool_]
DENSE_UP_TO = 70
"""Up to this many nodes a dense factorisation is the faster one."""
BLOCK = 32
"""Right-hand sides solved together; more of them no longer fit the cache."""
HOLD_S = 1.0
"""Conductance that holds an island's zero. No current can flow through it, whatever its size."""


class Islands:
    """Nodes that are joined; edges that never open are joined once for all."""

    def __init__(self, count: int, a: Ints, b: Ints, fixed: Bools) -> None:
        """Join the `fixed` edges; the others are joined as told in `of`."""
        self._count, self._a, self._b, self._fixed = count, a, b, fixed
        self._label = _components(count, a[fixed], b[fixed])
        moving = np.flatnonzero(~fixed)
        self._moving = moving
        ends = zip(self._label[a[moving]].tolist(), self._label[b[moving]].tolist(), strict=True)
        self._ends = list(ends)

    def of(self, on: Bools) -> Ints:
        """Return a number for each node, the same for nodes joined by edges that are on."""
        size = len(self._fixed)
        if len(on) > size or not on[:size][self._fixed].all():
            raise ValueError("an edge that never opens is open")
        up = list(range(int(self._label.max(initial=-1)) + 1))
        for (a, b), joined in zip(self._ends, on[self._moving].tolist(), strict=True):
            if joined:
                _join(up, a, b)
        roots = np.array([_root(up, i) for i in range(len(up))], np.intp)
        found: Ints = roots[self._label]
        return found


def _root(up: list[int], i: int) -> int:
    """Return the root of a label, shortening the way."""
    while up[i] != i:
        up[i] = up[up[i]]
        i = up[i]
    return i


def _join(up: list[int], a: int, b: int) -> None:
    """Join two labels."""
    up[_root(up, a)] = _root(up, b)


def islands(count: int, a: Ints, b: Ints, on: Bools) -> Ints:
    """Return a number for each node, the same for nodes joined by edges that are on."""
    return _components(count, a[on], b[on])


def _components(count: int, a: Ints, b: Ints) -> Ints:
    """Return the number of each node's component."""
    links = sp.coo_array((np.ones(len(a), np.int8), (a, b)), shape=(count, count))
    return np.asarray(connected_components(links, directed=False)[1], np.intp)


def zeros_of(island: Ints, reference: int) -> Ints:
    """Return one node an island to be its 0 V: the reference in its own, the first elsewhere."""
    numbers, first = np.unique(island, return_index=True)
    first[np.searchsorted(numbers, island[reference])] = reference
    return first.astype(np.intp)


class Pattern:
    """Where the conductances of a network's edges stand in its matrix.

    Parameters
    ----------
    count
        Number of nodes.
    a, b
        End nodes of the edges, shape (edges,).
    """

    def __init__(self, count: int, a: Ints, b: Ints) -> None:
        self.count, self.a, self.b = count, a, b
        self.dense = count <= DENSE_UP_TO
        self.place = np.arange(count, dtype=np.intp)
        self._lay()

    def _lay(self) -> None:
        """Find the slot of every edge and of the diagonal, in the order of `place`."""
        a, b = self.place[self.a], self.place[self.b]
        diagonal = np.arange(self.count, dtype=np.intp)
        rows = np.concatenate((a, b, a, b, diagonal))
        cols = np.concatenate((a, b, b, a, diagonal))
        keys, slots = np.unique(cols * self.count + rows, return_inverse=True)
        self._keys, self._slots = keys, slots[: 4 * len(a)]
        self._diagonal = slots[4 * len(a) :]
        self._rows = (keys % self.count).astype(np.int32)
        starts = np.searchsorted(keys, np.arange(self.count + 1) * self.count)
        self._starts = starts.astype(np.int32)
        self._ordered = False

    def values(self, g: Floats, zeros: Ints) -> Floats:
        """Return the entries of the matrix for conductances `g`, with the zeros held."""
        stamps = np.concatenate((g, g, -g, -g))
        summed = np.bincount(self._slots, stamps, len(self._keys))
        data: Floats = np.asarray(summed, np.float64)  # without an edge it counts in integers
        data[self._diagonal[self.place[zeros]]] += HOLD_S
        return data

    def factor(self, g: Floats, zeros: Ints) -> Factored:
        """Factor the matrix.

        Parameters
        ----------
        g
            Conductances in siemens, shape (edges,); 0 for an edge that does not conduct.
        zeros
            One node of each island, held at 0 V.
        """
        data = self.values(g, zeros)
        if self.dense:
            full = np.zeros(self.count * self.count)
            full[self._keys] = data
            square = full.reshape(self.count, self.count)
            return Factored(self, scipy.linalg.lu_factor(square.T, check_finite=False))
        return Factored(self, self._sparse(data))

    def _sparse(self, data: Floats) -> Any:
        """Factor by sparse elimination; the best order is found once and kept."""
        shape = (self.count, self.count)
        matrix = sp.csc_array((data, self._rows, self._starts), shape=shape)
        order: Literal["NATURAL", "MMD_AT_PLUS_A"]
        order = "NATURAL" if self._ordered else "MMD_AT_PLUS_A"
        return spla.splu(
            matrix, permc_spec=order, diag_pivot_thresh=0.0, options={"SymmetricMode": True}
        )

    def order(self, g: Floats, zeros: Ints) -> None:
        """Renumber the nodes so that elimination in their order stays sparse."""
        if self.dense:
            return
        found = self._sparse(self.values(g, zeros)).perm_c
        self.place = np.asarray(found, np.intp)[self.place]
        self._lay()
        self._ordered = True


class Factored:
    """A factored conductance matrix, ready for any number of right-hand sides."""

    def __init__(self, pattern: Pattern, factor: Any) -> None:
        self._pattern, self._factor = pattern, factor

    def solve(self, injected: Floats) -> Floats:
        """Return the volts for currents injected at the nodes.

        Parameters
        ----------
        injected
            Amperes into each node, shape (nodes,) or (nodes, cases).

        Returns
        -------
        Volts of the same shape.
        """
        if self._pattern.dense:
            volts: Floats = scipy.linalg.lu_solve(self._factor, injected, check_finite=False)
            return volts
        placed: Any = np.empty(injected.shape, order="F")
        placed[self._pattern.place] = injected
        if injected.ndim == 1:
            return np.asarray(self._factor.solve(placed)[self._pattern.place], np.float64)
        for first in range(0, placed.shape[1], BLOCK):
            some = slice(first, first + BLOCK)
            placed[:, some] = self._factor.solve(placed[:, some])
        return np.asarray(placed.T[:, self._pattern.place].T, np.float64)

    def between(self, a: Ints, b: Ints) -> Floats:
        """Return, for unit current in at `a` and out at `b`, the volts: shape (nodes, cases).

        These columns are what a low-rank change of conductance needs.
        """
        injected = np.zeros((self._pattern.count, len(a)))
        cases = np.arange(len(a))
        injected[a, cases] += 1.0
        injected[b, cases] -= 1.0
        return self.solve(injected)


def inject(count: int, a: Ints, b: Ints, j: Floats) -> Floats:
    """Return the currents into the nodes from the constant parts `j` of edges (a to b)."""
    return np.asarray(np.bincount(b, j, count) - np.bincount(a, j, count), np.float64)
