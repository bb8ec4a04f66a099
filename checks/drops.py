"""Where the volts between a supply and a load are lost, piece by piece.

The way of the greatest current is followed from the load up to the plus of the source that feeds
it, and down to that source's minus. Whatever way is taken, the pieces add up to the whole: the
volts at the supply's terminals less the volts at the load's (Kirchhoff's voltage law).
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from checks.basis import Use
from checks.flows import LEAST_A, Flow, Flows
from model.linear import islands
from model.network import Edge, Network
from model.state import CONDUCTORS
from model.survey import Survey

Bools = NDArray[np.bool_]
FIXED = CONDUCTORS - {"contact", "diode"}
"""Roles that conduct whatever is switched."""


class Piece(NamedTuple):
    """Volts lost in one conductor, counted along the current's way; `back` on the ground side."""

    edge: Edge
    volts: float
    back: bool


@dataclass(frozen=True, slots=True)
class Drop:
    """The volts of a load's supply and of the load in one state, and the pieces between."""

    source: str
    supply_v: float
    load_v: float
    pieces: tuple[Piece, ...]

    @property
    def volts(self) -> float:
        """Volts lost in all."""
        return self.supply_v - self.load_v

    @property
    def by_role(self) -> dict[str, float]:
        """Volts lost in conductors of each role: wire, contact, fuse, ground …"""
        found: dict[str, float] = {}
        for piece in self.pieces:
            role = piece.edge.role
            found[role] = found.get(role, 0.0) + piece.volts
        return found


def drop_of(flows: Flows, use: Use) -> Drop | None:
    """Return what is lost on the way to and from a load.

    Parameters
    ----------
    flows
        The currents of a state.
    use
        The load.

    Returns
    -------
    Drop or None
        None where the load is off, or fed or grounded through something else than conductors.
    """
    volts = flows.volts
    high, low = (use.a, use.b) if volts[use.a] >= volts[use.b] else (use.b, use.a)
    up, source = _follow(flows, high, up=True)
    if source is None:
        return None
    down = _back(flows, low, source)
    if down is None:
        return None
    minus = down[-1].low if down else low
    pieces = [Piece(f.edge, volts[f.high] - volts[f.low], False) for f in reversed(up)]
    pieces += [Piece(f.edge, volts[f.high] - volts[f.low], True) for f in down]
    supply_v = volts[source.high if source.high == source.edge.a else source.low] - volts[minus]
    return Drop(source.edge.owner, supply_v, volts[high] - volts[low], tuple(pieces))


def _follow(flows: Flows, node: int, *, up: bool) -> tuple[list[Flow], Flow | None]:
    """Follow the greatest current to a source, up to a plus or down to a minus."""
    way: list[Flow] = []
    for _ in range(flows.network.count + 1):
        choice = flows.greatest(node, up=up)
        if choice is None:
            return way, None
        if choice.edge.role == "source":
            return way, choice
        way.append(choice)
        node = choice.high if up else choice.low
    return way, None


def _back(flows: Flows, node: int, source: Flow) -> list[Flow] | None:
    """Return the way from a load's low end to the minus of its source."""
    down, end = _follow(flows, node, up=False)
    if end is not None and end.edge.owner == source.edge.owner:
        return down
    straight = _way(flows, node, source.edge.b)
    if straight is not None:
        return straight
    return down if end is not None else None


def _way(flows: Flows, start: int, goal: int) -> list[Flow] | None:
    """Return the way of fewest conductors with current between two nodes, None without one."""
    came: dict[int, Flow | None] = {start: None}
    todo = deque([start])
    while todo and goal not in came:
        node = todo.popleft()
        for flow in (*flows.leaving(node), *flows.coming(node)):
            other = flow.low if flow.high == node else flow.high
            if flow.edge.role in CONDUCTORS and other not in came:
                came[other] = Flow(flow.edge, flow.place, node, other, flow.amps)
                todo.append(other)
    if goal not in came:
        return None
    way: list[Flow] = []
    node, step = goal, came[goal]
    while step is not None:
        way.append(step)
        node = step.high
        step = came[node]
    return way[::-1]


def joined(survey: Survey, rows: NDArray[np.intp]) -> tuple[Bools, Bools]:
    """Tell which nodes conductors join to a source's plus and to the minus, in some states.

    Parameters
    ----------
    survey
        The solved states.
    rows
        Which of them, shape (rows,).

    Returns
    -------
    tuple of ndarray
        Fed and grounded, each of shape (nodes, rows). A diode joins only while it conducts.
    """
    net = survey.solver.network
    on, amps = survey.on[rows].T, survey.amps[rows].T
    metal = _metal(net)
    fed = np.zeros((int(metal.max(initial=0)) + 1, len(rows)), np.bool_)
    grounded = np.zeros_like(fed)
    grounded[metal[net.reference]] = True
    links = [
        (int(metal[e.a]), int(metal[e.b]),
         on[i] & (np.abs(amps[i]) > LEAST_A) if e.role == "diode" else on[i])
        for i, e in net.of_role("contact", "diode")
    ]  # fmt: skip
    _spread(grounded, links)
    for index, edge in net.of_role("source"):
        fed[metal[edge.a]] |= on[index] & ~grounded[metal[edge.a]]
    _spread(fed, links)
    return fed[metal], grounded[metal]


def _metal(net: Network) -> NDArray[np.intp]:
    """Return a number for every node, the same for those that never part."""

    def make() -> NDArray[np.intp]:
        fixed = np.array([e.role in FIXED for e in net.edges], np.bool_)
        return islands(net.count, net.a, net.b, fixed)

    return net.frame.fact("metal", make)


def _spread(marked: Bools, links: list[tuple[int, int, Bools]]) -> None:
    """Pass marks on along conductors until nothing changes; there and back in turn."""
    before = -1
    while (now := int(marked.sum())) != before:
        before = now
        for a, b, on in links:
            both = (marked[a] | marked[b]) & on
            marked[a] |= both
            marked[b] |= both
        links = links[::-1]
