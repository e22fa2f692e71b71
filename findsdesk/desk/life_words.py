"""The steps of a container's life in words, where one step alone does not say what it was."""

from __future__ import annotations

from collections.abc import Sequence

from findsdesk.desk.dossiers import LifeStep
from findsdesk.domain.routes import StepKind, step_in_words
from findsdesk.words import N_


def came_off_a_list(life: Sequence[LifeStep], place: int) -> bool:
    """Tell whether this opened a container of which sherds came off a discard list: it is settled in the same act."""
    step, after = life[place], life[place + 1 : place + 2]
    settled = any(one.kind is StepKind.SETTLED and one.happened_at == step.happened_at for one in after)
    return step.kind is StepKind.REOPENED and settled


def life_in_words(life: Sequence[LifeStep]) -> tuple[str, ...]:
    """Return each step as a message, in lower case."""
    return tuple(
        N_("back from a discard list") if came_off_a_list(life, place) else step_in_words(step.kind, step.pieces)
        for place, step in enumerate(life)
    )
