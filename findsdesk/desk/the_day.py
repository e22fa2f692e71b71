"""The day: how many stand where, what needs a person, every sherd of the season, and the evening by square."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.setting_up import season_of
from findsdesk.desk.yard import day_bounds
from findsdesk.domain.balance import Ledger
from findsdesk.domain.routes import Standing, StepKind
from findsdesk.store.models import (
    Bag,
    BalanceTotal,
    Container,
    Count,
    Note,
    Part,
    Redo,
    RowSetAside,
    Season,
    Square,
    Step,
)


@dataclass(frozen=True, slots=True)
class Need:
    """Something that waits for a person: what kind, about which containers, since when, with its facts."""

    kind: str
    numbers: tuple[str, ...]
    since: datetime | None
    facts: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Waits:
    """How much waits at each bench; the rail says it."""

    unaccounted: int
    on_pallet: int
    questions: int
    soaking: int
    soaking_too_long: int
    dry_waiting: int
    bags_to_label: int


@dataclass(frozen=True, slots=True)
class Day:
    """The day page."""

    day: date
    season: str
    permit: str
    day_of_season: int | None
    days_of_season: int
    by_standing: Mapping[Standing, int]
    needs: tuple[Need, ...]
    balance: Ledger
    material: str
    over: tuple[str, ...]
    washed_today: int
    pieces_today: int
    waits: Waits


def the_day(desk: Desk, day: date | None = None, *, material: str = "pottery") -> Day:
    """Return the day page of a day (today where none is named)."""
    with desk.reading() as reading:
        session = reading.session
        its_day = day or reading.now.astimezone(desk.facts.zone).date()
        season = season_of(session, its_day)
        standings = _by_standing(session, season)
        too_long = _soaking_too_long(session, desk, reading.now)
        over = _over(session, season)
        start, end = day_bounds(desk, its_day)
        washed, pieces = session.execute(
            select(func.count(), func.coalesce(func.sum(Count.pieces), 0)).where(
                Count.purpose == "first", Count.happened_at >= start, Count.happened_at < end
            )
        ).one()
        inside = season.starts <= its_day <= season.ends
        return Day(
            day=its_day,
            season=season.name,
            permit=season.permit,
            day_of_season=(its_day - season.starts).days + 1 if inside else None,
            days_of_season=(season.ends - season.starts).days + 1,
            by_standing=standings,
            needs=_needs(session, too_long, over),
            balance=season_balance(session, season.id, material),
            material=material,
            over=over,
            washed_today=washed,
            pieces_today=int(pieces),
            waits=_waits(session, too_long),
        )


def waits(desk: Desk) -> Waits:
    """Return how much waits at each bench."""
    with desk.reading() as reading:
        return _waits(reading.session, _soaking_too_long(reading.session, desk, reading.now))


def _by_standing(session: Session, season: Season) -> dict[Standing, int]:
    rows = session.execute(
        select(Container.standing, func.count()).where(Container.season_id == season.id).group_by(Container.standing)
    ).all()
    return {Standing(standing): count for standing, count in rows}


def _waits(session: Session, too_long: list[tuple[str, datetime]]) -> Waits:
    counts: dict[str, int] = dict(
        session.execute(
            select(Container.standing, func.count())
            .where(Container.standing.in_(("listed", "missing", "arrived", "soaking", "dry")))
            .group_by(Container.standing)
        ).all()
    )
    return Waits(
        unaccounted=counts.get("missing", 0) + counts.get("listed", 0),
        on_pallet=counts.get("arrived", 0),
        questions=_number(session, select(func.count()).where(Note.answered_at.is_(None)))
        + _number(session, select(func.count()).where(RowSetAside.answered_at.is_(None))),
        soaking=counts.get("soaking", 0),
        soaking_too_long=len(too_long),
        dry_waiting=counts.get("dry", 0),
        bags_to_label=_number(session, select(func.count()).where(Bag.labelled_at.is_(None))),
    )


def _number(session: Session, statement: Any) -> int:
    return int(session.execute(statement).scalar_one())


def _soaking_too_long(session: Session, desk: Desk, now: datetime) -> list[tuple[str, datetime]]:
    limit = now - timedelta(hours=desk.facts.settings.soak_longest_h)
    rows = session.execute(
        select(Container.number, func.min(Part.since))
        .join(Part, Part.container_id == Container.id)
        .where(Part.place_kind == "tub", Part.since < limit)
        .group_by(Container.id, Container.number, Container.number_key)
        .order_by(Container.number_key)
    ).all()
    return [(number, since) for number, since in rows]


def _needs(session: Session, too_long: list[tuple[str, datetime]], over: tuple[str, ...]) -> tuple[Need, ...]:
    needs = [
        *_missing(session),
        *(
            [Need("soaking_too_long", tuple(n for n, _ in too_long), min(s for _, s in too_long), {})]
            if too_long
            else []
        ),
        *_held(session),
        *_differences(session),
        *_rows_set_aside(session),
        *([Need("over", over, None, {})] if over else []),
        *_untagged(session),
        *_to_redo(session),
    ]
    return tuple(needs)


def _missing(session: Session) -> list[Need]:
    rows = session.execute(
        select(Container.number, func.max(Step.happened_at))
        .join(Step, Step.container_id == Container.id)
        .where(Container.standing.in_((Standing.LISTED, Standing.MISSING)))
        .group_by(Container.id, Container.number, Container.number_key)
        .order_by(Container.number_key)
        .limit(50)
    ).all()
    return [Need("not_on_pallet", tuple(n for n, _ in rows), min(s for _, s in rows), {})] if rows else []


def _held(session: Session) -> list[Need]:
    rows = session.execute(
        select(Container.number, Container.held_for, func.max(Step.happened_at))
        .join(Step, (Step.container_id == Container.id) & (Step.kind == StepKind.HELD))
        .where(Container.held_for.is_not(None))
        .group_by(Container.id, Container.number, Container.number_key, Container.held_for)
        .order_by(Container.number_key)
    ).all()
    if not rows:
        return []
    why = tuple(dict.fromkeys(held_for for _, held_for, _ in rows))
    return [Need("held", tuple(n for n, _, _ in rows), min(s for _, _, s in rows), {"why": why})]


def _differences(session: Session) -> list[Need]:
    rows = session.execute(
        select(Container.number, Note.facts, Note.happened_at)
        .join(Note, Note.container_id == Container.id)
        .where(Note.answered_at.is_(None))
        .order_by(Note.id)
        .limit(20)
    ).all()
    return [Need("other_deposit", (number,), since, facts) for number, facts, since in rows]


def _rows_set_aside(session: Session) -> list[Need]:
    rows = session.execute(
        select(RowSetAside.file_name, func.count())
        .where(RowSetAside.answered_at.is_(None))
        .group_by(RowSetAside.file_name)
        .order_by(RowSetAside.file_name)
    ).all()
    return [Need("rows_set_aside", (), None, {"file": name, "n": count}) for name, count in rows]


def _untagged(session: Session) -> list[Need]:
    rows = session.execute(
        select(Container.number, Container.arrived_at)
        .where(Container.provisional, Container.standing.not_in((Standing.VOID, Standing.JOINED)))
        .order_by(Container.number_key)
        .limit(50)
    ).all()
    return [Need("untagged", tuple(n for n, _ in rows), rows[0][1], {})] if rows else []


def _to_redo(session: Session) -> list[Need]:
    rows = session.execute(
        select(Redo.why, func.count(), func.min(Redo.asked_at)).where(Redo.done_at.is_(None)).group_by(Redo.why)
    ).all()
    return [Need("to_redo", (), since, {"why": why, "n": count}) for why, count, since in rows]


def _over(session: Session, season: Season) -> tuple[str, ...]:
    b = BalanceTotal
    accounted = b.kept + b.on_hold + b.to_discard + b.discarded + b.used_up + b.moved_out + b.not_a_sherd + b.not_found
    rows = session.execute(
        select(Container.number)
        .join(b, b.container_id == Container.id)
        .where(
            Container.standing == Standing.SORTING,
            Container.season_id == season.id,
            accounted > b.counted + b.found_more + b.arrived,
        )
        .order_by(Container.number_key)
        .limit(20)
    ).scalars()
    return tuple(rows)


def season_balance(session: Session, season_id: int, material: str) -> Ledger:
    """Return the balance of a whole season's material: the sum of its containers' ledgers."""
    names = (
        "counted", "found_more", "arrived", "kept", "on_hold", "to_discard", "discarded", "used_up", "moved_out",
        "not_a_sherd", "not_found",
    )  # fmt: skip
    sums = [func.coalesce(func.sum(getattr(BalanceTotal, name)), 0) for name in names]
    row = session.execute(
        select(*sums)
        .join(Container, BalanceTotal.container_id == Container.id)
        .where(Container.season_id == season_id, BalanceTotal.material == material)
    ).one()
    return Ledger(**dict(zip(names, (int(value) for value in row), strict=True)))


@dataclass(frozen=True, slots=True)
class SquareEvening:
    """One square's evening: what came in, was washed and read, and what is asked of its supervisor."""

    square: str
    came_in: int
    washed: int
    pieces: int
    read: int
    questions: tuple[str, ...]


def evening(desk: Desk, day: date) -> tuple[SquareEvening, ...]:
    """Return the evening sheet of a day, a line for each square in which anything happened."""
    with desk.reading() as reading:
        session = reading.session
        start, end = day_bounds(desk, day)
        came_in = _per_square(session, StepKind.ARRIVED, start, end)
        read = _per_square(session, StepKind.SETTLED, start, end)
        washed = {
            square: (count, int(pieces))
            for square, count, pieces in session.execute(
                select(Container.square_id, func.count(), func.sum(Count.pieces))
                .join(Count, Count.container_id == Container.id)
                .where(Count.purpose == "first", Count.happened_at >= start, Count.happened_at < end)
                .group_by(Container.square_id)
            ).all()
        }
        questions = _questions_per_square(session)
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
            )
            for square, name in names.items()
            if square in came_in or square in washed or square in read or square in questions
        )


def _per_square(session: Session, kind: StepKind, start: datetime, end: datetime) -> dict[int | None, int]:
    rows = session.execute(
        select(Container.square_id, func.count(Step.container_id.distinct()))
        .join(Step, Step.container_id == Container.id)
        .where(Step.kind == kind, Step.happened_at >= start, Step.happened_at < end)
        .group_by(Container.square_id)
    )
    return dict(rows.all())


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
