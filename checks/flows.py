"""Where the current of one contact goes: the loads it carries, and the way of the most current.

Current falls from higher to lower voltage, so that following it never comes back. Where ways part
or meet, what came through the contact is shared in proportion to the currents.
"""

from __future__ import annotations

import heapq
from collections import defaultdict
from typing import NamedTuple

from checks.currents import is_starter
from model.network import Edge, Network
from model.survey import Survey

LEAST_A = 1e-6
"""Current below which nothing flows: what blocking diodes and sources leak."""


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
    """

    def __init__(self, survey: Survey, row: int) -> None:
        self.network: Network = survey.solver.network
        self.volts = survey.volts[row].tolist()
        self._amps = survey.amps[row].tolist()
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
        behind = self._follow(start, down=True)
        if sum(behind.values()) > 0.5 * start.amps:
            return behind
        before = self._follow(start, down=False)
        best = before if sum(before.values()) > sum(behind.values()) else behind
        return best if sum(best.values()) > 0.5 * start.amps else {}

    def _follow(self, start: Flow, down: bool) -> dict[int, float]:
        """Share a contact's current among the loads it meets one way."""
        found: dict[int, float] = defaultdict(float)
        brought: dict[int, float] = defaultdict(float)
        todo: list[tuple[float, int]] = []
        self._bring(start, start.amps, down, brought, todo)
        done: set[int] = set()
        while todo:
            node = heapq.heappop(todo)[1]
            if node in done:
                continue
            done.add(node)
            coming, going = self.coming(node), self.leaving(node)
            if not down:
                coming, going = going, coming
            share = brought[node] / max(sum(f.amps for f in coming), brought[node])
            for flow in going:
                if flow.edge.role in ("load", "coil"):
                    found[flow.place] += share * flow.amps
                elif flow.edge.role != "source":
                    self._bring(flow, share * flow.amps, down, brought, todo)
        return dict(found)

    def _bring(
        self,
        flow: Flow,
        amps: float,
        down: bool,
        brought: dict[int, float],
        todo: list[tuple[float, int]],
    ) -> None:
        """Take a current to the node at its end, to be dealt with in order of voltage."""
        node = flow.low if down else flow.high
        brought[node] += amps
        heapq.heappush(todo, (-self.volts[node] if down else self.volts[node], node))


def draws(edge: Edge) -> str:
    """Return what kind of load an edge is to a contact: motor, lamp, starter or resistive."""
    if is_starter(edge):
        return "starter"
    kind = getattr(edge.inner, "draws", "")
    return kind if kind in ("motor", "lamp") else "resistive"
