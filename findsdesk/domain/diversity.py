"""How diverse an assemblage is."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from findsdesk.domain.figures import Figure, Grounds, Method, Unit
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

_SOURCE = "authorea.com 612724, after Xu 2011"
SIMPSON_INDEX = Method(
    Unit.NONE,
    N_("chance that two pieces drawn are of one type: sum of n(n−1) ÷ N(N−1); small is diverse"),
    _SOURCE,
    Grounds.PUBLISHED,
)
SIMPSON_DIVERSITY = Method(
    Unit.NONE,
    N_("1 − sum of n(n−1) ÷ N(N−1): the chance that two pieces drawn are of two types; large is diverse"),
    _SOURCE,
    Grounds.PUBLISHED,
)
LARGE_SAMPLE_DIVERSITY = Method(
    Unit.NONE, N_("1 − sum of the squared shares of the types, for large samples"), _SOURCE, Grounds.PUBLISHED
)
SHANNON = Method(Unit.NATS, N_("−sum of share × natural logarithm of the share"), _SOURCE, Grounds.PUBLISHED)
EVENNESS = Method(
    Unit.NONE, N_("Shannon's index ÷ natural logarithm of the number of types (Pielou); 1 is even"), _SOURCE,
    Grounds.PUBLISHED,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Diversity:
    """The indices of one assemblage; evenness is None where there is only one type."""

    types: int
    pieces: int
    simpson_index: Figure
    simpson_diversity: Figure
    large_sample_diversity: Figure
    shannon: Figure
    evenness: Figure | None


def diversity(counts: Iterable[int]) -> Diversity:
    """Return the diversity of an assemblage from the pieces of each type; types without pieces are passed over.

    Refusals: ``too_few_pieces`` (fewer than two). Formulas and values: docs/sources.md, "Diversity".
    """
    present = [count for count in counts if count > 0]
    pieces = sum(present)
    if pieces < 2:
        raise Refusal(
            "too_few_pieces", N_("Diversity needs at least two pieces whose type is known. Choose more of them.")
        )
    index = Fraction(sum(count * (count - 1) for count in present), pieces * (pieces - 1))
    shannon = -math.fsum(count / pieces * math.log(count / pieces) for count in present)
    types = len(present)
    return Diversity(
        types,
        pieces,
        SIMPSON_INDEX.gives(index),
        SIMPSON_DIVERSITY.gives(1 - index),
        LARGE_SAMPLE_DIVERSITY.gives(1 - Fraction(sum(count**2 for count in present), pieces**2)),
        SHANNON.gives(shannon),
        EVENNESS.gives(shannon / math.log(types)) if types > 1 else None,
    )
