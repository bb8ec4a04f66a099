"""Small linear programmes of layout: least total stretch under least distances."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

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
    # Loaded when a sheet is laid out: it takes longer than all else that a start needs.
    from scipy.optimize import linprog
    from scipy.sparse import coo_matrix

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


EXACT = 1e-6
WORTH = 12.0
"""How much more stretch a pull that is kept exactly is worth."""


def straighten(found: Sequence[float], gaps: Sequence[Gap], pulls: Sequence[Pull]) -> list[float]:
    """Return the positions with more pulls kept exactly, where that costs little stretch.

    Least stretch alone does not tell one long bend from two: things joined by kept pulls move
    together to keep one more, as far as the gaps allow.
    """
    work = _Straightening(found, gaps, pulls)
    for _ in range(4):
        moved = False
        for u, v, d, _ in pulls:
            off = work.at[v] - work.at[u] - d
            if abs(off) > EXACT:
                moved = work.shift(v, -off) or work.shift(u, off) or moved
        if not moved:
            break
    return work.at


class _Straightening:
    """Positions, and the gaps and pulls of every thing."""

    def __init__(self, found: Sequence[float], gaps: Sequence[Gap], pulls: Sequence[Pull]) -> None:
        self.at = list(found)
        self.gaps: list[list[Gap]] = [[] for _ in found]
        self.pulls: list[list[Pull]] = [[] for _ in found]
        for gap in gaps:
            self.gaps[gap[0]].append(gap)
            self.gaps[gap[1]].append(gap)
        for pull in pulls:
            self.pulls[pull[0]].append(pull)
            self.pulls[pull[1]].append(pull)

    def shift(self, thing: int, by: float) -> bool:
        """Move a thing and all that is exactly joined to it, if it may; tell whether it did."""
        group = self._joined(thing)
        if not self._has_room(group, by) or self._gain(group, by) <= EXACT:
            return False
        for i in group:
            self.at[i] += by
        return True

    def _has_room(self, group: set[int], by: float) -> bool:
        """Tell whether the group keeps its least distances when it moves."""
        for u, v, d in (gap for i in group for gap in self.gaps[i]):
            if (u in group) != (v in group):
                room = self.at[v] - self.at[u] + (by if v in group else -by)
                if room < d - EXACT:
                    return False
        return True

    def _gain(self, group: set[int], by: float) -> float:
        """Return by how much the drawing gets better when the group moves."""
        gain = 0.0
        for u, v, d, weight in (pull for i in group for pull in self.pulls[i]):
            if (u in group) != (v in group):
                off = self.at[v] - self.at[u] - d
                new = off + (by if v in group else -by)
                gain += weight * (abs(off) + WORTH * (abs(off) > EXACT))
                gain -= weight * (abs(new) + WORTH * (abs(new) > EXACT))
        return gain

    def _joined(self, thing: int) -> set[int]:
        """Return the things that kept pulls join to one."""
        group, todo = {thing}, [thing]
        while todo:
            here = todo.pop()
            for u, v, d, _ in self.pulls[here]:
                other = v if u == here else u
                if other not in group and abs(self.at[v] - self.at[u] - d) < EXACT:
                    group.add(other)
                    todo.append(other)
        return group
