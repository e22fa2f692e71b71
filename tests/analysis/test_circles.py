"""The circle through rim points: what is refused, and that neither place nor size nor order change it."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from findsdesk.analysis.circles import rim_circle
from findsdesk.domain.refusals import Refusal


def arc(x: float, y: float, radius: float, share: float, points: int) -> list[tuple[float, float]]:
    angles = [2 * math.pi * share * n / (points - 1) for n in range(points)]
    return [(x + radius * math.cos(angle), y + radius * math.sin(angle)) for angle in angles]


@given(
    st.floats(-2000, 2000),
    st.floats(-2000, 2000),
    st.floats(17, 400),
    st.floats(0.05, 0.95),
    st.integers(3, 12),
)
def test_a_true_circle_is_found_again(x: float, y: float, radius: float, share: float, points: int) -> None:
    """OWN: points made from a known circle, over more than 5 mm of it."""
    found = rim_circle(arc(x, y, radius, share, points))
    assert float(found.diameter) == pytest.approx(2 * radius, rel=1e-5)
    assert (found.circle.x, found.circle.y) == pytest.approx((x, y), abs=1e-4 * radius)
    assert found.scatter_mm < 1e-4 * radius
    widest_gap = max(1 - share, share / (points - 1))
    assert float(found.share) == pytest.approx(100 * (1 - widest_gap), abs=0.1)


def test_the_uncertainty_grows_as_the_arc_shrinks() -> None:
    found = [float(rim_circle(arc(0, 0, 90, share, 9)).uncertainty) for share in (0.5, 0.25, 0.1, 0.06)]
    assert found == sorted(found)
    assert found[-1] > 20 * found[0]


def test_three_points_have_an_uncertainty_too() -> None:
    assert float(rim_circle(arc(0, 0, 90, 0.25, 3)).uncertainty) > 1


def test_a_short_arc_is_not_offered() -> None:
    assert not rim_circle(arc(0, 0, 90, 0.045, 7)).offered
    assert rim_circle(arc(0, 0, 90, 0.055, 7)).offered


def test_a_point_marked_twice_counts_once() -> None:
    points = arc(0, 0, 90, 0.25, 5)
    once, twice = rim_circle(points), rim_circle([*points, points[0], points[0]])
    assert once == twice
    assert once.points == 5


@pytest.mark.parametrize(
    ("points", "code"),
    [
        ([], "too_few_points"),
        ([(0.0, 0.0), (1.0, 1.0)], "too_few_points"),
        ([(0.0, 0.0), (1.0, 1.0), (1.0, 1.0)], "too_few_points"),
        ([(0.0, 0.0), (1.0, 1.0), (2.0, 2.0)], "points_on_a_line"),
        ([(5.0, 0.0), (5.0, 10.0), (5.0, 25.0), (5.0, 40.0)], "points_on_a_line"),
        ([(100.0, 1.0), (200.0, 1.001), (300.0, 1.0)], "points_on_a_line"),
        ([(0.0, 0.0), (0.0, 1.0), (1.0, 0.0), (1.0, -1.0)], "points_on_a_line"),
        ([(5.0, 5.0), (5.8, 5.1), (5.4, 5.6)], "points_too_close"),
        (arc(0, 0, 2.4, 1.0, 9), "points_too_close"),
    ],
)
def test_points_without_a_circle_are_refused(points: list[tuple[float, float]], code: str) -> None:
    with pytest.raises(Refusal) as caught:
        rim_circle(points)
    assert caught.value.code == code


def test_a_zigzag_that_a_line_fits_best_is_refused() -> None:
    """The search for a circle runs away to ever larger ones; it must end, and say so."""
    with pytest.raises(Refusal) as caught:
        rim_circle([(0.0, 0.0), (10.0, 0.3), (20.0, -0.3), (30.0, 0.3), (40.0, 0.0)])
    assert caught.value.code == "points_on_a_line"


def test_a_rough_and_nearly_straight_rim_is_not_offered() -> None:
    found = rim_circle([(0.0, 0.0), (10.0, 0.4), (20.0, 0.2), (30.0, 0.4), (40.0, 0.0)])
    assert not found.offered
    assert float(found.uncertainty) > float(found.diameter) / 2


@given(st.lists(st.tuples(st.floats(-500, 500), st.floats(-500, 500)), max_size=8))
def test_any_points_give_a_circle_or_a_refusal(points: list[tuple[float, float]]) -> None:
    try:
        found = rim_circle(points)
    except Refusal:
        return
    assert 0 < float(found.diameter) < float("inf")
    assert 0 < float(found.uncertainty) < float("inf")
    assert 0 < float(found.share) < 100
