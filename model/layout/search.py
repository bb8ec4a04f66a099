"""The cheapest way of one wire over the field: short, few bends, few crossings, room beside it.

It is looked for near its ends first, then farther out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from model.layout.field import STEP, STRICT, Cell, Field, Leave
from model.layout.relaxed import BEND, Gate, PortKey, Relaxed, Window

__all__ = ["BEND", "LOOSER", "Gate", "Work", "search"]

LOOKS = ((12, 2), (40, 2), (10_000, 2), (10_000, 1))
"""How many grid lines around its ends, and on which of them, a wire is looked for in turn."""

GOOD = 400
"""A way that costs no more than this above the least possible is not looked for any farther."""

ENCLOSED = 14
"""How many grid lines around a gate have to be out of reach for it to count as walled in."""

NARROW = Leave(kept=400)
SHARED = Leave(along=400, kept=400)
THROUGH = Leave(along=400, kept=400, solid=2000)
LOOSER = (NARROW, SHARED, THROUGH)
"""What is allowed in turn to a wire that is walled in: to pass in front of other terminals; to run
along other wires, which then have to move; and to enter cards that stand on its terminal."""


@dataclass(slots=True)
class Work:
    """How many more cells may be looked at; when none are left, only what is near is."""

    left: int


def search(
    field: Field,
    starts: Sequence[Gate],
    goals: Sequence[Gate],
    ports: Sequence[PortKey],
    leave: Leave = STRICT,
    work: Work | None = None,
) -> list[Cell] | None:
    """Return the gate it starts at, the corners, and the gate it ends at; None without a way.

    A wire may cross another at a right angle but never turn on it, and never lie on one that
    runs the same way, unless its `leave` is larger. `ports` are those whose reserved cells it
    may use.

    Notes
    -----
    It is looked for near its ends and on every second grid line first: that is quick, and keeps
    wires two lines apart. Then farther out, and on every line.
    """
    starts = [g for g in starts if field.holds(g.cell)]
    goals = [g for g in goals if field.holds(g.cell)]
    if not starts or not goals:
        return None
    ends = ((starts, goals), (goals, starts))
    covered = [e for e in ends if all(field.base[g.cell] >= leave.solid for g in e[0])]
    if any(_is_enclosed(field, *e, ports, leave) for e in covered):
        return None
    least = least_cost(starts, goals)
    best: tuple[int, list[Cell]] | None = None
    for margin, every in LOOKS if work is None or work.left > 0 else LOOKS[:2]:
        window = _window(field, [*starts, *goals], margin)
        found = Relaxed(field, window, [*starts, *goals], ports, every, leave)
        cost, way = found.way(starts, goals, least)
        if work is not None:
            work.left -= found.sum_level.size
        if way is not None and (best is None or cost < best[0]):
            best = (cost, way)
        enough = leave is not STRICT or margin > LOOKS[0][0]
        if best is not None and (enough or best[0] <= least * 1.2 + GOOD):
            break
        nothing = best is None and margin == LOOKS[0][0]
        if nothing and any(_is_enclosed(field, *e, ports, leave) for e in ends):
            return None
    return best[1] if best else None


def _is_enclosed(
    field: Field,
    gates: Sequence[Gate],
    others: Sequence[Gate],
    ports: Sequence[PortKey],
    leave: Leave,
) -> bool:
    """Tell whether nothing beyond the surroundings of these gates is in reach, nor the others."""
    window = _window(field, gates, ENCLOSED)
    top, bottom, left, right = window
    if any(top <= r < bottom and left <= c < right for r, c in (g.cell for g in others)):
        return False
    return not Relaxed(field, window, gates, ports, 1, leave).leaves(gates)


def least_cost(starts: Sequence[Gate], goals: Sequence[Gate]) -> int:
    """Return the least that any way between the gates can cost."""
    return min(
        (abs(a.cell[0] - b.cell[0]) + abs(a.cell[1] - b.cell[1])) * STEP
        for a in starts
        for b in goals
    )


def _window(field: Field, gates: Sequence[Gate], margin: int) -> Window:
    """Return top, bottom, left, right of the cells looked at."""
    rows = [g.cell[0] for g in gates]
    columns = [g.cell[1] for g in gates]
    return (
        max(0, min(rows) - margin),
        min(field.shape[0], max(rows) + margin + 1),
        max(0, min(columns) - margin),
        min(field.shape[1], max(columns) + margin + 1),
    )
