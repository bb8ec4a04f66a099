"""Shapes of wires: rounded bends, a tracer beside the middle, marks off the bends."""

from __future__ import annotations

from itertools import pairwise
from math import hypot

import pytest

pytest.importorskip("PySide6")

from hypothesis import given
from hypothesis import strategies as st

from app.scene.stroke import rounded, shifted, stroke_of, toward
from model.layout.geometry import Rect

CORNERS = ((0.0, 0.0), (200.0, 0.0), (200.0, 120.0), (60.0, 120.0))
STEPS = st.lists(st.integers(1, 30), min_size=1, max_size=7)


def _staircase(steps: list[int]) -> tuple[tuple[float, float], ...]:
    """Return an upright and level line that turns at every step."""
    points, x, y = [(0.0, 0.0)], 0.0, 0.0
    for i, step in enumerate(steps):
        x, y = (x + 10.0 * step, y) if i % 2 == 0 else (x, y + 10.0 * step)
        points.append((x, y))
    return tuple(points)


def test_a_path_starts_and_ends_at_its_terminals_and_is_shorter_than_its_corners() -> None:
    path = rounded(CORNERS, 10.0)
    start, end = path.pointAtPercent(0), path.pointAtPercent(1)
    assert (start.x(), start.y(), end.x(), end.y()) == (0, 0, 60, 120)
    straight = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(CORNERS))
    assert straight - 2 * 20 < path.length() < straight


@given(STEPS)
def test_a_tracer_runs_at_one_distance_on_one_side(steps: list[int]) -> None:
    points = _staircase(steps)
    for (ax, ay), (bx, by), (sx, sy), (tx, ty) in zip(
        points, points[1:], shifted(points, 2.0), shifted(points, 2.0)[1:], strict=False
    ):
        if ay == by:  # to the right: the tracer lies below
            assert (sy - ay, ty - by) == (2.0, 2.0)
        else:  # downwards: it lies to the left
            assert (sx - ax, tx - bx) == (-2.0, -2.0)


@given(STEPS)
def test_marks_lie_on_the_wire_off_its_bends(steps: list[int]) -> None:
    points = _staircase(steps)
    for mark in stroke_of(points).marks:
        assert any(
            min(ax, bx) <= mark.x <= max(ax, bx) and min(ay, by) <= mark.y <= max(ay, by)
            for (ax, ay), (bx, by) in pairwise(points)
        )
        assert all(hypot(mark.x - x, mark.y - y) > 15 for x, y in points)


def test_a_click_beside_a_thin_wire_still_means_it() -> None:
    stroke = stroke_of(CORNERS)
    from PySide6.QtCore import QPointF

    assert stroke.hit.contains(QPointF(100, 6))
    assert not stroke.hit.contains(QPointF(100, 12))


def test_a_label_leans_to_the_side_of_its_upright_wire() -> None:
    upright = ((100.0, 0.0), (100.0, 200.0))
    assert toward(upright, Rect(111, 90, 80, 16)) == "left"
    assert toward(upright, Rect(9, 90, 80, 16)) == "right"
    assert toward(((0.0, 0.0), (200.0, 0.0)), Rect(60, -27, 80, 16)) == "centre"


def test_a_wire_between_cards_that_touch_is_a_dot_to_take_hold_of() -> None:
    from PySide6.QtCore import QPointF

    stroke = stroke_of([(60.0, 170.0)])
    assert stroke.hit.contains(QPointF(60.0, 172.0))
    assert abs(stroke.badge.x() - 60.0) <= 1.0
    assert stroke.bounds.contains(QPointF(60.0, 170.0))
