"""States near a solved one, by updates of its factorisation instead of new ones.

A moved control, the contacts that relays move because of it, a broken wire: each time a handful
of edges changes. The columns of all contacts are solved once, and each state is then a small
system. What an update cannot answer (a part cut off or joined that floated, a device that leaves
its line, relays that do not come to rest) is left to be settled in full.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from model.anchor import columns_of
from model.kinds.body import Contact
from model.linear import Bools, Floats, Ints
from model.lowrank import CUT, devices_stay
from model.network import Network
from model.solver import Solver
from model.stands import Stands
from model.state import State
from model.states import Armature, Setting

MOST_ROUNDS = 6
MOST_MOVED = 6
"""Controls moved up to which a state counts as near."""
LOG_CUT = float(np.log(CUT))


@dataclass(frozen=True, slots=True)
class Near:
    """A state found by update: volts at the nodes, what conducts, armatures that are in.

    `amps` and `on` are those of the network's own edges.
    """

    volts: Floats
    amps: Floats
    on: Bools
    pulled: frozenset[Armature]


class Updates:
    """Settles states near one solved state.

    Parameters
    ----------
    solver
        Of the circuit.
    state
        A solved state without faults; everything is reckoned from it.

    Attributes
    ----------
    edges
        Indices of the contacts, shape (contacts,).
    columns
        Volts at the nodes for unit current through each contact, (nodes, contacts).
    """

    def __init__(self, solver: Solver, state: State) -> None:
        self._coils, self.state = solver.coils, state
        self._conductor = solver.conductor
        net = state.network
        self.edges: Ints = net.frame.fact("contact edges", lambda: _contacts(net))
        rests = self._conductor.rests
        by_control = self._conductor.by_control
        self.stands = net.frame.fact(
            "stands", lambda: Stands({o: rests.get(o, "") for o in by_control})
        )
        self._row = self.stands.row(state.setting)
        self._place = {int(i): k for k, i in enumerate(self.edges)}
        self.columns: Floats = columns_of(state, self.edges)

    def settle(self, setting: Setting, opened: int = -1) -> Near | None:
        """Return how the circuit settles, armatures starting from those of the state.

        Parameters
        ----------
        setting
            Positions to be in; engine, supply and moment those of the state.
        opened
            Index of an edge that is broken besides; -1 for none.

        Returns
        -------
        Near or None
            None where the circuit must be settled in full.
        """
        if self.moved(setting) > MOST_MOVED:
            return None
        pulled = self.state.pulled
        for _ in range(MOST_ROUNDS):
            near = self._solve(setting, pulled, opened)
            if near is None:
                return None
            after = self._coils.moved(near.volts, near.on, pulled, setting.moment)
            if after == pulled:
                return near if devices_stay(self.state, near.volts[None])[0] else None
            pulled = after
        return None

    def moved(self, setting: Setting) -> int:
        """Return how many controls stand otherwise than in the state."""
        return int(self.otherwise(self.stands.row(setting)).sum())

    def otherwise(self, rows: Ints) -> Bools:
        """Tell which controls stand otherwise than in the state, of the shape of `rows`."""
        found: Bools = rows != self._row
        return found

    def _solve(self, setting: Setting, pulled: frozenset[Armature], opened: int) -> Near | None:
        """Return the volts with contacts and armatures as told."""
        solved, net = self.state.solved, self.state.network
        changes = self._changes(setting, pulled)
        count = len(net.edges)
        g, on = solved.g[:count].copy(), solved.on[:count].copy()
        if opened >= 0:
            changes[opened] = 0.0
        if not self._within(changes):
            return None
        edges = np.array(list(changes), np.intp)
        wanted = np.array(list(changes.values()))
        volts = self._moved(edges, wanted - g[edges]) if len(edges) else solved.volts.copy()
        if volts is None:
            return None
        g[edges], on[edges] = wanted, wanted > 0.0
        amps = g * (volts[net.a] - volts[net.b]) + solved.j[:count]
        return Near(volts, amps * on, on, pulled)

    def _within(self, changes: dict[int, float]) -> bool:
        """Tell whether nothing that floats is joined: its zero would have to move."""
        net, joined = self.state.network, self.state.solved.joined
        return all(
            joined[net.edges[i].a] and joined[net.edges[i].b]
            for i, wanted in changes.items()
            if wanted > 0.0
        )

    def _moved(self, edges: Ints, by: Floats) -> Floats | None:
        """Return the volts after conductances change; None where that cuts something off."""
        solved, net = self.state.solved, self.state.network
        a, b = net.a[edges], net.b[edges]
        columns = np.column_stack([self._column(int(i)) for i in edges])
        small = np.eye(len(edges)) + by[:, None] * (columns[a] - columns[b])
        if _singular(small):
            return None
        pushed = np.linalg.solve(small, by * (solved.volts[a] - solved.volts[b]))
        return np.asarray(solved.volts - columns @ pushed, np.float64)

    def _column(self, edge: int) -> Floats:
        """Return the volts for unit current through an edge, against the reference."""
        if edge in self._place:
            return self.columns[:, self._place[edge]]
        net = self.state.network
        one = self.state.solved.factored.between(net.a[[edge]], net.b[[edge]])[:, 0]
        return np.asarray(one - one[net.reference], np.float64)

    def _changes(self, setting: Setting, pulled: frozenset[Armature]) -> dict[int, float]:
        """Return the contacts that differ from the state's, with their conductance now."""
        found: dict[int, float] = {}
        row = self.stands.row(setting)
        for column in np.flatnonzero(self.otherwise(row)).tolist():
            owner, position = self.stands.at(column, int(row[column]))
            found.update(self._put(self._conductor.by_control[owner], position))
        for armature in pulled ^ self.state.pulled:
            where = "in" if armature in pulled else "out"
            found.update(self._put(self._conductor.by_armature.get(armature, ()), where))
        return found

    def put(self, rows: Ints) -> Floats:
        """Return the siemens that contacts gain by positions, shape (settings, contacts).

        Parameters
        ----------
        rows
            Where the controls stand, by `stands`, shape (settings, controls).
        """
        known: dict[tuple[int, int], list[tuple[int, bool]]]
        known = self.state.network.frame.fact("contacts in position", dict)
        some: list[tuple[int, int, bool]] = []
        where = np.nonzero(self.otherwise(rows))
        numbers = rows[where].tolist()
        for row, *key in zip(*(w.tolist() for w in where), numbers, strict=True):
            column, number = key
            if (column, number) not in known:
                known[column, number] = self._in_position(column, number)
            some += [(row, place, closed) for place, closed in known[column, number]]
        by = np.zeros((len(rows), len(self.edges)))
        if some:
            self._gain(by, *map(np.array, zip(*some, strict=True)))
        return by

    def _in_position(self, column: int, number: int) -> list[tuple[int, bool]]:
        """Return the contacts of a control, with whether they are closed in a position."""
        owner, position = self.stands.at(column, number)
        contacts = self._conductor.by_control[owner]
        return [(self._place[index], position in contact.closed) for index, contact in contacts]

    def _gain(self, by: Floats, rows: Ints, places: Ints, closed: Bools) -> None:
        """Write what contacts gain against the state when they are closed or open."""
        at = self.edges[places]
        by[rows, places] = closed * self._conductor.closed_s(at) - self.state.solved.g[at]

    def turned(self, armatures: Sequence[Armature]) -> Floats:
        """Return the siemens that contacts gain where armatures turn, (armatures, contacts)."""
        by_armature, pulled = self._conductor.by_armature, self.state.pulled
        some = [
            (row, self._place[index], ("out" if armature in pulled else "in") in contact.closed)
            for row, armature in enumerate(armatures)
            for index, contact in by_armature.get(armature, ())
        ]
        by = np.zeros((len(armatures), len(self.edges)))
        if some:
            self._gain(by, *map(np.array, zip(*some, strict=True)))
        return by

    def _put(self, contacts: Iterable[tuple[int, Contact]], where: str) -> dict[int, float]:
        """Return the contacts that change with a position, with their conductance in it."""
        wanted = {
            i: self._conductor.closed_s(i) if where in contact.closed else 0.0
            for i, contact in contacts
        }
        return {i: s for i, s in wanted.items() if s != self.state.solved.g[i]}


def _contacts(network: Network) -> Ints:
    """Return the indices of the contacts."""
    some = [i for i, e in network.of_role("contact") if isinstance(e.inner, Contact)]
    return np.array(some, np.intp)


def _singular(small: Floats) -> bool:
    """Tell whether a small matrix has no inverse, within rounding, whatever its rows' sizes."""
    sign, log = np.linalg.slogdet(small)
    rows = np.log(np.linalg.norm(small, axis=1) + 1e-300).sum()
    return bool(sign == 0.0 or log - rows < LOG_CUT)
