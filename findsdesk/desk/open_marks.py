"""Where marks are open: the deposits of which something is to be written, checked or inked again, by sums alone."""

from __future__ import annotations

from typing import Any

from sqlalchemy import Select, case, func, or_, select
from sqlalchemy.orm import Session

from findsdesk.desk.mark_sums import SORTED, unmarked_sherds
from findsdesk.desk.marks_again import MARK, SLIP
from findsdesk.domain.marking import Tick
from findsdesk.domain.marks import MARKED_MATERIALS
from findsdesk.domain.settings import Settings
from findsdesk.store.models import Container, MarkEntry, Redo


def deposits_with_open_marks(session: Session, settings: Settings) -> frozenset[int | None]:
    """Return the ids of the deposits (None: of none) in which marks may be open; in all others they are done.

    Long after a season nearly all are done: their containers are not read, line by line, to find that out.
    """
    wanted = [_to_write(settings), _to_ink_again()]
    if settings.marks_checked_one_in:
        wanted.append(_to_check(settings.marks_checked_one_in))
    of_marked = (Container.standing.in_(SORTED), Container.material.in_(MARKED_MATERIALS))
    found = select(Container.deposit_id).where(or_(*(Container.id.in_(one) for one in wanted)), *of_marked)
    return frozenset(session.execute(found.distinct()).scalars())


def _to_write(settings: Settings) -> Select[Any]:
    return select(unmarked_sherds(settings).c.container_id)


def _to_ink_again() -> Select[Any]:
    return select(Redo.container_id).where(Redo.what.in_((MARK, SLIP)), Redo.done_at.is_(None))


def _to_check(one_in: int) -> Select[Any]:
    """Return the containers with a text of which more marks are to be looked at than were; all where one was wrong."""
    of, kind = MarkEntry.pieces, MarkEntry.kind
    written = func.sum(case((kind == Tick.WRITTEN, of), (kind == Tick.WRONG, -of), else_=0))
    checked = func.sum(case((kind == Tick.CHECKED, of), else_=0))
    wrong = func.sum(case((kind == Tick.WRONG, of), else_=0))
    return (
        select(MarkEntry.container_id)
        .group_by(MarkEntry.container_id, MarkEntry.said)
        .having(or_((wrong > 0) & (written > checked), written > checked * one_in))
    )
