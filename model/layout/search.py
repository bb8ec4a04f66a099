"""The cheapest way of one wire over the field: short, few bends, few crossings, room beside it."""

from __future__ import annotations

from collections.abc import Sequence
from heapq import heappop, heappush

from model.layout.field import Field

STEP = 10
BEND = 45
CROSS = 60
BESIDE = 4
"""What ten units beside another wire, one grid line away, cost on top of their length."""

RIGHT, DOWN, LEFT, UP = 0, 1, 2, 3
Start = tuple[int, int, int]
"""(cell, direction, cost to begin there)."""

Port = tuple[str, str]


def search(
    field: Field, starts: Sequence[Start], goals: dict[int, tuple[int, int]], ports: set[Port]
) -> list[int] | None:
    """Return the cells of the cheapest way, corner by corner, or None when there is none.

    Parameters
    ----------
    starts
        Where the wire may begin: cell, direction (0 right, 1 down, 2 left, 3 up), extra cost.
    goals
        Where it may end: by cell the direction it must arrive in, and the extra cost there.
    ports
        The ports whose reserved cells it may use.

    Notes
    -----
    A* over (cell, direction). A wire may cross another at a right angle but never turn on it,
    and never lie on one that runs the same way.
    """
    wide = field.wide
    moves = (1, wide, -1, -wide)
    columns = [g % wide for g in goals]
    rows = [g // wide for g in goals]
    left, right, top, bottom = min(columns), max(columns), min(rows), max(rows)
    solid, near, level, upright = field.solid, field.cost, field.level, field.upright
    reserved = field.reserved

    def ahead(cell: int) -> int:
        row, column = divmod(cell, wide)
        dx = left - column if column < left else column - right if column > right else 0
        dy = top - row if row < top else row - bottom if row > bottom else 0
        return (dx + dy) * STEP + (BEND if dx and dy else 0)

    best: dict[int, int] = {}
    came: dict[int, int] = {}
    heap: list[tuple[int, int, int]] = []
    for cell, direction, extra in starts:
        key = cell * 4 + direction
        best[key] = extra
        heappush(heap, (extra + ahead(cell), extra, key))
    first = {cell for cell, _, _ in starts}
    while heap:
        _, cost, key = heappop(heap)
        if best[key] < cost:
            continue
        cell, direction = key >> 2, key & 3
        if cell in goals and cell not in first:
            return _corners(came, key)
        crossing = level[cell] if direction & 1 else upright[cell]
        for turn in (direction,) if cell in first or crossing else _TURNS[direction]:
            onto = cell + moves[turn]
            added = STEP if turn == direction else STEP + BEND
            if solid[onto]:
                goal = goals.get(onto)
                if goal is None or goal[0] != turn:
                    continue
                added += goal[1]
            elif onto in reserved and reserved[onto] not in ports:
                continue
            if turn & 1:
                if upright[onto]:
                    continue
                if level[onto]:
                    added += CROSS
                if upright[onto - 1] or upright[onto + 1]:
                    added += BESIDE
            else:
                if level[onto]:
                    continue
                if upright[onto]:
                    added += CROSS
                if level[onto - wide] or level[onto + wide]:
                    added += BESIDE
            total = cost + added + near[onto]
            state = onto * 4 + turn
            if total < best.get(state, 1 << 30):
                best[state] = total
                came[state] = key
                heappush(heap, (total + ahead(onto), total, state))
    return None


_TURNS = tuple((d, (d + 1) % 4, (d - 1) % 4) for d in range(4))


def _corners(came: dict[int, int], key: int) -> list[int]:
    """Return the first cell, the cells where the way turns, and the last."""
    corners = [key >> 2]
    while key in came:
        before = came[key]
        if before & 3 != key & 3:
            corners.append(before >> 2)
        key = before
    if corners[-1] != key >> 2:
        corners.append(key >> 2)
    return corners[::-1]
