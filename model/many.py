"""Many states near a solved one at once: the update of each a row of a few arrays.

What `model.updates` does for one state is done here for a stack: the contacts that a state moves,
the small system that they make, the armatures that follow, until nothing moves.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import numpy as np
import scipy.sparse as sp

from model.batch import Stack, Stopped
from model.linear import Bools, Floats, Ints
from model.lowrank import devices_stay
from model.solver import Solver
from model.updates import LOG_CUT, MOST_ROUNDS, Updates

CHUNK = 128
MOST_CONTACTS = 48
"""Contacts that a state may move to be reckoned here: its system grows with their square."""


class ManyUpdates:
    """Settles many states near one solved state.

    Parameters
    ----------
    solver
        Of the circuit.
    near
        Updates of the state that all others are reckoned from.
    """

    def __init__(self, solver: Solver, near: Updates) -> None:
        self._coils, self._near, self._state = solver.coils, near, near.state
        net, self._solved = near.state.network, near.state.solved
        count, edges = len(net.edges), near.edges
        self._a, self._b, self._contacts = net.a, net.b, edges
        self._g, self._on = self._solved.g[:count], self._solved.on[:count]
        self._columns = np.ascontiguousarray(near.columns.T)
        self._gon = self._g * self._on
        a, b = net.a[self._coils.edges], net.b[self._coils.edges]
        self._coil_v = self._solved.volts[a] - self._solved.volts[b]
        self._coil_columns: Floats = np.ascontiguousarray((near.columns[a] - near.columns[b]).T)
        self._coil_on = self._on[self._coils.edges]
        self._amps = self._solved.amps[:count] * self._on
        across = near.columns[net.a[edges]] - near.columns[net.b[edges]]
        self._between: Floats = np.ascontiguousarray(across)
        self._across = self._solved.volts[net.a[edges]] - self._solved.volts[net.b[edges]]
        joined = self._solved.joined
        self._joined: Bools = joined[net.a[edges]] & joined[net.b[edges]]
        self._in = np.array([a in near.state.pulled for a in self._coils.armatures], np.bool_)
        self._turned = near.turned(self._coils.armatures)

    def settle(self, rows: Ints, start: Bools, go_on: Callable[[], bool]) -> Iterator[Stack]:
        """Yield the states, a chunk at a time; those that need more are False in `done`.

        Parameters
        ----------
        rows
            Where the controls stand, by `Updates.stands`, shape (states, controls); engine,
            supply and moment are those of the state that is near.
        start
            Armatures that are in before each, shape (states, armatures).
        go_on
            Asked between chunks.

        Raises
        ------
        Stopped
            When `go_on` says no.
        """
        for i in range(0, len(rows), CHUNK):
            if not go_on():
                raise Stopped("The look at all states was called off.")
            yield self._chunk(rows[i : i + CHUNK], start[i : i + CHUNK])

    def _chunk(self, rows: Ints, start: Bools) -> Stack:
        """Move all armatures of every state until they rest."""
        put = self._near.put(rows)
        pulled, done = start.copy(), np.zeros(len(rows), np.bool_)
        early = np.full(len(rows), self._state.setting.moment == "early")
        by, pushed = put.copy(), np.zeros_like(put)
        todo = np.arange(len(rows))
        for _ in range(MOST_ROUNDS):
            turned = (pulled[todo] ^ self._in).astype(np.float64)
            by[todo] = put[todo] + turned @ self._turned
            todo = todo[self._push(by, todo, pushed)]
            across = self._coil_v - pushed[todo] @ self._coil_columns
            across = np.abs(across) * self._coil_on
            moved = self._coils.moved_across(across, pulled[todo], early[todo])
            rests = (moved == pulled[todo]).all(axis=1)
            done[todo[rests]] = True
            pulled[todo] = moved
            todo = todo[~rests]
            if not len(todo):
                break
        return self._stack(by, pushed, pulled, done)

    def _stack(self, by: Floats, pushed: Floats, pulled: Bools, done: Bools) -> Stack:
        """Return the volts and currents of states that have settled."""
        # Nodes and edges are the rows here, states the columns: gathering rows is the faster.
        gained = np.ascontiguousarray((_sparse(pushed) @ self._columns).T)
        volts = self._solved.volts[:, None] - gained
        done &= devices_stay(self._state, volts.T)
        amps: Floats = gained[self._b] - gained[self._a]
        amps *= self._gon[:, None]
        amps += self._amps[:, None]
        rows, places = np.nonzero(by)
        at = self._contacts[places]
        g = self._g[at] + by[rows, places]
        amps[at, rows] = g * (volts[self._a[at], rows] - volts[self._b[at], rows])
        on = np.repeat(self._on[:, None], volts.shape[1], axis=1)
        on[at, rows] = g > 0.0
        return Stack(volts.T, amps.T, on.T, pulled, done)

    def _push(self, by: Floats, todo: Ints, pushed: Floats) -> Bools:
        """Put what the contacts of the states `todo` push; tell which an update answers."""
        mine = by[todo]
        rows, contacts = np.nonzero(mine)
        counts = np.bincount(rows, minlength=len(todo))
        fine = counts <= MOST_CONTACTS
        fine[rows[(mine[rows, contacts] > 0.0) & ~self._joined[contacts]]] = False
        some = np.flatnonzero(fine)
        most = max(int(counts[some].max(initial=0)), 1)
        pushed[todo] = 0.0
        fine[some] = self._pushed(mine[some], most, pushed, todo[some])
        return fine

    def _pushed(self, by: Floats, most: int, pushed: Floats, some: Ints) -> Bools:
        """Put what each moved contact pushes, by small systems; tell which have an answer."""
        rows, contacts = np.nonzero(by)
        first = np.searchsorted(rows, np.arange(len(by)))
        rank = np.arange(len(rows)) - first[rows]
        which, add = np.zeros((len(by), most), np.intp), np.zeros((len(by), most))
        which[rows, rank], add[rows, rank] = contacts, by[rows, contacts]
        small = add[:, :, None] * self._between[which[:, :, None], which[:, None, :]]
        small[:, np.arange(most), np.arange(most)] += 1.0
        fine = ~_singular(small)
        small[~fine] = np.eye(most)
        solved = np.linalg.solve(small, (add * self._across[which])[:, :, None])[:, :, 0]
        pushed[some[rows], contacts] = solved[rows, rank]
        return fine


def _sparse(rows: Floats | Bools) -> Any:
    """Return a stack of mostly empty rows as a sparse matrix."""
    return sp.csr_array(rows.astype(np.float64, copy=False))


def _singular(small: Floats) -> Bools:
    """Tell which small matrices have no inverse, within rounding, whatever their rows' sizes."""
    sign, log = np.linalg.slogdet(small)
    rows = np.log(np.linalg.norm(small, axis=2) + 1e-300).sum(axis=1)
    found: Bools = (sign == 0.0) | (log - rows < LOG_CUT)
    return found
