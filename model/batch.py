"""Many states of one circuit at once: what never changes is eliminated, the rest solved stacked.

Nodes that only fixed conductors touch are eliminated once (Schur complement). What is left, the
ends of contacts and devices, gives a small dense matrix a state; numpy solves the stack.
All armatures of a state move together, as in `Solver`; states that do not come to rest this way,
or in which the engine or the supply must follow, are left to it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from model.armature import Coils
from model.conduct import Conductor
from model.conducting import Conducting
from model.devices import CHORD_TURNS, LEAK_S, Alternator, Junction
from model.errors import ModelError
from model.laws import lines
from model.linear import Bools, Floats, Ints, inject
from model.states import Setting
from model.throws import Throws

MOST_PORTS = 130
"""Nodes left after elimination up to which stacking pays."""
CHUNK = 128
MOST_ROUNDS = 12
MOST_TURNS = 60
HOLD_S = 1e-10
"""Conductance from every node to the reference: holds floating ones, too small to be seen."""
SAME_V = 1e-9


class Stopped(ModelError):
    """Long work was called off: a newer circuit is there."""


@dataclass(frozen=True, slots=True)
class Stack:
    """States solved together; those that were not are False in `done`.

    volts (states, nodes), amps and on (states, edges), pulled (states, armatures).
    """

    volts: Floats
    amps: Floats
    on: Bools
    pulled: Bools
    done: Bools


class Eliminated:
    """A network with its inner nodes eliminated, for one engine and supply.

    Parameters
    ----------
    conductor
        Gives the network.
    now
        What conducts at rest; its devices and contacts are taken out and stacked per state.
    """

    def __init__(self, conductor: Conductor, now: Conducting) -> None:
        net = conductor.network
        self.count, self.reference = net.count, net.reference
        self.a, self.b = net.a, net.b
        self.devices = sorted(now.devices.items())
        contacts = {i for i, _ in net.of_role("contact")}
        self.moving: Ints = np.array(sorted(contacts | set(now.devices)), np.intp)
        fixed = np.ones(len(self.a), np.bool_)
        fixed[self.moving] = False
        self._split()
        self._fixed_g, self._fixed_j = np.where(fixed, now.g, 0.0), np.where(fixed, now.j, 0.0)

    def _split(self) -> None:
        """Choose the nodes that stay: ends of what moves, and the reference."""
        ends = [self.a[self.moving], self.b[self.moving], np.array([self.reference], np.intp)]
        self.ports: Ints = np.unique(np.concatenate(ends))
        stays = np.zeros(self.count, np.bool_)
        stays[self.ports] = True
        self.inner: Ints = np.flatnonzero(~stays)
        self.place = np.full(self.count, -1, np.intp)
        self.place[self.ports] = np.arange(len(self.ports))

    def eliminate(self) -> None:
        """Reckon the matrix and currents of the ports, and how inner volts follow from them."""
        g, j = self._fixed_g, self._fixed_j
        full = np.zeros((self.count, self.count))
        for x, y, sign in _corners(self.a, self.b):
            np.add.at(full, (x, y), sign * g)
        full[np.diag_indices(self.count)] += HOLD_S
        currents = inject(self.count, self.a, self.b, j)
        p, q = self.ports, self.inner
        right: Floats = np.column_stack((currents[q], -full[np.ix_(q, p)]))
        solved = right
        if len(q):
            solved = np.asarray(np.linalg.solve(full[np.ix_(q, q)], right), np.float64)
        self._own: Floats = solved[:, 0]
        self._follow: Floats = solved[:, 1:]
        across: Floats = full[np.ix_(p, q)]
        self._matrix = full[np.ix_(p, p)] + across @ self._follow
        self._currents = currents[p] - across @ self._own
        zero = self.place[self.reference]
        self._matrix[zero, zero] += 1.0

    def solve(self, g: Floats, j: Floats) -> Floats:
        """Return the port volts for what moves: g and j of shape (states, moving)."""
        size, count = len(self.ports), len(g)
        matrix = np.repeat(self._matrix[None], count, axis=0)
        right = np.repeat(self._currents[None], count, axis=0)
        places = zip(self.place[self.a[self.moving]], self.place[self.b[self.moving]], strict=True)
        for k, (a, b) in enumerate(places):
            matrix[:, a, a] += g[:, k]
            matrix[:, b, b] += g[:, k]
            matrix[:, a, b] -= g[:, k]
            matrix[:, b, a] -= g[:, k]
            right[:, a] -= j[:, k]
            right[:, b] += j[:, k]
        solved = np.linalg.solve(matrix, right[:, :, None])
        return np.asarray(solved, np.float64).reshape(count, size)

    def all_volts(self, ports: Floats) -> Floats:
        """Return the volts at every node against the reference from those at the ports."""
        volts = np.empty((len(ports), self.count))
        volts[:, self.ports] = ports
        volts[:, self.inner] = self._own + ports @ self._follow.T
        return volts - volts[:, [self.reference]]


def _corners(a: Ints, b: Ints) -> tuple[tuple[Ints, Ints, float], ...]:
    """Return where a conductance between a and b stands in a matrix, with its sign."""
    return ((a, a, 1.0), (b, b, 1.0), (a, b, -1.0), (b, a, -1.0))


def stack(
    conductor: Conductor,
    coils: Coils,
    settings: Sequence[Setting],
    start: Bools,
    go_on: Callable[[], bool] = lambda: True,
) -> Stack | None:
    """Solve many settings of one engine and supply, without faults.

    Parameters
    ----------
    conductor, coils
        Of the network.
    settings
        The settings.
    start
        Armatures that are in before each, shape (settings, armatures).
    go_on
        Asked between chunks.

    Returns
    -------
    Stack or None
        None where the network is too large for stacking to pay, or where floating pieces of it
        conduct so well that the small hold on every node is lost in rounding.

    Raises
    ------
    Stopped
        When `go_on` says no.
    """
    first = settings[0]
    now = conductor.conducting(Setting(), frozenset(), first.engine, first.supply)
    network = Eliminated(conductor, now)
    if len(network.ports) > MOST_PORTS:
        return None
    throws = Throws(conductor, coils)
    parts = []
    try:
        network.eliminate()
        for i in range(0, len(settings), CHUNK):
            if not go_on():
                raise Stopped("The look at all states was called off.")
            some = slice(i, i + CHUNK)
            parts.append(_chunk(network, throws, coils, now, settings[some], start[some]))
    except np.linalg.LinAlgError:
        return None
    return Stack(*(np.concatenate([getattr(p, n) for p in parts]) for n in Stack.__slots__))


def _chunk(
    network: Eliminated,
    throws: Throws,
    coils: Coils,
    now: Conducting,
    settings: Sequence[Setting],
    start: Bools,
) -> Stack:
    """Solve one chunk: move all armatures of every state until they rest."""
    count = len(settings)
    pulled, done, todo = start.copy(), np.zeros(count, np.bool_), np.arange(count)
    early = np.array([s.moment == "early" for s in settings], np.bool_)
    volts = np.zeros((count, network.count))
    ports = np.zeros((count, len(network.ports)))
    g, j = np.tile(now.g, (count, 1)), np.tile(now.j, (count, 1))
    on = np.tile(now.on, (count, 1))
    throws.put_controls(settings, g, on)
    for _ in range(MOST_ROUNDS):
        throws.put_armatures(todo, pulled, g, on)
        solved = _devices(network, g, j, ports, todo)
        volts[todo] = network.all_volts(ports[todo])
        moved = coils.moved_all(volts[todo], on[todo], pulled[todo], early[todo])
        rests = (moved == pulled[todo]).all(axis=1)
        done[todo[rests & solved]] = True
        pulled[todo] = moved
        todo = todo[~rests & solved]
        if not len(todo):
            break
    amps = g * (volts[:, network.a] - volts[:, network.b]) + j
    on &= np.abs(g) > 10 * LEAK_S
    done &= np.isfinite(amps).all(axis=1)
    return Stack(volts, amps * on, on, pulled, done)


def _devices(network: Eliminated, g: Floats, j: Floats, ports: Floats, todo: Ints) -> Bools:
    """Solve the states `todo`, devices iterated, into `ports`; tell which came to an answer."""
    edges = np.array([e for e, _ in network.devices], np.intp)
    laws = [d for _, d in network.devices]
    moving = network.moving
    if not len(edges):
        ports[todo] = network.solve(g[np.ix_(todo, moving)], j[np.ix_(todo, moving)])
        return np.ones(len(todo), np.bool_)
    exact = np.array([isinstance(d, Junction | Alternator) for d in laws], np.bool_)
    across = np.array([[d.start() for d in laws]] * len(todo))
    settled = np.zeros(len(todo), np.bool_)
    for turn in range(MOST_TURNS):
        rows = np.flatnonzero(~settled)
        states = todo[rows]
        at_g, at_j, pieces = lines(laws, across[rows], turn)
        g[np.ix_(states, edges)], j[np.ix_(states, edges)] = at_g, at_j
        solved = network.solve(g[np.ix_(states, moving)], j[np.ix_(states, moving)])
        ports[states] = solved
        found = solved[:, network.place[network.a[edges]]]
        found = found - solved[:, network.place[network.b[edges]]]
        wanted = lines(laws, found, turn + 1)[2]
        near = np.abs(found - across[rows]) <= SAME_V * np.maximum(1.0, np.abs(found))
        straight = exact | ((wanted == 0) & (pieces == 0))
        rests = np.where(straight, wanted == pieces, near & (turn > CHORD_TURNS))
        settled[rows] = rests.all(axis=1)
        across[rows] = found
        if settled.all():
            break
    return settled
