"""Benchmarks: each compares a time with a baseline measured in the same run.

A module `bench_*.py` here has a function `table() -> list[Row]`. For each row it calls `compare`,
which first calls `check`, raising when the result is not that of the baseline: a fast wrong answer
is worth nothing. `python3 -m tests --bench` prints the rows of all modules; names after it choose
modules.
"""

import math
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

Judged = Literal["median", "p95"]
FRAME_S = 1 / 60
_P95 = 0.95


@dataclass(frozen=True, slots=True)
class Times:
    """What one side took, in seconds."""

    median_s: float
    p95_s: float


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the table: what was measured, against what, and how it compares.

    `limit` is the largest allowed ratio of `ours` to `baseline`; `judged` says of which of the two
    figures.
    """

    what: str
    against: str
    ours: Times
    baseline: Times
    limit: float
    judged: Judged = "median"

    @property
    def ratio_median(self) -> float:
        """The ratio of the medians."""
        return self.ours.median_s / self.baseline.median_s

    @property
    def ratio_p95(self) -> float:
        """The ratio of the 95th percentiles."""
        return self.ours.p95_s / self.baseline.p95_s

    @property
    def is_met(self) -> bool:
        """Whether the judged ratio is within the limit."""
        ratio = self.ratio_median if self.judged == "median" else self.ratio_p95
        return ratio <= self.limit


def compare(
    what: str,
    against: str,
    *,
    ours: Callable[[], object],
    baseline: Callable[[], object] | float,
    check: Callable[[], None],
    limit: float,
    rounds: int,
    judged: Judged = "median",
) -> Row:
    """Check, then time `ours` and `baseline` alternately, so that both meet the same machine.

    Parameters
    ----------
    baseline
        What to compare with, or a fixed time in seconds such as `FRAME_S`.
    check
        Raises AssertionError when the results of the two sides differ.
    rounds
        How often each side is timed, after one round that is not counted.
    """
    check()
    mine: list[float] = []
    theirs: list[float] = []
    for _ in range(rounds + 1):
        mine.append(seconds(ours))
        theirs.append(baseline if isinstance(baseline, float) else seconds(baseline))
    return Row(what, against, times(mine[1:]), times(theirs[1:]), limit, judged)


def seconds(call: Callable[[], object]) -> float:
    """Return the time of one call, in seconds."""
    start = time.perf_counter()
    call()
    return time.perf_counter() - start


def times(samples: list[float]) -> Times:
    """Return the median and the 95th percentile (nearest rank) of `samples`, in seconds."""
    ranked = sorted(samples)
    middle = len(ranked) // 2
    median = (ranked[middle] + ranked[~middle]) / 2
    return Times(median, ranked[math.ceil(_P95 * len(ranked)) - 1])
