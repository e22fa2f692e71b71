"""The rim tool: a diameter from chord and height of the arc or from points, a share from the length along the rim."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from findsdesk.domain.figures import Figure
from findsdesk.domain.pieces import DiameterMethod
from findsdesk.domain.rim_points import Point
from findsdesk.domain.rims import rim_from_chord, share_from_arc


@dataclass(frozen=True, slots=True)
class RimReading:
    """A rim as it goes into a piece: whole millimetres and per mille, with what to draw and to say of it.

    ``offered`` is False where so little of the circle is there that its diameter is a guess; ``more_than_half`` asks
    whether both were measured right. ``uncertainty_mm`` is None where nothing tells it: three points always lie on
    a circle, however badly they were marked. ``circle`` is centre and radius (mm) where points were given, ``points``
    these.
    """

    method: DiameterMethod
    diameter_mm: int
    uncertainty_mm: int | None
    share_permille: int
    offered: bool
    more_than_half: bool
    figures: tuple[Figure, Figure, Figure]
    """Diameter, uncertainty and share, with their formulas."""
    circle: tuple[float, float, float] | None = None
    points: tuple[Point, ...] = ()
    scatters: bool = False
    """The points scatter by more than half a millimetre, so that what the diameter is unsure by comes from them."""

    @property
    def radius_mm(self) -> float:
        """Return half the diameter, not rounded."""
        return float(self.figures[0]) / 2

    @property
    def half_angle(self) -> float:
        """Return half the angle that is there, in radians."""
        return math.pi * float(self.figures[2]) / 100


def rim_by_chord(chord_tenths: int, height_tenths: int) -> RimReading:
    """Return the rim by the chord between its ends and the height of the arc over it (tenths of a millimetre).

    Refusals: ``chord_zero``, ``height_zero``.
    """
    rim = rim_from_chord(chord_tenths, height_tenths)
    return RimReading(
        DiameterMethod.CHORD,
        round(float(rim.diameter)),
        round(float(rim.uncertainty)),
        round(10 * float(rim.share)),
        rim.offered,
        rim.more_than_half,
        (rim.diameter, rim.uncertainty, rim.share),
    )


def rim_by_points(points_mm: Sequence[Point]) -> RimReading:
    """Return the rim by three or more points along it, in millimetres, by least squares.

    Refusals: ``too_few_points``, ``points_on_a_line``, ``points_too_close``.
    """
    from findsdesk.analysis.circles import FEWEST_POINTS, rim_circle

    rim = rim_circle(points_mm)
    return RimReading(
        DiameterMethod.POINTS,
        round(float(rim.diameter)),
        round(float(rim.uncertainty)) if rim.points > FEWEST_POINTS else None,
        round(10 * float(rim.share)),
        rim.offered,
        float(rim.share) > 50,
        (rim.diameter, rim.uncertainty, rim.share),
        (rim.circle.x, rim.circle.y, rim.circle.radius),
        tuple(points_mm),
        rim.scatters,
    )


def share_by_arc(diameter_mm: int, arc_tenths: int) -> int:
    """Return the per mille of a rim of known diameter by the length along it. Refusals: ``arc_range``, zeros."""
    return round(10 * float(share_from_arc(10 * diameter_mm, arc_tenths)))
