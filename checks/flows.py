"""Where the current of one contact goes: the loads it carries, and the way of the most current.

Current falls from higher to lower voltage, so that following it never comes back. Where ways part
or meet, what came through the contact is shared in proportion to the currents.
"""

from __future__ import annotations

import heapq
from collections import defaultdict
from dataclasses import dataclass

from checks.currents import is_starter
from model.network import Edge, Network
from model.survey import Survey

LEAST_A = 1e-6
"""Current below which nothing flows: what blocking diodes and sources leak."""


@dataclass(frozen=True, slots=True)
class Flow:
    """Current through an edge from the higher node to the lower one."""

    edge: Edge
    index: int
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
        self._flows: dict[int, Flow | None] = {}
        self._leaving: dict[int, tuple[Flow, ...]] = {}
        self._coming: dict[int, tuple[Flow, ...]] = {}

    def through(self, index: int) -> Flow | None:
        """Return the current through an edge, a source's from its minus to its plus."""
        if index not in self._flows:
            edge, amps = self.network.edges[index], self._amps[index]
            high, low = (edge.a, edge.b) if amps > 0 else (edge.b, edge.a)
            flows = abs(amps) > LEAST_A
            self._flows[index] = Flow(edge, index, high, low, abs(amps)) if flows else None
        return self._flows[index]

    def leaving(self, node: int) -> tuple[Flow, ...]:
        """Return the currents that leave a node; a source's own current runs backwards."""
        if node not in self._leaving:
            self._leaving[node] = tuple(f for f in self._at(node) if f.high == node)
        return self._leaving[node]

    def coming(self, node: int) -> tuple[Flow, ...]:
        """Return the currents that come to a node."""
        if node not in self._coming:
            self._coming[node] = tuple(f for f in self._at(node) if f.low == node)
        return self._coming[node]

    def _at(self, node: int) -> list[Flow]:
        """Return every current at a node."""
        found = (self.through(i) for i in self.network.edges_at[node])
        return [f for f in found if f is not None]

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
                    found[flow.index] += share * flow.amps
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
