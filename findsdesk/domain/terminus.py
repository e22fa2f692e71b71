"""Terminus post quem: the year before which a deposit cannot have been closed."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from findsdesk.domain.dated_finds import DatedFind, dated, undated
from findsdesk.domain.figures import Figure, Grounds, Method, Unit
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

TERMINUS_POST_QUEM = Method(
    Unit.YEAR,
    N_("the latest of the years in which the ranges of the dated finds begin; intrusive ones left out"),
    "",
    Grounds.COMMON_PRACTICE,
)


@dataclass(frozen=True, slots=True)
class TerminusPostQuem:
    """The year, the finds that give it, and what was left out: undated and intrusive finds."""

    year: Figure
    given_by: tuple[DatedFind, ...]
    undated: tuple[DatedFind, ...]
    intrusive: tuple[DatedFind, ...]


def terminus_post_quem(finds: Collection[DatedFind]) -> TerminusPostQuem:
    """Return the terminus post quem as an astronomical year, and which finds give it (coins and objects count too).

    A terminus ante quem needs stratigraphy and is not told from finds. Refusals: ``nothing_dated``.
    """
    usable = dated(finds)
    if not usable:
        raise Refusal("nothing_dated", N_("No find here has a date. Give the types or the pieces a range of years."))
    year = max(span.begin for _find, span in usable)
    return TerminusPostQuem(
        TERMINUS_POST_QUEM.gives(year),
        tuple(find for find, span in usable if span.begin == year),
        undated(finds),
        tuple(find for find in finds if find.intrusive),
    )
