"""Figures of a thing as a whole, which none of its wares has: how diverse its wares are, how dense its sherds lie."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from findsdesk.domain.diversity import EVENNESS, SHANNON, SIMPSON_DIVERSITY, Diversity, diversity
from findsdesk.domain.figures import Figure, Grounds, Method, Unit
from findsdesk.domain.finds_density import DENSITY_A_CUBIC_METRE, Density, finds_density, soil_volume
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Deposit
from findsdesk.words import N_

OF_WARES = ("simpson", "shannon", "evenness")
"""The figures of how diverse the wares are, by their keys; behind them stand the sherds whose ware is known."""
WHOLE_IN_WORDS: dict[str, str] = {
    "simpson": N_("Simpson diversity"),
    "shannon": N_("Shannon diversity"),
    "evenness": N_("Pielou evenness"),
    "density": N_("Density of sherds"),
}
"""Every figure of the whole alone in its order, by the key under which its rows are opened."""
METHOD_OF_WHOLE: dict[str, Method] = {
    "simpson": SIMPSON_DIVERSITY,
    "shannon": SHANNON,
    "evenness": EVENNESS,
    "density": DENSITY_A_CUBIC_METRE,
}

SOIL = Method(Unit.LITRES, N_("the soil that was dug, in litres"), "", Grounds.COMMON_PRACTICE)

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


Soil = tuple[tuple[str, str], ...]
"""Deposits by their numbers, each with the soil that was dug of it as it was written; empty where nobody wrote it."""


def soil_in(session: Session, deposit_id: int) -> Soil:
    """Return the soil that was dug of a deposit, and of those that were merged into it."""
    wanted = select(Deposit.number, Deposit.soil).where(
        or_(Deposit.id == deposit_id, Deposit.merged_into_id == deposit_id)
    )
    return tuple((row.number, row.soil) for row in session.execute(wanted.order_by(Deposit.id)))


def density_of(pieces: int, soil: Soil) -> Density:
    """Return how dense so many sherds lie in the soil of a deposit. Refusals: ``soil_not_written``."""
    for number, said in soil:
        if not said:
            raise Refusal(
                "soil_not_written",
                N_("How much soil was dug of {deposit} {number} is not written. Write it when closing or changing it."),
                number=number,
            )
    litres = sum((Fraction(soil_volume(said).value) for _number, said in soil), Fraction(0))
    return finds_density(pieces, SOIL.gives(litres))
