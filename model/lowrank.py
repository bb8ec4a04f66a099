"""What changes when a conductance does: updates of one factorisation instead of new ones.

With A the conductance matrix, u the ends of an edge and z = uᵀA⁻¹u, taking its conductance g away
moves the volts v by A⁻¹u · g·uᵀv/(1 − g·z) (Sherman and Morrison); k edges at once cost a small
k × k system (Woodbury). An edge whose loss cuts the network in two carries no current, and
1 − g·z is 0 there: opening it moves nothing, and its far side floats.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from model.devices import Alternator, Junction
from model.laws import lines
from model.linear import Bools, Floats, Ints
from model.solver import Solver
from model.state import State

CUT = 1e-7
"""1 − g·z below this: the edge is a bridge, within rounding."""
LATE = 9
"""A turn after which laws are no longer approached by chords."""
STILL_V = 1e-9
"""A device across which the volts move less than this stays on its line."""


@dataclass(frozen=True, slots=True)
class Opens:
    """Every one of some edges opened alone, against one state.

    Attributes
    ----------
    edges
        Indices of the edges, shape (faults,).
    volts
        Volts at the nodes for each, shape (faults, nodes).
    sure
        False where a relay would move, or a device would leave the line it was solved on, so
        that the circuit must be settled anew.
    """

    edges: Ints
    volts: Floats
    sure: Bools


def opened(state: State, edges: Ints) -> Opens:
    """Return the volts with each edge opened alone.

    Parameters
    ----------
    state
        A solved state.
    edges
        Indices of edges without a law of their own, shape (faults,).

    Notes
    -----
    An edge without current moves nothing when it opens, so it needs no column.
    """
    solved, net = state.solved, state.network
    volts = np.repeat(solved.volts[None], len(edges), axis=0)
    rows = np.flatnonzero(solved.amps[edges])
    some = edges[rows]
    a, b = net.a[some], net.b[some]
    columns = solved.factored.between(a, b)
    cases = np.arange(len(some))
    left = 1.0 - solved.g[some] * (columns[a, cases] - columns[b, cases])
    bridge = np.abs(left) < CUT
    pushed = np.where(bridge, 0.0, solved.amps[some] / np.where(bridge, 1.0, left))
    moved = columns.T * pushed[:, None]
    moved -= moved[:, [net.reference]]
    volts[rows] += moved
    return Opens(edges, volts, np.ones(len(edges), np.bool_))


def changed(state: State, edges: Ints, by: Floats) -> Floats:
    """Return the volts after several conductances change together.

    Parameters
    ----------
    state
        A solved state.
    edges, by
        Indices of the edges, and siemens added to each (negative: taken away); shape (k,).

    Returns
    -------
    Volts at the nodes, shape (nodes,).

    Raises
    ------
    numpy.linalg.LinAlgError
        When the change cuts a part off: that is found by structure, not divided by.
    """
    solved, net = state.solved, state.network
    a, b = net.a[edges], net.b[edges]
    columns = solved.factored.between(a, b)
    between = columns[a] - columns[b]
    across = solved.volts[a] - solved.volts[b]
    small = np.eye(len(edges)) + by[:, None] * between
    volts = solved.volts - columns @ np.linalg.solve(small, by * across)
    return np.asarray(volts - volts[net.reference], np.float64)


def every_open(solver: Solver, state: State) -> Opens:
    """Return every wire of a circuit opened alone, in one state.

    `sure` tells which of them leave all relays and devices as they are; the others must be
    settled (`model.opens`).
    """
    net = state.network
    wires = np.array([i for i, e in net.of_role("wire")], np.intp)
    found = opened(state, wires)
    sure = _relays_stay(solver, state, found.volts) & devices_stay(state, found.volts)
    return Opens(found.edges, found.volts, sure)


def _relays_stay(solver: Solver, state: State, volts: Floats) -> Bools:
    """Tell with which volts, shape (faults, nodes), no armature moves."""
    coils = solver.coils
    count = len(volts)
    pulled = np.array([[a in state.pulled for a in coils.armatures]], np.bool_)
    pulled = np.repeat(pulled, count, axis=0)
    on = state.solved.on[None, : len(state.network.edges)]
    early = np.full(count, state.setting.moment == "early")
    stays: Bools = (coils.moved_all(volts, on, pulled, early) == pulled).all(axis=1)
    return stays


def devices_stay(state: State, volts: Floats) -> Bools:
    """Tell with which volts no diode, lamp or source leaves the line it was solved on.

    A piecewise law stays as long as its piece does; a curved one only where its volts stand still.
    """
    net, laws = state.network, state.solved.devices
    edges = np.array(sorted(laws), np.intp)
    before = state.solved.volts[net.a[edges]] - state.solved.volts[net.b[edges]]
    after = volts[:, net.a[edges]] - volts[:, net.b[edges]]
    devices = [laws[int(i)] for i in edges]
    was, now = (lines(devices, v, LATE)[2] for v in (before[None], after))
    exact = np.array([isinstance(d, Junction | Alternator) for d in devices], np.bool_)
    still = np.abs(after - before) < STILL_V
    return np.asarray(np.where(exact, was == now, still).all(axis=1), np.bool_)
