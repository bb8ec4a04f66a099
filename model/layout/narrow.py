"""Narrowing a drawing for a wide picture: a branch is led back under what stands before it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from model.layout.flow import Arrow

MOST_TURNED = 2
"""How many branches are led back at most: each bends its wire twice more."""


def narrowed(parts: Sequence[str], arrows: Sequence[Arrow], most: int) -> list[Arrow]:
    """Return the arrows, some turned round where that brings the columns down to `most`.

    A branch that leaves a part of several ways out may start in a column before that part: its
    wire then leads back to it. The branch that narrows the drawing most is taken first.
    """
    found = list(arrows)
    for _ in range(MOST_TURNED):
        now = _columns(parts, found)
        if now <= most:
            break
        tries = [(_columns(parts, t), i) for i, t in _turned(found)]
        least, at = min(tries, default=(now, 0))
        if least >= now:
            break
        found[at] = found[at].flipped()
    return found


def _turned(arrows: Sequence[Arrow]) -> list[tuple[int, list[Arrow]]]:
    """Return what the arrows are with one turned round, for every one that may be."""
    out, into = Counter(a.tail for a in arrows), Counter(a.head for a in arrows)
    able = [i for i, a in enumerate(arrows) if out[a.tail] > 1 and into[a.head] == 1]
    return [(i, [*arrows[:i], arrows[i].flipped(), *arrows[i + 1 :]]) for i in able]


def _columns(parts: Sequence[str], arrows: Sequence[Arrow]) -> int:
    """Return how many columns the longest chain of arrows takes; more than any where it circles."""
    depth = dict.fromkeys(parts, 1)
    for _ in parts:
        changed = False
        for a in arrows:
            if depth[a.head] < depth[a.tail] + 1:
                depth[a.head] = depth[a.tail] + 1
                changed = True
        if not changed:
            return max(depth.values(), default=0)
    return len(parts) + 1
