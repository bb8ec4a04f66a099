"""The order of cards within their columns, with few crossings: median sweeps and exchanges.

A wire that passes a column gets a stand-in there, so that cards leave room for it.
"""

from __future__ import annotations

from bisect import bisect_right, insort
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from model.layout.flow import Arrow
from model.layout.shape import Card

SWEEPS = 12


@dataclass(slots=True)
class Link:
    """A stretch of a wire between neighbouring columns, with its heights at both ends.

    `tail` and `head` are things (part ids or stand-ins); offsets are from their middles.
    """

    tail: str
    head: str
    tail_at: float
    head_at: float
    weight: float = 1.0


@dataclass(slots=True)
class Columns:
    """Things by column, in order from the top, and the links between columns."""

    things: list[list[str]]
    links: list[list[Link]]
    standins: set[str] = field(default_factory=set)


def spread(
    column: Mapping[str, int],
    arrows: Sequence[Arrow],
    cards: Mapping[str, Card],
    weights: Mapping[str, float],
) -> Columns:
    """Return the columns with a stand-in wherever a wire passes one."""
    count = max(column.values(), default=-1) + 1
    made = Columns([[] for _ in range(count)], [[] for _ in range(count)])
    for part, at in column.items():
        made.things[at].append(part)
    for arrow in arrows:
        first, last = column[arrow.tail], column[arrow.head]
        tail, tail_at = arrow.tail, cards[arrow.tail].ports[arrow.tail_node].y
        weight = weights.get(arrow.wire, 1.0)
        for at in range(first, last - 1):
            standin = f"{arrow.wire} in {at + 1}"
            made.standins.add(standin)
            made.things[at + 1].append(standin)
            made.links[at].append(
                Link(tail, standin, tail_at, 0.0, weight * (8 if at > first else 2))
            )
            tail, tail_at = standin, 0.0
        end = cards[arrow.head].ports[arrow.head_node].y
        made.links[last - 1].append(
            Link(tail, arrow.head, tail_at, end, weight * (2 if last - first > 1 else 1))
        )
    return made


def arrange_columns(columns: Columns) -> None:
    """Order the things of every column in place; the best order seen is kept."""
    _start(columns)
    best, fewest = [list(c) for c in columns.things], crossings(columns)
    for sweep in range(SWEEPS):
        _sweep(columns, down=sweep % 2 == 0)
        _exchange(columns)
        now = crossings(columns)
        if now < fewest:
            best, fewest = [list(c) for c in columns.things], now
    columns.things[:] = best


def _start(columns: Columns) -> None:
    """Start in the order in which a walk from the left meets the things."""
    out: dict[str, list[Link]] = {}
    for links in columns.links:
        for link in links:
            out.setdefault(link.tail, []).append(link)
    rank: dict[str, int] = {}
    for thing in (t for column in columns.things for t in column):
        stack = [thing]
        while stack:
            here = stack.pop()
            if here in rank:
                continue
            rank[here] = len(rank)
            onward = sorted(out.get(here, ()), key=lambda k: (k.tail_at, k.head_at))
            stack += [k.head for k in reversed(onward)]
    for column in columns.things:
        column.sort(key=rank.__getitem__)


def crossings(columns: Columns) -> int:
    """Count crossings between neighbouring columns, terminals in their order on the cards."""
    total = 0
    for at, links in enumerate(columns.links):
        if links:
            left, right = _ranks(columns.things[at]), _ranks(columns.things[at + 1])
            total += _inversions(
                [((left[k.tail], k.tail_at), (right[k.head], k.head_at)) for k in links]
            )
    return total


def _ranks(things: Sequence[str]) -> dict[str, int]:
    return {t: i for i, t in enumerate(things)}


def _inversions(pairs: list[tuple[tuple[int, float], tuple[int, float]]]) -> int:
    """Count the pairs whose right ends stand in the other order than their left ends."""
    seen: list[tuple[int, float]] = []
    total = 0
    for _, right in sorted(pairs):
        total += len(seen) - bisect_right(seen, right)
        insort(seen, right)
    return total


def _sweep(columns: Columns, *, down: bool) -> None:
    """Sort each column by the mean place of its neighbours in the column before it."""
    count = len(columns.things)
    for at in range(1, count) if down else range(count - 2, -1, -1):
        beside = at - 1 if down else at + 1
        places = _ranks(columns.things[beside])
        sums: dict[str, list[float]] = {}
        for link in columns.links[min(at, beside)]:
            mine, other = (link.head, link.tail) if down else (link.tail, link.head)
            height = link.tail_at if down else link.head_at
            sums.setdefault(mine, []).append(places[other] + height / 400)
        here = columns.things[at]
        keys = {t: sum(v) / len(v) for t, v in sums.items()}
        columns.things[at] = _sorted_in_place(here, keys)


def _sorted_in_place(here: list[str], keys: Mapping[str, float]) -> list[str]:
    """Sort those with a key; those without stay where they are."""
    ranked = iter(sorted((t for t in here if t in keys), key=keys.__getitem__))
    return [next(ranked) if t in keys else t for t in here]


def _exchange(columns: Columns) -> None:
    """Exchange neighbours while that saves crossings."""
    for at, things in enumerate(columns.things):
        near = _neighbours(columns, at)
        for _ in range(4):
            changed = False
            for i in range(len(things) - 1):
                a, b = near.get(things[i]), near.get(things[i + 1])
                if a and b and _saves(a, b):
                    things[i], things[i + 1] = things[i + 1], things[i]
                    changed = True
            if not changed:
                break


Ends = tuple[list[tuple[int, float]], list[tuple[int, float]]]


def _neighbours(columns: Columns, at: int) -> dict[str, Ends]:
    """Return where each thing's links end, in the column before and the one after."""
    found: dict[str, Ends] = {t: ([], []) for t in columns.things[at]}
    if at:
        places = _ranks(columns.things[at - 1])
        for link in columns.links[at - 1]:
            found[link.head][0].append((places[link.tail], link.tail_at))
    if at + 1 < len(columns.things):
        places = _ranks(columns.things[at + 1])
        for link in columns.links[at]:
            found[link.tail][1].append((places[link.head], link.head_at))
    return found


def _saves(a: Ends, b: Ends) -> bool:
    """Tell whether fewer links cross with `b` above `a`."""
    now = after = 0
    for mine, other in zip(a, b, strict=True):
        for p in mine:
            for q in other:
                now += p > q
                after += p < q
    return after < now
