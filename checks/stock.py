"""What can be bought: standard fuse ratings and wire sizes, for remedies."""

from __future__ import annotations

from functools import cache

from model.circuit import Circuit, Part
from model.lookup import word
from model.tables import ampacity as tables
from model.tables.fuses import fuse_file, rule
from model.tables.practice import allowance
from model.wiresize import Size

RATED_AT_C = 25.0
LEAST_LEFT = 0.1
"""Below this the straight line means nothing: no fuse is made for such surroundings."""


@cache
def ratings_a(band: str) -> tuple[float, ...]:
    """Return the ratings that fuses of a band are sold in, rising; none for breakers."""
    return next((t.ratings_a for t in fuse_file().sold if t.id == band), ())


def fuse_ratings(circuit: Circuit, part: Part) -> tuple[float, ...]:
    """Return the ratings a fuse of this part's form is sold in."""
    return ratings_a(word(circuit, part, "band"))


def fuse_allowance() -> float:
    """Return how many times a wire's ampacity a fuse may be: 1.5 (33 CFR 183.455)."""
    return allowance("33cfr-150").value


def warm_share(zone_c: float) -> float:
    """Return what is left of a fuse's rating in these surroundings: 0.5 % less per °C above 25."""
    above = max(zone_c - RATED_AT_C, 0.0)
    return max(1.0 - rule("per-kelvin") * above, LEAST_LEFT)


@cache
def sizes_above(size: Size) -> tuple[Size, ...]:
    """Return the sizes thicker than this one that tables list, rising, in the same system."""
    rows = (row.size for table in tables.ampacity_file().tables[:2] for row in table.rows)
    if size.awg is None:
        larger = (Size(mm2=a) for a in (16.0, 25.0, 35.0, 50.0, 70.0, 95.0))
        rows = (s for s in (*rows, *larger) if s.awg is None)
    else:
        rows = (s for s in rows if s.awg is not None)
    return tuple(sorted(s for s in rows if s > size))
