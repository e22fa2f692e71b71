"""The circle through points of a rim, by least squares, with what it is unsure by."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from findsdesk.domain.figures import Figure, Grounds, Method, Unit
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.rims import LEAST_SHARE_PERCENT
from findsdesk.words import N_

Array = NDArray[np.float64]
Points = Sequence[tuple[float, float]] | Array

FEWEST_POINTS = 3
POINT_ERROR_MM = 0.5
"""How far a point is supposed to be off at least when the uncertainty is told: half a millimetre (ours)."""

LEAST_EXTENT_MM = 10 * POINT_ERROR_MM
"""Points that all lie within this length of one another say more of how they were marked than of a rim (ours)."""

_GANDER = "Gander, Golub and Strebel 1994, BIT 34, 558–578"
_TURNS = 500
_STRAIGHT = 1e-4
"""Points that leave a line by less than this part of their length are taken for a line."""
_NO_CURVE = 1e-12

CIRCLE_DIAMETER = Method(
    Unit.MILLIMETRES,
    N_("twice the radius of the circle with the least sum of squared distances from the points"),
    _GANDER,
    Grounds.PUBLISHED,
)
CIRCLE_UNCERTAINTY = Method(
    Unit.MILLIMETRES,
    N_("standard error of the diameter, for points that are off by half a millimetre or by what they scatter"),
    "linear propagation of errors",
    Grounds.FROM_MEMORY,
)
SHARE_BETWEEN_POINTS = Method(
    Unit.PERCENT_OF_CIRCLE, N_("angle that the points cover ÷ full angle"), "geometry of the circle", Grounds.DERIVED
)


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle in the unit of its points."""

    x: float
    y: float
    radius: float


@dataclass(frozen=True, slots=True)
class RimCircle:
    """The circle of a rim: its diameter and uncertainty (mm), the share the points cover (%), their scatter (mm)."""

    circle: Circle
    diameter: Figure
    uncertainty: Figure
    share: Figure
    points: int
    scatter_mm: float
    scatters: bool
    """The points scatter by more than a point is supposed to be off at least: the uncertainty is of the scatter."""

    @property
    def offered(self) -> bool:
        """Return whether the points cover enough of the circle for its diameter to be offered at all."""
        return float(self.share) >= LEAST_SHARE_PERCENT


def rim_circle(points_mm: Sequence[tuple[float, float]]) -> RimCircle:
    """Return the circle through three or more points along a rim, in millimetres; a point marked twice counts once.

    Refusals: ``too_few_points`` (fewer than three different ones), ``points_on_a_line``, ``points_too_close``. Method
    and values: docs/sources.md, "Circle through rim points".
    """
    points = np.array(sorted(set(points_mm)), dtype=np.float64)
    if len(points) < FEWEST_POINTS:
        raise Refusal(
            "too_few_points",
            N_("A circle needs three different points; there are {points}. Mark more along the rim."),
            points=len(points),
        )
    circle = geometric_circle(points)
    if float(np.linalg.norm(points[:, None] - points[None, :], axis=2).max()) < LEAST_EXTENT_MM:
        raise Refusal(
            "points_too_close",
            N_("These points lie within {mm} mm of one another, too close for a diameter. Mark them along the rim."),
            mm=f"{LEAST_EXTENT_MM:g}",
        )
    return RimCircle(
        circle,
        CIRCLE_DIAMETER.gives(2 * circle.radius),
        CIRCLE_UNCERTAINTY.gives(2 * _radius_error(points, circle)),
        SHARE_BETWEEN_POINTS.gives(_share_covered(points, circle)),
        len(points),
        math.sqrt(float((_misses(points, circle) ** 2).mean())),
        _scatter(points, circle) > POINT_ERROR_MM,
    )


def geometric_circle(points: Points) -> Circle:
    """Return the circle with the least sum of squared distances from the points, in their unit.

    Levenberg–Marquardt, begun at the algebraic circle of the points moved to their middle and scaled to their extent,
    so that where they lie on the photo changes nothing. Refusals: ``points_on_a_line``.
    """
    given = np.asarray(points, dtype=np.float64)
    middle = given.mean(axis=0)
    extent = float(np.abs(given - middle).max())
    if extent == 0:
        raise _on_a_line()
    scaled = (given - middle) / extent
    fitted = _refined(scaled, algebraic_circle(scaled))
    if not fitted.radius < 1 / (2 * _STRAIGHT):
        raise _on_a_line()
    return Circle(fitted.x * extent + float(middle[0]), fitted.y * extent + float(middle[1]), fitted.radius * extent)


def algebraic_circle(points: Points) -> Circle:
    """Return the circle a·(x² + y²) + b₁·x + b₂·y + c = 0 with the least squares of the left side, ‖(a, b, c)‖ = 1.

    Too small on short arcs: where the geometric fit begins, no result of its own (Gander, Golub and Strebel 1994).
    Refusals: ``points_on_a_line``.
    """
    given = np.asarray(points, dtype=np.float64)
    spread = np.linalg.svd(given - given.mean(axis=0), compute_uv=False)
    if spread[-1] <= _STRAIGHT * spread[0]:
        raise _on_a_line()
    system = np.column_stack(((given**2).sum(axis=1), given, np.ones(len(given))))
    a, b1, b2, c = np.linalg.svd(system)[2][-1]
    if abs(a) < _NO_CURVE:  # the best fit is a line, as with points in a zigzag
        raise _on_a_line()
    # Points that lie round no circle at all can give a negative square; its size is as good a beginning as any.
    square = abs(float((b1**2 + b2**2) / (4 * a**2) - c / a))
    return Circle(float(-b1 / (2 * a)), float(-b2 / (2 * a)), math.sqrt(square))


def _on_a_line() -> Refusal:
    return Refusal(
        "points_on_a_line",
        N_("These points make no circle: they lie along a straight line, or zigzag. Mark them again along the rim."),
    )


def _misses(points: Array, circle: Circle) -> Array:
    distances: Array = np.hypot(points[:, 0] - circle.x, points[:, 1] - circle.y) - circle.radius
    return distances


def _slopes(points: Array, circle: Circle) -> Array:
    """Return how each point's miss changes with x, y and radius of the circle: n × 3."""
    to_centre = np.array([circle.x, circle.y]) - points
    unit = to_centre / np.maximum(np.linalg.norm(to_centre, axis=1), 1e-300)[:, None]
    return np.column_stack((unit, -np.ones(len(points))))


def _refined(points: Array, circle: Circle) -> Circle:
    """Return the geometric fit by damped Gauss–Newton steps; a step that makes it worse is taken back."""
    damping, worth = 1e-3, float((_misses(points, circle) ** 2).sum())
    for _turn in range(_TURNS):
        slopes, misses = _slopes(points, circle), _misses(points, circle)
        brake = np.diag(math.sqrt(damping) * np.linalg.norm(slopes, axis=0))
        step = np.linalg.lstsq(np.vstack((slopes, brake)), np.append(-misses, np.zeros(3)))[0]
        tried = Circle(circle.x + float(step[0]), circle.y + float(step[1]), circle.radius + float(step[2]))
        worth_tried = float((_misses(points, tried) ** 2).sum())
        small = float(np.abs(step).max()) <= 1e-13 * max(1.0, abs(circle.radius))
        if worth_tried <= worth:
            circle, worth, damping = tried, worth_tried, max(damping / 10, 1e-15)
        else:
            damping *= 10
        if small or damping > 1e12:
            break
    return circle


def _scatter(points: Array, circle: Circle) -> float:
    """Return the standard deviation of the points from the circle that was fitted to them; 0 for three."""
    spare = len(points) - FEWEST_POINTS
    return math.sqrt(float((_misses(points, circle) ** 2).sum()) / spare) if spare else 0.0


def _radius_error(points: Array, circle: Circle) -> float:
    """Return the standard error of the radius: by the scatter, never by less than the error of one point."""
    _left, singular, right = np.linalg.svd(_slopes(points, circle), full_matrices=False)
    return max(_scatter(points, circle), POINT_ERROR_MM) * float(
        np.linalg.norm(right[:, 2] / np.maximum(singular, 1e-300))
    )


def _share_covered(points: Array, circle: Circle) -> float:
    """Return the percent of the circle that the points cover: all but the widest gap between neighbours."""
    angles = np.sort(np.arctan2(points[:, 1] - circle.y, points[:, 0] - circle.x))
    gaps = np.diff(np.append(angles, angles[0] + 2 * math.pi))
    return 100 * (1 - float(gaps.max()) / (2 * math.pi))
