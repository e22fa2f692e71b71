"""The end of a season: each requirement with what is open and the rows behind it, the deadlines, what was signed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import Select, case, func, literal, or_, select
from sqlalchemy.orm import Session, aliased

from findsdesk.desk.deadlines import DeadlineFacts, deadlines_in
from findsdesk.desk.desk import Desk
from findsdesk.desk.season_end_asking import asking
from findsdesk.desk.season_end_questions import QUESTIONS
from findsdesk.desk.setting_up import season_of
from findsdesk.desk.shipped import requirements
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.season_end import Requirement
from findsdesk.store.models import Container, HandOver, HandOverLine, Person, Season
from findsdesk.words import N_

NAMED_AT_FIRST = 12
"""So many rows of each requirement are named at once; ``open_rows`` pages through all of them."""


@dataclass(frozen=True, slots=True)
class OpenRow:
    """One thing that is open: its row, how it is called, whose season it is of, and whether it was signed for.

    ``code`` is the tag of its container ('' where it is of none); ``carried`` says that an earlier season handed it on.
    """

    subject: str
    id: int
    container_id: int | None
    code: str
    number: str
    part: int
    pieces: int
    season: str
    signed: bool
    carried: bool


@dataclass(frozen=True, slots=True)
class OpenLine:
    """A requirement with how many things are open, how many of them were carried over or are signed for, the first."""

    requirement: Requirement
    many: int
    pieces: int
    carried: int
    signed: int
    rows: tuple[OpenRow, ...]


@dataclass(frozen=True, slots=True)
class SignedList:
    """A list of what stayed open, as it was signed; ``done`` of its lines are open no more."""

    id: int
    number: int
    season: str
    signed_at: datetime
    first: str
    second: str
    lines: int
    done: int
    note: str


@dataclass(frozen=True, slots=True)
class SeasonEnd:
    """A season at its end; ``days_left`` until its last day, below 0 after it."""

    season: str
    permit: str
    starts: date
    ends: date
    today: date
    days_left: int
    lines: tuple[OpenLine, ...]
    deadlines: tuple[DeadlineFacts, ...]
    signed: tuple[SignedList, ...]
    """The newest first."""

    @property
    def open(self) -> int:
        """Return how many things are open."""
        return sum(one.many for one in self.lines)

    @property
    def unsigned(self) -> int:
        """Return how many of them nobody signed for yet."""
        return sum(one.many - one.signed for one in self.lines)


def season_end(desk: Desk, season: str | None = None, *, named: int | None = NAMED_AT_FIRST) -> SeasonEnd:
    """Return a season at its end (that of today, or else the newest, where none is named).

    ``named`` rows of each requirement come along, all where it is None. Refusals: ``unknown_season``, ``no_season``.
    """
    with desk.reading() as reading:
        session, today = reading.session, reading.now.astimezone(desk.facts.zone).date()
        row = season_of(session, today, season or None)
        return SeasonEnd(
            season=row.name,
            permit=row.permit,
            starts=row.starts,
            ends=row.ends,
            today=today,
            days_left=(row.ends - today).days,
            lines=tuple(_line(session, desk, row, one, named) for one in requirements()),
            deadlines=deadlines_in(session, row, today),
            signed=_signed(session, desk, row),
        )


def open_rows(
    desk: Desk, requirement: str, season: str | None = None, *, first: int = 0, how_many: int = 200
) -> tuple[OpenRow, ...]:
    """Return the rows behind one requirement, from the row ``first`` on.

    Refusals: ``unknown_requirement``, ``unknown_season``, ``no_season``.
    """
    wanted = requirement_of(requirement)
    with desk.reading() as reading:
        row = season_of(reading.session, reading.now.astimezone(desk.facts.zone).date(), season or None)
        return rows_in(reading.session, desk, row, wanted, first=first, how_many=how_many)


def count_open(desk: Desk, requirement: str, season: str | None = None) -> int:
    """Return how many rows are behind one requirement. Refusals: those of ``open_rows``."""
    wanted = requirement_of(requirement)
    with desk.reading() as reading:
        session = reading.session
        row = season_of(session, reading.now.astimezone(desk.facts.zone).date(), season or None)
        found = _open(session, desk, row, wanted).subquery("of_the_season")
        return int(session.execute(select(func.count()).select_from(found)).scalar_one())


def requirement_of(key: str) -> Requirement:
    """Return a requirement by its key; refuses ``unknown_requirement``."""
    wanted = key.strip().replace("-", "_")
    found = next((one for one in requirements() if one.key == wanted), None)
    if found is None:
        known = ", ".join(one.key for one in requirements())
        raise Refusal("unknown_requirement", N_("There is no line {key}. There is: {known}."), key=key, known=known)
    return found


def rows_in(
    session: Session,
    desk: Desk,
    season: Season,
    requirement: Requirement,
    *,
    first: int = 0,
    how_many: int | None = None,
) -> tuple[OpenRow, ...]:
    """Return rows behind a requirement in the order of their numbers; all of them where nobody says how many."""
    found = _open(session, desk, season, requirement).subquery("of_the_season")
    ordered = (
        select(found, Container.code, Season.name)
        .outerjoin(Container, Container.id == found.c.container_id)
        .join(Season, Season.id == found.c.season_id)
        .order_by(found.c.sort, found.c.subject, found.c.part, found.c.id)
        .offset(first)
    )
    rows = session.execute(ordered if how_many is None else ordered.limit(how_many)).all()
    return tuple(
        OpenRow(
            subject=row.subject,
            id=row.id,
            container_id=row.container_id,
            code=row.code or "",
            number=row.number,
            part=row.part,
            pieces=int(row.pieces),
            season=row.name,
            signed=bool(row.signed),
            carried=row.season_id != season.id,
        )
        for row in rows
    )


def _open(session: Session, desk: Desk, season: Season, requirement: Requirement) -> Select[Any]:
    """Return what is open of a season's own work, and what earlier seasons signed for and handed on to it."""
    found = QUESTIONS[requirement.question](asking(session, desk)).subquery("open")
    own = found.c.season_id == season.id
    handed_on = _signed_line(requirement, found, Season.starts < season.starts)
    signed = _signed_line(requirement, found, HandOver.season_id == season.id)
    return select(found, signed.label("signed")).where(or_(own, handed_on))


def _signed_line(requirement: Requirement, found: Any, *where: Any) -> Any:
    line = aliased(HandOverLine)
    return (
        select(literal(1))
        .select_from(line)
        .join(HandOver, line.hand_over_id == HandOver.id)
        .join(Season, HandOver.season_id == Season.id)
        .where(
            line.requirement == requirement.key,
            line.subject == found.c.subject,
            line.subject_id == found.c.id,
            *where,
        )
        .exists()
    )


def _line(session: Session, desk: Desk, season: Season, requirement: Requirement, named: int | None) -> OpenLine:
    found = _open(session, desk, season, requirement).subquery("of_the_season")
    carried, signed_for = _sum_where(found.c.season_id != season.id), _sum_where(found.c.signed)
    sums = select(func.count(), func.coalesce(func.sum(found.c.pieces), 0), carried, signed_for).select_from(found)
    many, pieces, carried_over, signed = session.execute(sums).one()
    rows = rows_in(session, desk, season, requirement, how_many=named) if many and named != 0 else ()
    return OpenLine(requirement, many, int(pieces), int(carried_over or 0), int(signed or 0), rows)


def _sum_where(condition: Any) -> Any:
    return func.sum(case((condition, 1), else_=0))


def _signed(session: Session, desk: Desk, season: Season) -> tuple[SignedList, ...]:
    first, second = aliased(Person), aliased(Person)
    rows = session.execute(
        select(HandOver, first.name, second.name)
        .join(first, HandOver.first_id == first.id)
        .join(second, HandOver.second_id == second.id)
        .where(HandOver.season_id == season.id)
        .order_by(HandOver.number.desc())
    ).all()
    still = _still_open(session, desk, season) if rows else {}
    return tuple(
        SignedList(
            id=row.id,
            number=row.number,
            season=season.name,
            signed_at=row.signed_at,
            first=by,
            second=with_whom,
            lines=row.lines,
            done=row.lines - still.get(row.id, 0),
            note=row.note,
        )
        for row, by, with_whom in rows
    )


def _still_open(session: Session, desk: Desk, season: Season) -> Mapping[int, int]:
    """Return how many lines of each list of a season are open still, by the list's id."""
    many: dict[int, int] = {}
    for one in requirements():
        found = QUESTIONS[one.question](asking(session, desk)).subquery("open")
        same = (found.c.subject == HandOverLine.subject) & (found.c.id == HandOverLine.subject_id)
        rows = session.execute(
            select(HandOverLine.hand_over_id, func.count())
            .join(HandOver, HandOverLine.hand_over_id == HandOver.id)
            .join(found, same)
            .where(HandOver.season_id == season.id, HandOverLine.requirement == one.key)
            .group_by(HandOverLine.hand_over_id)
        )
        for list_id, lines in rows:
            many[list_id] = many.get(list_id, 0) + lines
    return many
