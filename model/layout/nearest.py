"""The nearest free place on the grid."""

from __future__ import annotations

from collections.abc import Iterable

from model.layout.geometry import GRID, Rect, snap, united

ASIDE = 50
"""Free width kept beside what is placed between other cards."""

Spots = dict[str, tuple[float, float]]
"""Where the middles of cards stand, by part."""


def nearest_free(
    room: Rect, wish: tuple[float, float], taken: Iterable[Rect], *, level: bool = False
) -> tuple[float, float]:
    """Return the grid place nearest to a wish where `room` around it meets nothing taken.

    `level` moves sideways only.
    """
    blocks = list(taken)
    x0, y0 = snap(wish[0]), snap(wish[1])
    for reach in range(0, 6000, GRID):
        ring = {(reach, 0), (-reach, 0)} if level else _ring(reach)
        for dx, dy in sorted(ring, key=lambda d: (d[0] ** 2 + d[1] ** 2, d)):
            here = room.moved(x0 + dx, y0 + dy)
            if not any(here.overlaps(b) for b in blocks):
                return (x0 + dx, y0 + dy)
    return (x0, united(blocks).bottom + room.h)


def _ring(reach: int) -> set[tuple[int, int]]:
    """Return the grid offsets on a square of this half width."""
    steps = range(-reach, reach + 1, 2 * GRID)
    return {(s, e) for s in steps for e in (-reach, reach)} | {
        (e, s) for s in steps for e in (-reach, reach)
    }
