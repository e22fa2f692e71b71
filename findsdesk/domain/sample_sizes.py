"""How many sherds drawn by lot tell a share, a ware's among all of them, well enough."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from findsdesk.domain.figures import Figure, Grounds, Method, Unit
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

CONFIDENCE = Fraction(196, 100)
"""The z of 95 times in 100."""
MARGIN = Fraction(5, 100)
"""How far off a share may be that is told from a sample."""

SHARE_SAMPLE = Method(
    Unit.SHERDS,
    N_("1.96² × ½ × ½ ÷ margin²: 95 times in 100 the share is that near"),
    "Cochran 1977",
    Grounds.PUBLISHED,
)
FINITE_SAMPLE = Method(Unit.SHERDS, N_("n₀ ÷ (1 + n₀ ÷ all)"), "Cochran 1977", Grounds.PUBLISHED)
FINITE_SAMPLE_LESS_ONE = Method(Unit.SHERDS, N_("n₀ ÷ (1 + (n₀ − 1) ÷ all)"), "Cochran 1977", Grounds.PUBLISHED)
SHORT_SAMPLE = Method(Unit.SHERDS, N_("all ÷ (1 + all × margin²)"), "Yamane", Grounds.PUBLISHED)


@dataclass(frozen=True, slots=True)
class Enough:
    """Whole sherds that are enough, rounded up: by Cochran's formula for so many in all, and by Yamane's short one."""

    cochran: int
    yamane: int


def share_sample(margin: Fraction = MARGIN) -> Figure:
    """Return n₀, the sherds that tell any share to a margin (0 to 1) out of boundlessly many.

    Refusals: ``margin_range``. Values: docs/sources.md, "Sample sizes".
    """
    _check(margin)
    return SHARE_SAMPLE.gives(CONFIDENCE**2 / (4 * margin**2))


def finite_sample(boundless: Fraction | int, sherds: int, *, less_one: bool = False) -> Figure:
    """Return what n₀ comes to out of so many sherds; ``less_one`` is the form with n₀ − 1. Refusals: ``no_sherds``."""
    if sherds <= 0:
        raise Refusal("no_sherds", N_("There is no sherd to draw from. Enter the sherds first."))
    method = FINITE_SAMPLE_LESS_ONE if less_one else FINITE_SAMPLE
    return method.gives(boundless / (1 + Fraction(boundless - less_one) / sherds))


def short_sample(sherds: int, margin: Fraction = MARGIN) -> Figure:
    """Return the same by the short formula. Refusals: ``margin_range``."""
    _check(margin)
    return SHORT_SAMPLE.gives(sherds / (1 + sherds * margin**2))


def enough_of(sherds: int, margin: Fraction = MARGIN) -> Enough:
    """Return how many of so many sherds tell a share to the margin, always rounded up.

    Refusals: ``no_sherds``, ``margin_range``.
    """
    cochran = finite_sample(Fraction(share_sample(margin).value), sherds)
    return Enough(math.ceil(cochran.value), math.ceil(short_sample(sherds, margin).value))


def _check(margin: Fraction) -> None:
    if not 0 < margin < 1:
        raise Refusal("margin_range", N_("A margin lies between 0 and 100 %. Give another."))
