"""Order as people expect it: W2 before W10, sizes by their copper, what is empty last."""

from __future__ import annotations

import re
from functools import lru_cache

_RUNS = re.compile(r"\d+|\D+")
Key = tuple[int, tuple[tuple[int, int, str], ...]]
Amount = tuple[int, float]


@lru_cache(maxsize=4096)
def natural(text: str) -> Key:
    """Return the key that puts texts in natural order; numbers in them count as numbers."""
    runs = _RUNS.findall(text.casefold())
    made = tuple((0, int(r), r) if r.isdecimal() else (1, 0, r) for r in runs)
    return (0 if text else 1, made)


def amount(value: float | None) -> Amount:
    """Return the key that orders by value; what is not known comes after all that is."""
    return (1, 0.0) if value is None else (0, value)
