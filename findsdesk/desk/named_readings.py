"""Readings meant by what they are of, not by an id: one's own of a container or a deposit, the one that waits."""

from __future__ import annotations

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.finding import container_of, deposit_of
from findsdesk.desk.reading_rows import ReadingFacts
from findsdesk.desk.readings import answer_look_again, correct_reading
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import PotteryReading
from findsdesk.words import N_


def correct_own(
    desk: Desk,
    tag: str = "",
    *,
    deposit: str = "",
    main: str | None = None,
    earlier: str | None = None,
    latest: str | None = None,
    confidence: str | None = None,
    line: str | None = None,
    look_again: str | None = None,
) -> ReadingFacts:
    """Correct one's own reading of a container, or of the ``deposit`` that is named instead.

    Refusals: ``no_such_reading``, ``name_what_was_read``, and those of ``correct_reading``.
    """
    with desk.reading() as reading:
        of = _of(reading.session, desk, tag, deposit)
        row = _one(reading.session, select(PotteryReading).filter_by(**of, person_id=desk.person.id))
        reading_id, seen = row.id, row.version
    return correct_reading(
        desk,
        reading_id,
        seen=seen,
        main=main,
        earlier=earlier,
        latest=latest,
        confidence=confidence,
        line=line,
        look_again=look_again,
    )


def answer_looked(desk: Desk, tag: str = "", *, deposit: str = "", says: str) -> ReadingFacts:
    """Answer the "look again" that waits on a container, or on the ``deposit`` that is named instead.

    Refusals: ``no_such_reading``, ``name_what_was_read``, and those of ``answer_look_again``.
    """
    with desk.reading() as reading:
        of = _of(reading.session, desk, tag, deposit)
        waiting = select(PotteryReading).filter_by(**of, look_again=True, looked_again_at=None)
        reading_id = _one(reading.session, waiting).id
    return answer_look_again(desk, reading_id, says=says)


def _of(session: Session, desk: Desk, tag: str, deposit: str) -> dict[str, int]:
    if bool(tag.strip()) == bool(deposit.strip()):
        raise Refusal("name_what_was_read", N_("Name either a {container} or a {deposit} that was read."))
    if tag.strip():
        return {"container_id": container_of(session, desk, tag).id}
    return {"deposit_id": deposit_of(session, deposit).id}


def _one(session: Session, query: Select[PotteryReading]) -> PotteryReading:
    row = session.execute(query.order_by(PotteryReading.id).limit(1)).scalar_one_or_none()
    if row is None:
        raise Refusal("no_such_reading", N_("There is no such reading. Look at the list again."))
    return row
