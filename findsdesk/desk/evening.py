"""The evening by square: what came in, was washed and read that day, its dates, what is notable, what is asked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import ColumnElement, and_, func, or_, select
from sqlalchemy.orm import Session, aliased

from findsdesk.desk.day_counts import counted_between
from findsdesk.desk.desk import Desk
from findsdesk.desk.reading_rows import ReadingFacts, period_names, read_between
from findsdesk.desk.register_columns import Say, wording
from findsdesk.desk.yard import day_bounds
from findsdesk.domain.routes import Standing, StepKind
from findsdesk.store.models import Container, FoundObject, Note, Person, Square, Step
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class SquareEvening:
    """One square's evening: what came in, was washed and settled, and what is asked of its supervisor.

    ``dates`` are the periods read that day, ``notable`` the lines written with them, what is to be looked at again, and
    the objects met.
    """

    square: str
    came_in: int
    washed: int
    pieces: int
    read: int
    questions: tuple[str, ...]
    dates: tuple[str, ...] = ()
    notable: tuple[str, ...] = ()


def evening(desk: Desk, day: date) -> tuple[SquareEvening, ...]:
    """Return the evening sheet of a day, a line for each square in which anything happened."""
    with desk.reading() as reading:
        session, say = reading.session, wording(desk)
        start, end = day_bounds(desk, day)
        counted = counted_between(start, end)
        came_in = _per_square(session, StepKind.ARRIVED, start, end)
        read = _settled_per_square(session, start, end)
        washed = {
            square: (count, int(pieces))
            for square, count, pieces in session.execute(
                select(Container.square_id, func.count(), func.sum(counted.c.pieces))
                .join(counted, counted.c.container_id == Container.id)
                .group_by(Container.square_id)
            ).all()
        }
        questions = _questions_per_square(session)
        readings = {one.square: one.readings for one in read_between(session, start, end)}
        objects = _objects_per_square(session, say, start, end)
        squares = session.execute(select(Square.id, Square.name).order_by(Square.name_key)).all()
        names: dict[int | None, str] = {**dict(squares), None: ""}
        return tuple(
            SquareEvening(
                square=name,
                came_in=came_in.get(square, 0),
                washed=washed.get(square, (0, 0))[0],
                pieces=washed.get(square, (0, 0))[1],
                read=read.get(square, 0),
                questions=tuple(questions.get(square, ())),
                dates=tuple(_date(one) for one in readings.get(name, ()) if period_names(one.periods)),
                notable=(
                    *(note for one in readings.get(name, ()) for note in _notable(one, say)),
                    *objects.get(square, ()),
                ),
            )
            for square, name in names.items()
            if any(square in some for some in (came_in, washed, read, questions, objects)) or name in readings
        )


def _date(one: ReadingFacts) -> str:
    return f"{one.container or one.deposit}: {period_names(one.periods)} ({one.who})"


def _notable(one: ReadingFacts, say: Say) -> Iterator[str]:
    """Yield what is to be remembered of a reading and what is to be looked at again, and who says so."""
    facts = {"what": one.container or one.deposit, "who": one.who}
    if one.line:
        yield say(N_("{what}: {line} ({who})"), line=one.line, **facts)
    if one.look_again_why:
        yield say(N_("{what}: look again, {why} ({who})"), why=one.look_again_why, **facts)


def _objects_per_square(session: Session, say: Say, start: datetime, end: datetime) -> dict[int | None, list[str]]:
    """Return the objects registered in that time, with the container each was met in and who registered it."""
    met_in = aliased(Container)
    rows = session.execute(
        select(
            Container.square_id,
            func.coalesce(met_in.number, Container.number),
            FoundObject.number,
            FoundObject.what,
            Person.name,
        )
        .join(Container, FoundObject.container_id == Container.id)
        .outerjoin(met_in, Container.from_container_id == met_in.id)
        .outerjoin(Person, FoundObject.person_id == Person.id)
        .where(FoundObject.found_at >= start, FoundObject.found_at < end)
        .order_by(FoundObject.season_id, FoundObject.number)
    )
    objects: dict[int | None, list[str]] = {}
    for square, where, number, what, who in rows:
        said = N_("{where}: object {number}, {what} ({who})") if who else N_("{where}: object {number}, {what}")
        objects.setdefault(square, []).append(say(said, where=where, number=number, what=what, who=who))
    return objects


def _per_square(
    session: Session, kind: StepKind, start: datetime, end: datetime, *only: ColumnElement[bool]
) -> dict[int | None, int]:
    rows = session.execute(
        select(Container.square_id, func.count(Step.container_id.distinct()))
        .join(Step, Step.container_id == Container.id)
        .where(
            Step.kind == kind,
            Step.happened_at >= start,
            Step.happened_at < end,
            # What was taken out of another container lay in the yard before: it did not come in.
            or_(Step.kind != StepKind.ARRIVED, Container.from_container_id.is_(None)),
            *only,
        )
        .group_by(Container.square_id)
    )
    return dict(rows.all())


def _settled_per_square(session: Session, start: datetime, end: datetime) -> dict[int | None, int]:
    """Return how many containers were settled in that time and stood so at its end: not what was opened again."""
    later = aliased(Step)
    opened = (
        select(later.id)
        .where(
            later.container_id == Step.container_id,
            later.happened_at < end,
            or_(later.kind == StepKind.REOPENED, later.back_to.not_in((Standing.SETTLED, Standing.BAGGED))),
            or_(later.happened_at > Step.happened_at, and_(later.happened_at == Step.happened_at, later.id > Step.id)),
        )
        .correlate(Step)
    )
    return _per_square(session, StepKind.SETTLED, start, end, ~opened.exists())


def _questions_per_square(session: Session) -> dict[int | None, list[str]]:
    questions: dict[int | None, list[str]] = {}
    rows = session.execute(
        select(Container.square_id, Container.number, Note.facts)
        .join(Note, Note.container_id == Container.id)
        .where(Note.answered_at.is_(None))
        .order_by(Container.number_key)
    ).all()
    for square, number, facts in rows:
        questions.setdefault(square, []).append(f"{number}: {facts['tag']} / {facts['list']}")
    missing = session.execute(
        select(Container.square_id, Container.number)
        .where(Container.standing == Standing.MISSING)
        .order_by(Container.number_key)
    ).all()
    for square, number in missing:
        questions.setdefault(square, []).append(f"{number}?")
    return questions
