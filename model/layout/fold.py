"""Folding a drawing that is far taller than wide: cut into strips that stand side by side."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import sqrt

from model.layout.flow import Arrow
from model.layout.geometry import snap_up, united
from model.layout.nearest import Spots
from model.layout.shape import Card

TALLEST = 6000
"""Up to this height a drawing is never folded."""
ASPECT = 1.5
"""Width to height that a folded drawing comes near to."""
AISLE = 300
"""Free width between strips: the wires between them run there."""
LOOKS = 40
"""Heights tried for every cut, around the even one."""


def folded(spots: Spots, arrows: Sequence[Arrow], cards: Mapping[str, Card]) -> Spots:
    """Return the places of the same drawing in strips, cut where few wires run from one to another.

    A drawing that is not much taller than wide comes back as it is.
    """
    frame = united(cards[p].outer.moved(*xy) for p, xy in spots.items())
    count = round(sqrt(ASPECT * frame.h / (frame.w + AISLE))) if frame.w else 1
    if frame.h <= TALLEST or count < 2:
        return spots
    cuts = _cuts(frame.y, frame.h, count, [(spots[a.tail][1], spots[a.head][1]) for a in arrows])
    found: Spots = {}
    for i in range(count):
        strip = {p: xy for p, xy in spots.items() if cuts[i] <= xy[1] < cuts[i + 1]}
        if not strip:
            continue
        top = united(cards[p].outer.moved(*xy) for p, xy in strip.items()).y
        dx, dy = i * snap_up(frame.w + AISLE), snap_up(frame.y - top)
        found |= {p: (x + dx, y + dy) for p, (x, y) in strip.items()}
    return {p: found[p] for p in spots}


def _cuts(
    top: float, height: float, count: int, spans: Sequence[tuple[float, float]]
) -> list[float]:
    """Return the heights that bound the strips, each near an even one and under few wires."""
    ordered = [(min(s), max(s)) for s in spans]
    even = height / count
    cuts = [float("-inf")]
    for i in range(1, count):
        tries = [top + even * (i + 0.25 * (2 * k / LOOKS - 1)) for k in range(LOOKS + 1)]
        middle = top + even * i
        cuts.append(min(tries, key=lambda y: (_over(ordered, y), abs(y - middle))))
    return [*cuts, float("inf")]


def _over(spans: Sequence[tuple[float, float]], y: float) -> int:
    """Return how many wires a level line at this height would cut."""
    return sum(1 for low, high in spans if low < y <= high)
