"""Vessel equivalents (EVE) from rims and bases, and what they say of breakage.

A percent of a rim or a base is kept as a whole per mille of the full circle.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from findsdesk.domain.figures import Figure, Grounds, Method, Unit
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.words import N_

WHOLE_CIRCLE = 1000
"""Per mille of a whole rim or base."""

_ORTON = "Orton, Tyers and Vince 1993"
RIM_EVE = Method(
    Unit.VESSEL_EQUIVALENTS,
    N_("sum of the preserved shares of the rim circle; a whole rim is 1; fewer than the vessels there were"),
    f"{_ORTON}, p. 172",
    Grounds.PUBLISHED,
)
BASE_EVE = Method(
    Unit.VESSEL_EQUIVALENTS,
    N_("sum of the preserved shares of the base circle; a whole base is 1; fewer than the vessels there were"),
    f"{_ORTON}, p. 172",
    Grounds.PUBLISHED,
)
BROKENNESS = Method(
    Unit.SHERDS_AN_EQUIVALENT, N_("sherds ÷ vessel equivalents"), f"Orton 1985; {_ORTON}", Grounds.FROM_MEMORY
)
COMPLETENESS = Method(
    Unit.NONE,
    N_("vessel equivalents ÷ vessels represented: the mean share of a vessel that is there"),
    f"Orton 1985; {_ORTON}",
    Grounds.FROM_MEMORY,
)


def check_share(permille: int, pieces: int = 1) -> None:
    """Refuse a rim or base share, in per mille of the circle, that cannot be (``share_range``).

    A group of several pieces may hold as many whole circles as it has pieces.
    """
    if not 0 <= permille <= WHOLE_CIRCLE * pieces:
        raise Refusal(
            "share_range",
            N_("{percent} % of the circle cannot be: between 0 and {most} % is possible here. Read it again."),
            percent=f"{permille / 10:g}",
            most=100 * pieces,
        )


def vessel_doubt(permilles: Iterable[int]) -> Question | None:
    """Return the question about a vessel whose shares, in per mille, come to more than its circle, or None.

    Our own rule: it can only be a reading error, or a sherd of another vessel.
    """
    total = sum(permilles)
    if total <= WHOLE_CIRCLE:
        return None
    return Question(
        "over_whole_circle",
        N_("The rims or bases of this vessel come to {percent} % of one circle. Is one of them misread?"),
        percent=f"{total / 10:g}",
    )


def rim_eve(permilles: Iterable[int]) -> Figure:
    """Return the rim EVE of pieces or groups, each given as per mille of a rim; joined rims are given as one piece."""
    return RIM_EVE.gives(Fraction(sum(permilles), WHOLE_CIRCLE))


def base_eve(permilles: Iterable[int]) -> Figure:
    """Return the base EVE of pieces or groups, each given as per mille of a base; joined bases are one piece."""
    return BASE_EVE.gives(Fraction(sum(permilles), WHOLE_CIRCLE))


def brokenness(sherds: int, eve: Figure) -> Figure:
    """Return the sherds for each vessel equivalent.

    Refusals: ``no_equivalents``. Formula: docs/sources.md, "Brokenness and completeness" (from memory).
    """
    if eve.value <= 0:
        raise Refusal(
            "no_equivalents",
            N_("No rim or base percent was read, so brokenness cannot be told. Enter the percents first."),
        )
    return BROKENNESS.gives(sherds / Fraction(eve.value))


def completeness(eve: Figure, vessels: int) -> Figure:
    """Return the mean share of a vessel that is there, 0 to 1; above 1 a percent was misread.

    Refusals: ``no_vessels``. Formula: docs/sources.md, "Brokenness and completeness" (from memory).
    """
    if vessels <= 0:
        raise Refusal(
            "no_vessels", N_("No vessel is represented, so completeness cannot be told. Enter the sherds first.")
        )
    return COMPLETENESS.gives(Fraction(eve.value) / vessels)
