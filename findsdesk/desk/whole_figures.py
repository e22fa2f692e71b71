"""Figures of a thing as a whole, which none of its wares has: how diverse its wares are."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from findsdesk.domain.diversity import EVENNESS, SHANNON, SIMPSON_DIVERSITY, Diversity, diversity
from findsdesk.domain.figures import Figure, Method
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

OF_WARES = ("simpson", "shannon", "evenness")
"""The figures of how diverse the wares are, by their keys; behind them stand the sherds whose ware is known."""
WHOLE_IN_WORDS: dict[str, str] = {
    "simpson": N_("Diversity of wares, Simpson"),
    "shannon": N_("Diversity of wares, Shannon"),
    "evenness": N_("Evenness of wares, Pielou"),
}
"""Every figure of the whole alone in its order, by the key under which its rows are opened."""
METHOD_OF_WHOLE: dict[str, Method] = {"simpson": SIMPSON_DIVERSITY, "shannon": SHANNON, "evenness": EVENNESS}

Made = tuple[str, Callable[[], Figure]]
"""A figure by its key, and what makes it or refuses."""


def figures_of_wares(counts: Sequence[int]) -> tuple[Made, ...]:
    """Return how diverse wares are that have so many sherds each."""
    return (
        ("simpson", lambda: diversity(counts).simpson_diversity),
        ("shannon", lambda: diversity(counts).shannon),
        ("evenness", lambda: _evenness(diversity(counts))),
    )


def _evenness(found: Diversity) -> Figure:
    if found.evenness is None:
        raise Refusal("one_ware", N_("All sherds of a known ware are of the same one: nothing can be even or uneven."))
    return found.evenness
