"""A rim's diameter and the share of it that is preserved, from what can be measured on a sherd.

Lengths go in as whole tenths of a millimetre, the way a calliper is read, and come out in millimetres.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from findsdesk.domain.figures import Figure, Grounds, Method, Unit
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

LEAST_SHARE_PERCENT = 5
"""Below about this share of the rim no diameter is offered (an analyst of Internet Archaeology 27/2 did the same)."""
MISREADING_TENTHS = 5
"""The misreading of a height that the uncertainty stands for: half a millimetre (ours)."""

_GEOMETRY = "geometry of the circle; formula in the blog of the Utah Pottery Project, 22 May 2009"
RIM_DIAMETER = Method(
    Unit.MILLIMETRES, N_("height of the arc + chord² ÷ (4 × height of the arc)"), _GEOMETRY, Grounds.PUBLISHED
)
RIM_DIAMETER_UNCERTAINTY = Method(
    Unit.MILLIMETRES,
    N_("what the diameter moves when the height of the arc is misread by half a millimetre"),
    "derivative of the formula of the diameter",
    Grounds.DERIVED,
)
SHARE_FROM_CHORD = Method(
    Unit.PERCENT_OF_CIRCLE, N_("angle over the chord ÷ full angle"), "geometry of the circle", Grounds.DERIVED
)
SHARE_FROM_ARC = Method(
    Unit.PERCENT_OF_CIRCLE, N_("length along the rim ÷ (π × diameter)"), "geometry of the circle", Grounds.DERIVED
)


@dataclass(frozen=True, slots=True)
class MeasuredRim:
    """A rim as measured: diameter, what it is unsure by (both mm), the share of the circle that is there (%)."""

    diameter: Figure
    uncertainty: Figure
    share: Figure

    @property
    def offered(self) -> bool:
        """Return whether the share is large enough for its diameter to be offered at all."""
        return float(self.share) >= LEAST_SHARE_PERCENT

    @property
    def more_than_half(self) -> bool:
        """Return whether more than half of the circle is there: rare, so ask whether both were measured right."""
        return float(self.share) > 50


def rim_from_chord(chord_tenths: int, height_tenths: int) -> MeasuredRim:
    """Return the rim through the ends of a chord and the top of the arc over it, both in tenths of a millimetre.

    With chord c and height s: diameter s + c²/(4 s); a misreading of s by δ moves it by |1 − c²/(4 s²)|·δ.
    Refusals: ``chord_zero``, ``height_zero``. Formula and values: docs/sources.md, "Rim diameter".
    """
    _refuse_zero(chord_tenths)
    if height_tenths <= 0:
        raise Refusal(
            "height_zero",
            N_("An arc without height is a straight line and gives no diameter. Measure the height over the chord."),
        )
    chord, height = Fraction(chord_tenths, 10), Fraction(height_tenths, 10)
    diameter = height + chord**2 / (4 * height)
    slope = 1 - chord**2 / (4 * height**2)
    angle = 2 * math.asin(min(1.0, float(chord / diameter)))
    if 2 * height > diameter:
        angle = 2 * math.pi - angle
    return MeasuredRim(
        RIM_DIAMETER.gives(diameter),
        RIM_DIAMETER_UNCERTAINTY.gives(abs(slope) * Fraction(MISREADING_TENTHS, 10)),
        SHARE_FROM_CHORD.gives(100 * angle / (2 * math.pi)),
    )


def share_from_chord(diameter_tenths: int, chord_tenths: int) -> Figure:
    """Return the preserved percent of a rim of known diameter from its chord, for at most half a circle.

    Refusals: ``chord_zero``, ``diameter_below_chord``.
    """
    _refuse_zero(chord_tenths)
    if diameter_tenths < chord_tenths:
        raise Refusal(
            "diameter_below_chord",
            N_("A diameter of {diameter} mm is shorter than the chord of {chord} mm. Measure both again."),
            diameter=f"{diameter_tenths / 10:g}",
            chord=f"{chord_tenths / 10:g}",
        )
    return SHARE_FROM_CHORD.gives(100 * math.asin(chord_tenths / diameter_tenths) / math.pi)


def share_from_arc(diameter_tenths: int, arc_tenths: int) -> Figure:
    """Return the preserved percent of a rim of known diameter from the length along the rim.

    Refusals: ``diameter_zero``, ``arc_range`` (less than nothing, or longer than the whole rim).
    """
    if diameter_tenths <= 0:
        raise Refusal("diameter_zero", N_("A rim has a diameter of more than 0 mm. Enter the diameter first."))
    share = 100 * arc_tenths / (math.pi * diameter_tenths)
    if not 0 <= share <= 100:
        raise Refusal(
            "arc_range",
            N_("{arc} mm along a rim of {diameter} mm across is {percent} % of it. Measure both again."),
            arc=f"{arc_tenths / 10:g}",
            diameter=f"{diameter_tenths / 10:g}",
            percent=round(share),
        )
    return SHARE_FROM_ARC.gives(share)


def _refuse_zero(chord_tenths: int) -> None:
    if chord_tenths <= 0:
        raise Refusal("chord_zero", N_("A chord of 0 mm gives no diameter. Measure from end to end of the rim."))
