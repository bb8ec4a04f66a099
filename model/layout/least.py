"""Small linear programmes of layout: least total stretch under least distances."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import coo_matrix

Gap = tuple[int, int, float]
"""(u, v, d): v stands at least d after u."""

Pull = tuple[int, int, float, float]
"""(u, v, d, weight): v wants to stand exactly d after u."""


def settle(count: int, gaps: Sequence[Gap], pulls: Sequence[Pull]) -> list[float]:
    """Return positions of `count` things with the least weighted sum of broken pulls.

    With whole distances the positions are whole: the matrix is totally unimodular.
    """
    if count == 0:
        return []
    rows: list[int] = []
    cols: list[int] = []
    vals: list[float] = []
    limits: list[float] = []

    def row(entries: Sequence[tuple[int, float]], limit: float) -> None:
        for col, val in entries:
            rows.append(len(limits))
            cols.append(col)
            vals.append(val)
        limits.append(limit)

    for u, v, d in gaps:
        row(((u, 1.0), (v, -1.0)), -d)
    for i, (u, v, d, _) in enumerate(pulls):
        row(((v, 1.0), (u, -1.0), (count + i, -1.0)), d)
        row(((u, 1.0), (v, -1.0), (count + i, -1.0)), -d)
    size = count + len(pulls)
    cost = np.zeros(size)
    cost[:count] = 1e-6
    cost[count:] = [w for *_, w in pulls]
    entries = (np.array(vals), (np.array(rows), np.array(cols)))
    matrix: Any = coo_matrix(entries, shape=(len(limits), size)) if limits else None
    found: Any = linprog(
        cost, A_ub=matrix, b_ub=limits or None, bounds=(0.0, None), method="highs-ds"
    )
    if found.x is None:
        raise ValueError(f"No positions satisfy these distances: {found.message}")
    return [float(x) for x in np.round(found.x[:count])]


WORTH = 12.0
"""How much more stretch a pull that is kept exactly is worth."""


def straighten(found: Sequence[float], gaps: Sequence[Gap], pulls: Sequence[Pull]) -> list[float]:
    """Return the positions with more pulls kept exactly, where that costs little stretch.

    Least stretch alone does not tell one long bend from two: things joined by kept pulls move
    together to keep one more, as far as the gaps allow.
    """
    at = list(found)
    for _ in range(4):
        moved = False
        for u, v, d, _ in pulls:
            off = at[v] - at[u] - d
            if abs(off) > 1e-6:
                moved = _shift(at, v, -off, gaps, pulls) or _shift(at, u, off, gaps, pulls) or moved
        if not moved:
            break
    return at


def _shift(
    at: list[float], thing: int, by: float, gaps: Sequence[Gap], pulls: Sequence[Pull]
) -> bool:
    """Move a thing and all that is exactly joined to it, if it may; tell whether it did."""
    group = _joined(at, thing, pulls)
    for u, v, d in gaps:
        if (u in group) != (v in group):
            room = at[v] - at[u] + (by if v in group else -by)
            if room < d - 1e-6:
                return False
    before = after = 0.0
    for u, v, d, weight in pulls:
        if (u in group) != (v in group):
            off = at[v] - at[u] - d
            new = off + (by if v in group else -by)
            before += weight * (abs(off) + WORTH * (abs(off) > 1e-6))
            after += weight * (abs(new) + WORTH * (abs(new) > 1e-6))
    if after >= before - 1e-6:
        return False
    for i in group:
        at[i] += by
    return True


def _joined(at: Sequence[float], thing: int, pulls: Sequence[Pull]) -> set[int]:
    """Return the things that kept pulls join to one."""
    beside: dict[int, list[int]] = {}
    for u, v, d, _ in pulls:
        if abs(at[v] - at[u] - d) < 1e-6:
            beside.setdefault(u, []).append(v)
            beside.setdefault(v, []).append(u)
    group, todo = {thing}, [thing]
    while todo:
        for other in beside.get(todo.pop(), ()):
            if other not in group:
                group.add(other)
                todo.append(other)
    return group
