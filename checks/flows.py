"""Where the current of one contact goes: the loads it carries, and the way of the most current.

Current falls from higher to lower voltage, so that following it never comes back. Where ways part
or meet, what came through the contact is shared in proportion to the currents.
"""

from __future__ import annotations

import heapq
from typing import Any, NamedTuple

import numpy as np

from checks.currents import is_starter
from checks.sharing import LEAST_A, Sharing, greatest
from model.linear import Bools
from model.network import Edge, Network
from model.state import CONDUCTORS
from model.survey import Survey

NEAR = 24
"""Nodes up to which a current is followed one by one; beyond them all are reckoned together."""
FOLLOWED = CONDUCTORS | {"source"}
"""Roles that a way from a load to its supply runs through."""
__all__ = ["LEAST_A", "Flow", "Flows", "draws"]


class Flow(NamedTuple):
    """Current through an edge from the higher node to the lower one."""

    edge: Edge
    place: int
    high: int
    low: int
    amps: float


class Flows:
    """The currents of one state, to be followed.

    Parameters
    ----------
    survey
        The solved states.
    row
        Which of them.

    Attributes
    ----------
    volts
        Volts at every node.
    noted
        What has been found out about a node in this state, by its number.
    """

    def __init__(self, survey: Survey, row: int) -> None:
        self.network: Network = survey.solver.network
        self._volts, self._currents = survey.volts[row], survey.amps[row]
        self.volts = self._volts.tolist()
        self._amps = self._currents.tolist()
        self.noted: dict[int, Any] = {}
        self._shared: dict[bool, Sharing] = {}
        self._greatest: dict[bool, list[int]] = {}
        self._edges, self._at = self.network.edges, self.network.edges_at
        self._met: dict[int, tuple[list[Flow], list[Flow]]] = {}

    def through(self, index: int) -> Flow | None:
        """Return the current through an edge, a source's from its minus to its plus."""
        amps = self._amps[index]
        if -LEAST_A <= amps <= LEAST_A:
            return None
        edge = self._edges[index]
        if amps > 0:
            return Flow(edge, index, edge.a, edge.b, amps)
        return Flow(edge, index, edge.b, edge.a, -amps)

    def leaving(self, node: int) -> list[Flow]:
        """Return the currents that leave a node; a source's own current runs backwards."""
        return (self._met.get(node) or self._meet(node))[0]

    def coming(self, node: int) -> list[Flow]:
        """Return the currents that come to a node."""
        return (self._met.get(node) or self._meet(node))[1]

    def _meet(self, node: int) -> tuple[list[Flow], list[Flow]]:
        """Return the currents that leave a node and those that come to it."""
        found = [f for i in self._at[node] if (f := self.through(i)) is not None]
        leaving = [f for f in found if f.high == node]
        coming = [f for f in found if f.high != node]
        self._met[node] = (leaving, coming)
        return leaving, coming

    def loads_through(self, contact: int) -> dict[int, float]:
        """Return the amperes of each load and coil (edge index) that pass through a contact.

        The loads behind it are looked for first; those before it where it switches their ground
        side. Where loads account for less than half of it (a short) there are none to name.
        """
        start = self.through(contact)
        if start is None:
            return {}
        behind = self._loads(start, down=True)
        if sum(behind.values()) > 0.5 * start.amps:
            return behind
        before = self._loads(start, down=False)
        best = before if sum(before.values()) > sum(behind.values()) else behind
        return best if sum(best.values()) > 0.5 * start.amps else {}

    def _loads(self, start: Flow, *, down: bool) -> dict[int, float]:
        """Share a current among the loads it meets one way: followed, if it does not go far."""
        near = self._follow(start, down) if down not in self._shared else None
        if near is not None:
            return near
        return self._sharing(down=down).loads(start.low if down else start.high, start.amps)

    def _follow(self, start: Flow, down: bool) -> dict[int, float] | None:
        """Share a current among the loads it meets one way, None where that is far."""
        found: dict[int, float] = {}
        first = start.low if down else start.high
        brought, sign = {first: start.amps}, -1.0 if down else 1.0
        todo, done = [(sign * self.volts[first], first)], set[int]()
        while todo:
            node = heapq.heappop(todo)[1]
            if node in done:
                continue
            done.add(node)
            if len(done) > NEAR:
                return None
            coming, going = self.coming(node), self.leaving(node)
            if not down:
                coming, going = going, coming
            share = brought[node] / max(sum(f.amps for f in coming), brought[node])
            for flow in going:
                role = flow.edge.role
                if role in ("load", "coil"):
                    found[flow.place] = found.get(flow.place, 0.0) + share * flow.amps
                elif role != "source":
                    far = flow.low if down else flow.high
                    brought[far] = brought.get(far, 0.0) + share * flow.amps
                    heapq.heappush(todo, (sign * self.volts[far], far))
        return found

    def _sharing(self, *, down: bool) -> Sharing:
        """Return how the currents divide, one way or the other."""
        if down not in self._shared:
            self._shared[down] = Sharing(self.network, self._volts, self._currents, down)
        return self._shared[down]

    def greatest(self, node: int, *, up: bool) -> Flow | None:
        """Return the greatest current to a node (`up`) or from it by conductors and sources."""
        if up not in self._greatest:
            best = greatest(self.network, self._currents, _followed(self.network), up=up)
            self._greatest[up] = best.tolist()
        place = self._greatest[up][node]
        return self.through(place) if place >= 0 else None


def _followed(network: Network) -> Bools:
    """Return which edges a way from a load to its supply runs through."""
    edges = network.edges
    return network.frame.fact(
        "followed", lambda: np.array([e.role in FOLLOWED for e in edges], np.bool_)
    )


def draws(edge: Edge) -> str:
    """Return what kind of load an edge is to a contact: motor, lamp, starter or resistive."""
    if is_starter(edge):
        return "starter"
    kind = getattr(edge.inner, "draws", "")
    return kind if kind in ("motor", "lamp") else "resistive"
