"""Two fuses in series against a plain walk along their bands, current by current.

The bands are the gates of ISO 8820 at second hand, typed in here again for a blade fuse: earliest
0.75 s, 0.25, 0.15 and 0.04 s at 135, 160, 200 and 350 %, latest 600, 50, 5, 0.5 and 0.1 s at 135,
160, 200, 350 and 600 %; below 110 % it never opens.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from checks.turns import known, out_of_turn

EARLIEST = ((110.0, 360000.0), (135.0, 0.75), (160.0, 0.25), (200.0, 0.15), (350.0, 0.04))
LATEST = ((135.0, 600.0), (160.0, 50.0), (200.0, 5.0), (350.0, 0.5), (600.0, 0.1))
RATINGS = (3.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0)


def seconds(gates: tuple[tuple[float, float], ...], percent: np.ndarray) -> np.ndarray:
    """Return the times at percentages of the rating, straight on log-log paper, then by I²t."""
    x, y = np.log([g[0] for g in gates]), np.log([g[1] for g in gates])
    at = np.log(percent)
    inside = np.exp(np.interp(at, x, y))
    beyond = np.exp(y[-1] - 2.0 * (at - x[-1]))
    return np.where(percent < gates[0][0], np.inf, np.where(at > x[-1], beyond, inside))


@given(st.sampled_from(RATINGS), st.sampled_from(RATINGS), st.floats(20.0, 3000.0))
def test_the_range_is_that_of_a_walk_along_both_bands(
    before: float, behind: float, most: float
) -> None:
    amps = np.geomspace(1.3501 * behind, max(most, 1.36 * behind), 4000)
    late, early = seconds(LATEST, 100 * amps / behind), seconds(EARLIEST, 100 * amps / before)
    wrong = late > early
    found = out_of_turn(("blade", before), ("blade", behind), float(amps[-1]))
    if found is None:
        assert wrong.mean() < 0.002
        return
    assert wrong.any()
    assert found.latest_s / found.earliest_s == pytest.approx((late / early).max(), rel=0.05)
    inside = (amps > found.low_a * 1.01) & (amps < found.high_a / 1.01)
    assert wrong[inside].all()


def test_three_times_the_rating_waits_and_twice_does_not() -> None:
    assert out_of_turn(("blade", 30.0), ("blade", 10.0)) is None
    assert out_of_turn(("blade", 20.0), ("blade", 10.0)) is not None


def test_a_current_too_small_to_show_it_is_no_finding() -> None:
    # 25 A before 10 A: out of turn from 37 A on, as the walk above shows.
    assert out_of_turn(("blade", 25.0), ("blade", 10.0), 36.0) is None
    found = out_of_turn(("blade", 25.0), ("blade", 10.0), 39.0)
    assert found is not None
    assert found.high_a == pytest.approx(39.0)


@pytest.mark.parametrize(
    ("fuse", "is_known"),
    [(("blade", 10.0), True), (("strip", 60.0), True), (("glass", 10.0), False)],
)
def test_glass_has_no_earliest_edge(fuse: tuple[str, float], is_known: bool) -> None:
    assert known(fuse) is is_known


def test_a_breaker_has_no_band() -> None:
    assert not known(("breaker", 20.0))
