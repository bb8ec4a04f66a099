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
