"""The mean weight of a sherd."""

from __future__ import annotations

from fractions import Fraction

from findsdesk.domain.figures import Figure, Grounds, Method, Unit
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

MEAN_SHERD_WEIGHT = Method(
    Unit.GRAMS_A_SHERD, N_("grams ÷ sherds; a fresh break counts once"), "Internet Archaeology 27/2", Grounds.PUBLISHED
)


def mean_sherd_weight(sherds: int, tenths: int) -> Figure:
    """Return the mean weight of a sherd in grams, from a number of sherds and their dry tenths of a gram.

    Refusals: ``no_sherds``. Formula and values: docs/sources.md, "Mean sherd weight".
    """
    if sherds <= 0:
        raise Refusal("no_sherds", N_("There is no sherd, so there is no mean weight. Enter the sherds first."))
    return MEAN_SHERD_WEIGHT.gives(Fraction(tenths, 10 * sherds))
