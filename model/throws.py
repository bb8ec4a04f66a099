"""Contacts of many states at once: which are closed for positions and armatures given as arrays."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from model.armature import Coils
from model.conduct import Conductor
from model.linear import Bools, Floats, Ints
from model.states import Setting


class Throws:
    """Puts the contacts of a stack of states.

    Parameters
    ----------
    conductor
        Knows the contacts of every control and armature, and their conductances.
    coils
        Gives the order of the armatures.
    """

    def __init__(self, conductor: Conductor, coils: Coils) -> None:
        self._conductor = conductor
        self._controls = conductor.by_control
        edges, column, when_in, when_out = [], [], [], []
        for armature, contacts in conductor.by_armature.items():
            for edge, contact in contacts:
                edges.append(edge)
                column.append(coils.armatures.index(armature))
                when_in.append("in" in contact.closed)
                when_out.append("out" in contact.closed)
        self._edges: Ints = np.array(edges, np.intp)
        self._column: Ints = np.array(column, np.intp)
        self._in, self._out = np.array(when_in, np.bool_), np.array(when_out, np.bool_)

    def put_controls(self, settings: Sequence[Setting], g: Floats, on: Bools) -> None:
        """Put the contacts of every control in every state, rows of `g` and `on`."""
        for owner, contacts in self._controls.items():
            rest = self._conductor.rests.get(owner, "")
            at = [s.positions.get(owner, rest) for s in settings]
            for edge, contact in contacts:
                closed = np.array([p in contact.closed for p in at], np.bool_)
                on[:, edge] = closed
                g[:, edge] = closed * self._conductor.closed_s(edge)

    def put_armatures(self, rows: Ints, pulled: Bools, g: Floats, on: Bools) -> None:
        """Put the contacts of every armature in some states."""
        if not len(self._edges):
            return
        moved = pulled[np.ix_(rows, self._column)]
        closed = np.where(moved, self._in, self._out)
        on[np.ix_(rows, self._edges)] = closed
        g[np.ix_(rows, self._edges)] = closed * self._conductor.closed_s(self._edges)
