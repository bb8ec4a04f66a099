"""Which of two fuses in series opens first: latest edge of one against earliest of the other.

Both edges are straight lines on log-log paper between the gates of their bands, so that they cross
only between the gates, and are compared there.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import pairwise

from model.tables.fuses import (
    HOLDS_TO_PERCENT,
    MAY_HOLD_TO_PERCENT,
    Band,
    band_for,
    opening_times,
)

BEYOND = 1e5
"""Amperes no battery of a vehicle drives: both edges run on parallel or apart from here."""
Fuse = tuple[str, float]
"""Band and rating of a fuse."""
Own = tuple[Band, ...]
JUST = 1e-9


@dataclass(frozen=True, slots=True)
class OutOfTurn:
    """Currents at which the fuse behind may open later than the one before it.

    Attributes
    ----------
    low_a, high_a : float
        The range of currents.
    worst_a : float
        The current at which the two are farthest out of turn.
    latest_s, earliest_s : float
        Then: the latest time of the fuse behind, the earliest of the one before.
    """

    low_a: float
    high_a: float
    worst_a: float
    latest_s: float
    earliest_s: float


def known(fuse: Fuse, own: Own = ()) -> bool:
    """Tell whether both edges of a fuse's band are published as far as shorts go."""
    band = band_for(*fuse, own)
    return band is not None and _published(band)


@cache
def _published(band: Band) -> bool:
    early = [g for g in band.gates if g.min_s is not None]
    late = [g for g in band.gates if g.max_s is not None]
    return len(early) > 1 and len(late) > 2


@lru_cache(maxsize=4096)
def out_of_turn(
    before: Fuse, behind: Fuse, most_a: float = BEYOND, own: Own = ()
) -> OutOfTurn | None:
    """Return where two fuses in series may open in the wrong order, None where they do not.

    Parameters
    ----------
    before, behind
        Band and rating of the fuse nearer to the supply and of the one behind it.
    most_a
        The greatest current that can flow: that of a dead short right behind the second.
    own
        The user's bands, which are looked through first.
    """
    points = _points(before, behind, most_a, own)
    margins = [(at, _margin(before, behind, at, own)) for at in points]
    ranges: list[tuple[float, float]] = []
    for (low, first), (high, second) in pairwise(margins):
        part = _crossed(low, first, high, second)
        if part and ranges and math.isclose(ranges[-1][1], part[0]):
            part = (ranges.pop()[0], part[1])
        if part:
            ranges.append(part)
    worst_a = max(margins, key=lambda m: m[1], default=(0.0, -1.0))[0]
    for low, high in ranges:
        if low <= worst_a <= high:
            return OutOfTurn(low, high, worst_a, *_times(before, behind, worst_a, own))
    return None


def _points(before: Fuse, behind: Fuse, most_a: float, own: Own) -> list[float]:
    """Return the currents at which an edge has a corner, from where the fuse behind must open."""
    first_a = behind[1] * MAY_HOLD_TO_PERCENT / 100.0
    found = {first_a, most_a}
    for name, rating_a in (before, behind):
        band = band_for(name, rating_a, own)
        gates = [g.percent for g in band.gates] if band else []
        found |= {rating_a * p / 100.0 for p in (*gates, HOLDS_TO_PERCENT)}
    return sorted(a for a in found if first_a <= a <= most_a)


def _times(before: Fuse, behind: Fuse, amps: float, own: Own) -> tuple[float, float]:
    """Return the latest time of the fuse behind and the earliest of the one before."""
    late = opening_times(*behind, amps, by_energy=True, own=own)
    early = opening_times(*before, amps, own=own)
    return late.latest_s if late else math.inf, early.earliest_s if early else 0.0


def _margin(before: Fuse, behind: Fuse, amps: float, own: Own) -> float:
    """Return by what power of e the fuse behind may be later; below 0 it is surely first."""
    latest_s, earliest_s = _times(before, behind, amps * (1 + JUST), own)
    if math.isinf(earliest_s):
        return -math.inf
    return math.log(latest_s / earliest_s) if math.isfinite(latest_s) else math.inf


def _crossed(low: float, first: float, high: float, second: float) -> tuple[float, float] | None:
    """Return the part of a range of currents in which a straight margin is above 0."""
    if first <= 0.0 and second <= 0.0:
        return None
    if first > 0.0 and second > 0.0:
        return low, high
    if not (math.isfinite(first) and math.isfinite(second)):
        # Where the fuse before holds for ever the line begins at the corner itself.
        return (low, high) if first > 0.0 else (high, high)
    at = low * math.pow(high / low, first / (first - second))
    return (low, at) if first > 0.0 else (at, high)
