"""How many sherds, how heavy, and which share of them is diagnostic."""

from __future__ import annotations

from fractions import Fraction

from findsdesk.domain.figures import Figure, Grounds, Method, Unit
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

SHERDS = Method(
    Unit.SHERDS, N_("sum of the counts; fresh breaks count once, joins change nothing"), "", Grounds.COMMON_PRACTICE
)
GRAMS = Method(Unit.GRAMS, N_("sum of the dry weights that were written"), "", Grounds.COMMON_PRACTICE)
DIAGNOSTIC_SHARE = Method(
    Unit.PERCENT, N_("diagnostic sherds ÷ sherds; diagnostic by the excavation's rule"), "", Grounds.COMMON_PRACTICE
)


def sherds(pieces: int) -> Figure:
    """Return a number of sherds as a figure."""
    return SHERDS.gives(pieces)


def grams(tenths: int) -> Figure:
    """Return a weight in tenths of a gram as a figure in grams."""
    return GRAMS.gives(Fraction(tenths, 10))


def diagnostic_share(diagnostic: int, pieces: int) -> Figure:
    """Return the percent of sherds that is diagnostic. Refusal: ``no_sherds``."""
    if pieces <= 0:
        raise Refusal("no_sherds", N_("There is no sherd, so there is no share. Enter the sherds first."))
    return DIAGNOSTIC_SHARE.gives(Fraction(100 * diagnostic, pieces))
