"""What lifts a ground side: the loads whose current runs through it, and each one's part of it.

The volts at a place of the ground side are the sum of those lost piece by piece on its way to the
supply's minus (Kirchhoff's voltage law); in every piece each load has the part that its current
has of the whole.
"""

from __future__ import annotations

from collections import defaultdict
from operator import attrgetter
from typing import NamedTuple

from checks.case import Case
from checks.finding import Datum
from checks.flows import Flow, Flows

WAYS = frozenset(("wire", "contact", "fuse", "way", "ground"))
"""Roles that the way back may run through."""
LIMIT_V = 0.1
"""Volts that the ground side of an accessory may stand above the minus: trade teaching."""
MOST_NAMED = 5
"""Loads that a sentence names; the rest are told together."""
LEAST_PART = 0.02
"""A load with less than this of the lift is among the rest; a rest of less is not told."""


class Share(NamedTuple):
    """A load that is on: amperes of it that return through a place, and volts it lifts it by."""

    part: str
    amps: float
    volts: float


def shares(case: Case, row: int, node: int) -> list[Share]:
    """Return what lifts a node of the ground side in a state, the greatest share first.

    The volts of all shares together are those of the node above the minus of its supply.
    """
    parts = _parts(case, row, node)
    found = [Share(part, amps, volts) for part, (amps, volts) in parts.items()]
    return sorted(sorted(found, key=attrgetter("part")), key=attrgetter("volts"), reverse=True)


def _parts(case: Case, row: int, node: int) -> dict[str, tuple[float, float]]:
    """Return the amperes that each load sends through a node, and the volts it lifts it by.

    The way back of many ends in the same pieces; what they come to is noted with the state.
    """
    flows, way = case.flows(row), way_back(case, row, node)
    found: dict[str, tuple[float, float]] = {}
    for piece in reversed(way):
        if piece.high not in flows.noted:
            flows.noted[piece.high] = _with(case, flows, piece, found)
        found = flows.noted[piece.high]
    return found


def _with(
    case: Case, flows: Flows, piece: Flow, beyond: dict[str, tuple[float, float]]
) -> dict[str, tuple[float, float]]:
    """Return what is lost in a piece by load, on top of what is beyond it."""
    found = dict(beyond)
    lost = flows.volts[piece.high] - flows.volts[piece.low]
    met: dict[str, float] = defaultdict(float)
    for index, amps in flows.loads_through(piece.place).items():
        met[case.network.edges[index].owner] += amps
    whole = sum(met.values())
    for part, amps in met.items():
        most, volts = found.get(part, (0.0, 0.0))
        found[part] = (max(most, amps), volts + lost * amps / whole)
    return found


def way_back(case: Case, row: int, node: int) -> list[Flow]:
    """Return the pieces from a node to the supply's minus, along the most current."""
    flows, found = case.flows(row), []
    while node not in case.minuses:
        ways = [f for f in flows.leaving(node) if f.edge.role in WAYS]
        if not ways:
            break
        found.append(max(ways, key=lambda f: f.amps))
        node = found[-1].low
    return found


def told(case: Case, found: list[Share]) -> tuple[str, dict[str, Datum]]:
    """Return words for what is on and what each lifts, and the values that they name."""
    whole = sum(s.volts for s in found)
    named = [s for s in found if s.volts >= LEAST_PART * whole][:MOST_NAMED]
    rest = found[len(named) :]
    words: list[str] = []
    values: dict[str, Datum] = {}
    for n, share in enumerate(named, 1):
        words.append(f"{{load{n}}} ({{load{n}_a:current}}, {{load{n}_v:voltage}}" + " of it)")
        values |= {f"load{n}": case.name(share.part), f"load{n}_a": share.amps,
                   f"load{n}_v": share.volts}  # fmt: skip
    if sum(s.volts for s in rest) >= LEAST_PART * whole:
        words.append("{rest:count} more ({rest_v:voltage} together)")
        values |= {"rest": float(len(rest)), "rest_v": sum(s.volts for s in rest)}
    if len(words) > 1:
        return f"{', '.join(words[:-1])} and {words[-1]}", values
    return "".join(words), values
