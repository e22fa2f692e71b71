"""A container comes onto the sorting table: when it is dry, or when somebody says that it is."""

from __future__ import annotations

from datetime import datetime, timedelta

from findsdesk.desk.desk import Deed
from findsdesk.desk.editing import ask
from findsdesk.desk.one_at_a_time import only_here
from findsdesk.desk.steps import parts_of, stand, take_step
from findsdesk.domain.refusals import Question
from findsdesk.domain.routes import Standing, StepKind
from findsdesk.store.models import Container
from findsdesk.words import N_

LIES_TO_DRY = frozenset({Standing.WASHED, Standing.DRYING})


def begin(deed: Deed, container: Container, *, sure: bool) -> None:
    """Begin to sort a container: its parts leave their trays for the table.

    Question: ``not_dry_yet`` while it lies shorter than the excavation's drying time; ``sure`` says that it is dry,
    and that is written as a step. Refusals: those of the route.
    """
    parts = parts_of(deed, container)
    lies_since = min(part.since for part in parts)
    lies_to_dry = Standing(container.standing) in LIES_TO_DRY
    if lies_to_dry:
        take_step(deed, container, StepKind.DRY)
    take_step(deed, container, StepKind.SORTING)
    if lies_to_dry:
        ask(deed, _not_dry_yet(deed, container, lies_since), sure)
    for part in parts:
        stand(deed, part, "table", "")


def need_on_table(deed: Deed, container: Container, *, sure: bool = False) -> None:
    """Make sure that a container is being sorted: one that is dry begins now, one that cannot is refused."""
    only_here(deed, container)
    if Standing(container.standing) is not Standing.SORTING:
        begin(deed, container, sure=sure)


def _not_dry_yet(deed: Deed, container: Container, lies_since: datetime) -> Question | None:
    lain = deed.happened_at - lies_since
    if lain >= timedelta(hours=deed.settings.dry_h):
        return None
    return Question(
        "not_dry_yet",
        N_("{Container} {number} has lain to dry for {hours} of {dry} hours. Is it dry all the same?"),
        number=container.number,
        hours=int(lain.total_seconds() // 3600),
        dry=deed.settings.dry_h,
    )
