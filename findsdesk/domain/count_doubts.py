"""Counts that are possible and hardly meant."""

from __future__ import annotations

from findsdesk.domain.refusals import Question
from findsdesk.words import N_

USUAL_MOST = 2_000
"""OWN: one container at the wash holds some ten to a few hundred pieces; ten times that is a slip of the hand."""


def ask_if_many(pieces: int, number: str) -> Question | None:
    """Return the question that a count far above the usual raises, or nothing."""
    if pieces <= USUAL_MOST:
        return None
    return Question(
        "many_pieces",
        N_("{pieces:,} pieces in {container} {number}: that is far more than usual. Is it so?"),
        pieces=pieces,
        number=number,
    )
