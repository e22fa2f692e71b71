"""Containers that were listed or reported missing and are not here: the list the field searches by."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.domain.routes import Standing, StepKind
from findsdesk.store.models import Container, Deposit, Person, Square, Step

NOT_HERE = (Standing.LISTED, Standing.MISSING)


@dataclass(frozen=True, slots=True)
class UnaccountedTag:
    """A tag that is out and whose container is not here."""

    container_id: int
    code: str
    number: str
    deposit: str
    square: str
    standing: Standing
    supervisor: str
    since: datetime | None


def unaccounted(desk: Desk) -> tuple[UnaccountedTag, ...]:
    """Return what is listed or missing and not here, by square and number; ``since`` is when that was written."""
    since = (
        select(func.max(Step.happened_at))
        .where(Step.container_id == Container.id, Step.kind.in_((StepKind.LISTED, StepKind.MISSING)))
        .scalar_subquery()
    )
    wanted = (
        select(Container, Deposit.number, Square.name, Person.name, since)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .outerjoin(Person, Container.supervisor_id == Person.id)
        .where(Container.standing.in_(NOT_HERE))
        .order_by(Square.name_key, Container.number_key, Container.id)
    )
    with desk.reading() as reading:
        return tuple(
            UnaccountedTag(
                container_id=row.id,
                code=row.code,
                number=row.number,
                deposit=deposit or "",
                square=square or "",
                standing=Standing(row.standing),
                supervisor=supervisor or "",
                since=moment,
            )
            for row, deposit, square, supervisor, moment in reading.session.execute(wanted)
        )


def count_unaccounted(session: Session) -> int:
    """Return how many containers were listed or reported missing and are not here."""
    return session.execute(
        select(func.count()).select_from(Container).where(Container.standing.in_(NOT_HERE))
    ).scalar_one()
