"""States as they are found: rows of stacks, and all of them laid out side by side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from model.batch import Stack
from model.linear import Bools, Floats
from model.network import Network
from model.states import Armature, Setting

RUN = 128
"""States laid out together, so that both sides of the move fit the cache."""


class Row(NamedTuple):
    """One state: what it was asked from, and what came out, at a place of some arrays."""

    setting: Setting
    start: frozenset[Armature]
    pulled: frozenset[Armature]
    supply: str
    found: Stack
    place: int


def laid_out(network: Network, rows: Sequence[Row]) -> tuple[Floats, Floats, Bools]:
    """Return what one edge or node does in all states side by side.

    Returns
    -------
    Volts (states, nodes), amperes and what conducts (states, edges); views of arrays that hold
    the states of one node or edge together.
    """
    count = len(rows)
    volts, amps = np.empty((network.count, count)), np.empty((len(network.edges), count))
    on = np.empty((len(network.edges), count), np.bool_)
    for first, last in runs(rows):
        row = rows[first]
        mine, there = slice(first, last), slice(row.place, row.place + last - first)
        volts[:, mine] = row.found.volts[there].T
        amps[:, mine] = row.found.amps[there].T
        on[:, mine] = row.found.on[there].T
    return volts.T, amps.T, on.T


def runs(rows: Sequence[Row]) -> Iterator[tuple[int, int]]:
    """Yield where rows that follow each other in the same arrays begin and end, in short runs."""
    first = 0
    for n in range(1, len(rows) + 1):
        last = rows[n - 1]
        if (
            n == len(rows)
            or rows[n].found is not last.found
            or rows[n].place != last.place + 1
            or n - first == RUN
        ):
            yield first, n
            first = n


def named(armatures: Sequence[Armature], pulled: Bools) -> list[frozenset[Armature]]:
    """Return the armatures that are in, for every row."""
    rows, columns = np.nonzero(pulled)
    ends = np.searchsorted(rows, np.arange(len(pulled) + 1)).tolist()
    names = [armatures[c] for c in columns.tolist()]
    return [frozenset(names[a:b]) for a, b in pairwise(ends)]


def columns_in(armatures: Sequence[Armature], starts: Sequence[frozenset[Armature]]) -> Bools:
    """Return which armatures are in, shape (starts, armatures)."""
    known = {s: np.array([a in s for a in armatures], np.bool_) for s in set(starts)}
    rows = [known[s] for s in starts]
    return np.array(rows, np.bool_).reshape(len(starts), len(armatures))
