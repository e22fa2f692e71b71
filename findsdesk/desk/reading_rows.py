"""Readings as they stand in the store: those of a container, of a deposit, of a day, with how far they agree."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

from sqlalchemy import ColumnElement, func, select
from sqlalchemy.orm import Session, aliased

from findsdesk.desk.desk import Desk
from findsdesk.desk.finding import container_of, deposit_of
from findsdesk.desk.yard import day_bounds
from findsdesk.domain.date_ranges import DateRange
from findsdesk.domain.readings import Agreement, Periods, PeriodSaid, agreement
from findsdesk.store.models import Container, Deposit, Period, Person, PotteryReading, Square


@dataclass(frozen=True, slots=True)
class ReadingFacts:
    """One reading; ``container`` is empty where a deposit was read as a whole, ``version`` goes back as ``seen``.

    ``agrees`` says how far it agrees with the first reading of the same thing; None for that first one.
    """

    id: int
    version: int
    container_id: int | None
    container: str
    deposit_id: int | None
    deposit: str
    square: str
    periods: Periods
    confidence: str
    line: str
    look_again: bool
    look_again_why: str
    looked_again_at: datetime | None
    looked_again_by: str
    looked_again_says: str
    read_at: datetime
    who: str
    agrees: Agreement | None = None

    @property
    def waits(self) -> bool:
        """Return whether somebody still has to look again."""
        return self.look_again and self.looked_again_at is None


@dataclass(frozen=True, slots=True)
class SquareRead:
    """What was read on a day in one square."""

    square: str
    readings: tuple[ReadingFacts, ...]


def readings_of_container(desk: Desk, tag: str) -> tuple[ReadingFacts, ...]:
    """Return the readings of a container, the first first. Refusals: those of finding it."""
    with desk.reading() as reading:
        return readings_on(reading.session, container_id=container_of(reading.session, desk, tag).id)


def readings_of_deposit(desk: Desk, number: str) -> tuple[ReadingFacts, ...]:
    """Return the readings of a deposit as a whole, and of those merged into it. Refusals: those of finding it."""
    with desk.reading() as reading:
        return readings_on(reading.session, deposit_id=deposit_of(reading.session, number).id)


def readings_on(
    session: Session, *, container_id: int | None = None, deposit_id: int | None = None
) -> tuple[ReadingFacts, ...]:
    """Return the readings of one container or one deposit, the first first, each with its agreement."""
    if container_id is not None:
        return _with_agreement(session, PotteryReading.container_id == container_id)
    ids = [deposit_id]
    for one in ids:
        ids += session.execute(select(Deposit.id).where(Deposit.merged_into_id == one)).scalars()
    return _with_agreement(session, PotteryReading.deposit_id.in_(ids))


def read_today(desk: Desk, day: date) -> tuple[SquareRead, ...]:
    """Return what was read on a day, by square in natural order."""
    with desk.reading() as reading:
        return read_between(reading.session, *day_bounds(desk, day))


def read_between(session: Session, start: datetime, end: datetime) -> tuple[SquareRead, ...]:
    """Return what was read from one moment until before another, by square in natural order."""
    squares: dict[str, list[ReadingFacts]] = {}
    for row in facts_where(session, PotteryReading.read_at >= start, PotteryReading.read_at < end):
        squares.setdefault(row.square, []).append(row)
    return tuple(SquareRead(square, tuple(some)) for square, some in squares.items())


def readings_that_wait(session: Session) -> tuple[ReadingFacts, ...]:
    """Return the readings that somebody still has to look at again."""
    return facts_where(session, PotteryReading.look_again.is_(True), PotteryReading.looked_again_at.is_(None))


def count_waiting(desk: Desk) -> int:
    """Return how many readings somebody still has to look at again."""
    waiting = select(func.count()).where(PotteryReading.look_again.is_(True), PotteryReading.looked_again_at.is_(None))
    with desk.reading() as reading:
        return reading.session.execute(waiting).scalar_one()


def period_names(periods: Periods) -> str:
    """Return the periods of a reading in one line: the main one, the earlier and the latest after it."""
    main = periods.main.name if periods.main else ""
    others = [one.name for one in (periods.earlier, periods.latest) if one is not None and one.name != main]
    return f"{main} ({', '.join(others)})" if main and others else main or ", ".join(others)


def _with_agreement(session: Session, *conditions: ColumnElement[bool]) -> tuple[ReadingFacts, ...]:
    rows = session.execute(reading_query().where(*conditions).order_by(PotteryReading.read_at, PotteryReading.id))
    found = [facts_of_row(row) for row in rows]
    return (*found[:1], *(replace(one, agrees=agreement(found[0].periods, one.periods)) for one in found[1:]))


def facts_where(session: Session, *conditions: ColumnElement[bool]) -> tuple[ReadingFacts, ...]:
    """Return readings in natural order of square, deposit and container, without their agreement."""
    query = reading_query().where(*conditions)
    rows = session.execute(query.order_by(Square.name_key, Deposit.number_key, Container.number_key, PotteryReading.id))
    return tuple(facts_of_row(row) for row in rows)


_MAIN, _EARLIER, _LATEST = (aliased(Period) for _ in range(3))
_LOOKER = aliased(Person)


def reading_query() -> Any:
    """Select readings with their periods, container, deposit, square, reader and who looked again."""
    return (
        select(
            PotteryReading,
            _MAIN,
            _EARLIER,
            _LATEST,
            func.coalesce(Container.number, "").label("container"),
            Deposit.id.label("deposit_id"),
            func.coalesce(Deposit.number, "").label("deposit"),
            func.coalesce(Square.name, "").label("square"),
            func.coalesce(Person.name, "").label("who"),
            func.coalesce(_LOOKER.name, "").label("looked_again_by"),
        )
        .outerjoin(_MAIN, PotteryReading.main_id == _MAIN.id)
        .outerjoin(_EARLIER, PotteryReading.earlier_id == _EARLIER.id)
        .outerjoin(_LATEST, PotteryReading.latest_id == _LATEST.id)
        .outerjoin(Container, PotteryReading.container_id == Container.id)
        .outerjoin(Deposit, Deposit.id == func.coalesce(PotteryReading.deposit_id, Container.deposit_id))
        .outerjoin(Square, Square.id == func.coalesce(Container.square_id, Deposit.square_id))
        .outerjoin(Person, PotteryReading.person_id == Person.id)
        .outerjoin(_LOOKER, PotteryReading.looked_again_by_id == _LOOKER.id)
    )


def facts_of_row(row: Any) -> ReadingFacts:
    """Return a row of ``reading_query`` as plain facts."""
    said, main, earlier, latest, container, deposit_id, deposit, square, who, looker = row
    return ReadingFacts(
        id=said.id,
        version=said.version,
        container_id=said.container_id,
        container=container,
        deposit_id=deposit_id,
        deposit=deposit,
        square=square,
        periods=Periods(period_said(main), period_said(earlier), period_said(latest)),
        confidence=said.confidence,
        line=said.line,
        look_again=said.look_again,
        look_again_why=said.look_again_why,
        looked_again_at=said.looked_again_at,
        looked_again_by=looker,
        looked_again_says=said.looked_again_says,
        read_at=said.read_at,
        who=who,
    )


def period_said(row: Period | None) -> PeriodSaid | None:
    """Return a period of the list as readings say it."""
    return None if row is None else PeriodSaid(row.code, row.name, DateRange(row.earliest, row.latest))
