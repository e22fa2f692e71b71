"""A row of a sorting table by its id; where it is no more, who removed it."""

from __future__ import annotations

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Act, Line, SherdGroup
from findsdesk.words import N_


def group_there(session: Session, group_id: int) -> SherdGroup:
    """Return a group by its id; refuses ``row_gone``, whose fact ``who`` names who removed it, where somebody did."""
    row = session.get(SherdGroup, group_id)
    if row is None:
        who = _removed_by(session, group_id)
        if not who:
            raise Refusal("row_gone", N_("That row was removed meanwhile. Look at the table again."), who=who)
        raise Refusal("row_gone", N_("{who} removed that row meanwhile. Look at the table again."), who=who)
    return row


def who_removed(desk: Desk, group_id: int) -> str:
    """Return who removed a group, '' where nobody did."""
    with desk.reading() as reading:
        return _removed_by(reading.session, group_id)


def _removed_by(session: Session, group_id: int) -> str:
    removed = (Line.kind == SherdGroup.__tablename__, Line.row_id == group_id, Line.after.is_(None))
    found = session.execute(
        select(Act.person_name)
        .join(Line, Line.act_id == Act.id)
        .where(*removed)
        .order_by(Act.written_at.desc(), Act.running.desc())
        .limit(1)
    ).scalar_one_or_none()
    return found or ""
