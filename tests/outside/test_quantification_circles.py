"""The circle through rim points against a published example and another library.

PUBLISHED: Gander, Golub and Strebel 1994, BIT 34, 558–578, six points with the algebraic and the geometric circle.
"""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from scipy.optimize import least_squares

from findsdesk.analysis.circles import Circle, Points, algebraic_circle, geometric_circle, rim_circle

SIX_POINTS = [(1.0, 7.0), (2.0, 6.0), (5.0, 8.0), (7.0, 7.0), (9.0, 5.0), (3.0, 7.0)]


def rough_rim(radius: float, share: float, rough_mm: float, seed: int) -> list[tuple[float, float]]:
    """Return 25 points along a share of a circle round (310, 190), each off by a rough edge."""
    chance = random.Random(seed)
    points = []
    for n in range(25):
        angle = 2 * math.pi * share * n / 24
        at = radius + chance.gauss(0, rough_mm)
        points.append((310 + at * math.cos(angle), 190 + at * math.sin(angle)))
    return points


def scipys_circle(points: Points, start: Circle) -> list[float]:
    given = np.asarray(points)
    found = least_squares(
        lambda circle: np.hypot(given[:, 0] - circle[0], given[:, 1] - circle[1]) - circle[2],
        [start.x, start.y, start.radius],
        xtol=1e-14,
        ftol=1e-14,
        gtol=1e-14,
    )
    return [float(part) for part in found.x]


def test_published_algebraic_circle() -> None:
    circle = algebraic_circle(SIX_POINTS)
    assert (circle.x, circle.y, circle.radius) == pytest.approx((5.3794, 7.2532, 3.0370), abs=1e-4)


def test_published_geometric_circle() -> None:
    circle = geometric_circle(SIX_POINTS)
    assert (circle.x, circle.y, circle.radius) == pytest.approx((4.7398, 2.9835, 4.7142), abs=6e-5)


@pytest.mark.parametrize("share", [0.06, 0.1, 0.25, 0.6, 1.0])
@pytest.mark.parametrize("seed", range(4))
def test_another_library_finds_the_same_circle(share: float, seed: int) -> None:
    """Independent library: scipy, begun at the true circle."""
    points = rough_rim(90, share, 0.2, seed)
    circle = geometric_circle(points)
    theirs = scipys_circle(points, Circle(310, 190, 90))
    assert [circle.x, circle.y, circle.radius] == pytest.approx(theirs, abs=1e-3)


def test_the_uncertainty_is_the_scatter_of_many_rims() -> None:
    """OWN: points off by 0.5 mm each; the standard error told for one is the scatter of the diameters of 300."""
    found = [rim_circle(rough_rim(90, 0.25, 0.5, seed)) for seed in range(300)]
    scatter = float(np.std([float(one.diameter) for one in found]))
    assert float(np.median([float(one.uncertainty) for one in found])) == pytest.approx(scatter, rel=0.25)
