"""What lifts a ground side: the loads whose current runs through it, and each one's part of it.

The volts at a place of the ground side are the sum of those lost piece by piece on its way to the
supply's minus (Kirchhoff's voltage law); in every piece each load has the part that its current
has of the whole.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from checks.case import Case
from checks.finding import Datum
from checks.flows import Flow

WAYS = frozenset(("wire", "contact", "fuse", "way", "ground"))
"""Roles that the way back may run through."""
LIMIT_V = 0.1
"""Volts that the ground side of an accessory may stand above the minus: trade teaching."""
MOST_NAMED = 5
"""Loads that a sentence names; the rest are told together."""
LEAST_PART = 0.02
"""A load with less than this of the lift is among the rest; a rest of less is not told."""


@dataclass(frozen=True, slots=True)
class Share:
    """A load that is on: amperes of it that return through a place, and volts it lifts it by."""

    part: str
    amps: float
    volts: float


def shares(case: Case, row: int, node: int) -> list[Share]:
    """Return what lifts a node of the ground side in a state, the greatest share first.

    The volts of all shares together are those of the node above the minus of its supply.
    """
    amps: dict[str, float] = defaultdict(float)
    volts: dict[str, float] = defaultdict(float)
    flows = case.flows(row)
    for piece in way_back(case, row, node):
        lost = flows.volts[piece.high] - flows.volts[piece.low]
        through = flows.loads_through(piece.place)
        whole = sum(through.values())
        met: dict[str, float] = defaultdict(float)
        for index, part_amps in through.items():
            met[case.network.edges[index].owner] += part_amps
        for part, part_amps in met.items():
            amps[part] = max(amps[part], part_amps)
            volts[part] += lost * part_amps / whole
    found = [Share(part, amps[part], volts[part]) for part in amps]
    return sorted(found, key=lambda s: (-s.volts, s.part))


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
        words.append(f"{{load{n}}} ({{load{n}_a:current}}, {{load{n}_v:voltage}} of it)")
        values |= {f"load{n}": case.name(share.part), f"load{n}_a": share.amps,
                   f"load{n}_v": share.volts}  # fmt: skip
    if sum(s.volts for s in rest) >= LEAST_PART * whole:
        words.append("{rest:count} more ({rest_v:voltage} together)")
        values |= {"rest": float(len(rest)), "rest_v": sum(s.volts for s in rest)}
    if len(words) > 1:
        return f"{', '.join(words[:-1])} and {words[-1]}", values
    return "".join(words), values
