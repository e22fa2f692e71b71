"""What is known of a deposit: its facts, its former numbers, and the doubts a day or a number brings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import Row, Select, case, func, or_, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.finding import APART, deposit_of
from findsdesk.desk.squares import square_named
from findsdesk.domain import deposits
from findsdesk.domain.deposits import HowNumbered, Security
from findsdesk.domain.natural_order import folded
from findsdesk.domain.near_codes import near
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.store.models import Container, Deposit, FormerNumber, LeftInTrench, Person, Season, Square
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class DepositFacts:
    """A deposit as it stands; elevations in millimetres. ``version`` goes back as ``seen`` with an edit."""

    id: int
    version: int
    number: str
    former_numbers: tuple[str, ...]
    square: str
    kind: str
    opened: date
    closed: date | None
    supervisor: str
    description: str
    opening_mm: int | None
    closing_mm: int | None
    security: Security
    merged_into: str | None
    containers: int
    left_entries: int = 0
    """How many entries say that finds were seen and left in the trench; ``left_pieces`` are those that were counted."""
    left_pieces: int = 0
    soil: str = ""
    """The soil that was dug of it, as it was written: litres, buckets or a layer."""
    named: str = ""
    """What finds it alone: its number, or 2044@2 where two stores gave one number twice."""


def deposit_facts(desk: Desk, number: str) -> DepositFacts:
    """Return the facts of a deposit by a number it has or once had; raises ``unknown_deposit``."""
    with desk.reading() as reading:
        return facts_of_deposit(reading.session, deposit_of(reading.session, number).id)


def open_deposits(desk: Desk, square: str | None = None) -> tuple[DepositFacts, ...]:
    """Return the deposits that are open, in a square or in all of them, in natural order of their numbers."""
    with desk.reading() as reading:
        wanted = _facts_query().where(Deposit.closed.is_(None), Deposit.merged_into_id.is_(None))
        if square is not None:
            wanted = wanted.where(Deposit.square_id == square_named(reading.session, square).id)
        return _all_facts(reading.session, wanted.order_by(Deposit.number_key, Deposit.id))


def facts_of_deposit(session: Session, deposit_id: int) -> DepositFacts:
    """Return the facts of a deposit by its id."""
    return facts_of_deposits(session, [deposit_id])[0]


def facts_of_deposits(session: Session, ids: Sequence[int]) -> tuple[DepositFacts, ...]:
    """Return the facts of deposits by their ids, in no order."""
    return _all_facts(session, _facts_query().where(Deposit.id.in_(ids)))


def _all_facts(session: Session, query: Select[Any]) -> tuple[DepositFacts, ...]:
    rows = session.execute(query).all()
    former = _former_numbers(session, [row[0].id for row in rows])
    return tuple(_facts(row, former) for row in rows)


def _facts_query() -> Select[Any]:
    containers = select(func.count()).where(Container.deposit_id == Deposit.id).scalar_subquery()
    into = Deposit.__table__.alias("into")
    sign = case((LeftInTrench.answers_id.is_(None), 1), else_=-1)
    taken_in = Deposit.__table__.alias("taken_in")
    of_it = or_(taken_in.c.id == Deposit.id, taken_in.c.merged_into_id == Deposit.id)
    left = [
        select(func.coalesce(func.sum(one), 0))
        .join(taken_in, LeftInTrench.deposit_id == taken_in.c.id)
        .where(of_it)
        .correlate(Deposit)
        .scalar_subquery()
        for one in (sign, LeftInTrench.pieces)
    ]
    alike = Deposit.__table__.alias("alike")
    bear = select(func.count()).where(alike.c.number_folded == Deposit.number_folded, alike.c.merged_into_id.is_(None))
    places = [one.correlate(Deposit).scalar_subquery() for one in (bear, bear.where(alike.c.id <= Deposit.id))]
    return (
        select(Deposit, Square.name, Person.name, into.c.number, containers, *left, *places)
        .join(Square, Deposit.square_id == Square.id)
        .outerjoin(Person, Deposit.supervisor_id == Person.id)
        .outerjoin(into, into.c.id == Deposit.merged_into_id)
    )


def _former_numbers(session: Session, ids: Sequence[int]) -> dict[int, tuple[str, ...]]:
    rows = session.execute(
        select(FormerNumber.deposit_id, FormerNumber.number)
        .where(FormerNumber.deposit_id.in_(ids), FormerNumber.how != HowNumbered.SPLIT)
        .order_by(FormerNumber.happened_at, FormerNumber.id)
    ).all()
    numbers: dict[int, tuple[str, ...]] = {}
    for deposit_id, number in rows:
        numbers[deposit_id] = (*numbers.get(deposit_id, ()), number)
    return numbers


def _facts(found: Row[Any], former: Mapping[int, tuple[str, ...]]) -> DepositFacts:
    row, square, supervisor, into, containers, left_entries, left_pieces, bear, place = tuple(found)
    return DepositFacts(
        id=row.id,
        version=row.version,
        number=row.number,
        former_numbers=former.get(row.id, ()),
        square=square,
        kind=row.kind,
        opened=row.opened,
        closed=row.closed,
        supervisor=supervisor or "",
        description=row.description,
        opening_mm=row.opening_mm,
        closing_mm=row.closing_mm,
        security=Security(row.security),
        merged_into=into,
        containers=containers,
        left_entries=left_entries,
        left_pieces=left_pieces,
        soil=row.soil,
        named=f"{row.number}{APART}{place}" if bear > 1 and into is None else row.number,
    )


def day_doubt(deposit: Deposit | DepositFacts, day: date | None) -> Question | None:
    """Return the question whether something truly comes from a day outside its deposit's open days, or None."""
    if day is None:
        return None
    return deposits.day_doubt(deposit.number, deposit.opened, deposit.closed, day)


def season_doubt(session: Session, day: date) -> Question | None:
    """Return the question whether a day outside every season is right, or None (also where there is no season)."""
    seasons = session.execute(select(Season.starts, Season.ends).order_by(Season.starts)).all()
    if not seasons or any(starts <= day <= ends for starts, ends in seasons):
        return None
    return Question("outside_season", N_("{day} lies in no season of this excavation. Is the day right?"), day=day)


def kind_doubt(session: Session, kind: str | None) -> Question | None:
    """Return the question whether a kind that no deposit has and none is offered is a new one, or None."""
    if not kind or not kind.strip():
        return None
    used = session.execute(select(Deposit.kind).distinct().order_by(Deposit.kind)).scalars()
    known = [*deposits.KINDS, *used]
    if folded(kind) in {folded(one) for one in known}:
        return None
    return Question(
        "unknown_kind",
        N_("No {deposit} here is a “{kind}” so far. Did you mean {near}? Or is it a new kind?"),
        kind=kind.strip(),
        near=", ".join(near(kind, known, 4)),
    )


def refuse_taken_number(session: Session, number: str, but: int | None = None) -> None:
    """Refuse a number that another deposit has now: ``number_taken``."""
    taken = session.execute(
        select(Deposit.id).where(
            Deposit.number_folded == folded(number), Deposit.merged_into_id.is_(None), Deposit.id != (but or 0)
        )
    ).first()
    if taken is not None:
        raise Refusal(
            "number_taken",
            N_("{Deposit} {number} exists already. Give another number, or merge the two."),
            number=number,
        )


def former_number_doubt(session: Session, number: str, but: int | None = None) -> Question | None:
    """Return the question whether a number that another deposit once had may be used again, or None."""
    now = session.execute(
        select(FormerNumber.now)
        .where(
            FormerNumber.number_folded == folded(number),
            FormerNumber.deposit_id != (but or 0),
            FormerNumber.how != HowNumbered.SPLIT,
        )
        .order_by(FormerNumber.happened_at.desc())
    ).scalar()
    if now is None:
        return None
    return Question(
        "number_was_used",
        N_("{number} was once the number of {deposit} {now}. Use it again all the same?"),
        number=number,
        now=now,
    )
