"""Changing what was set up: seasons, squares, people, wares, periods, each seen in a version; papers follow."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import refuse_if_moved
from findsdesk.desk.redoing import Asked, ask_to_redo, papers_of
from findsdesk.desk.retention import carry_code
from findsdesk.desk.setting_up import (
    PeriodFacts,
    PersonFacts,
    SeasonFacts,
    WareFacts,
    check_season_days,
    check_years,
    need_text,
    period_facts,
    person_facts,
    refuse_second,
    season_facts,
    ware_facts,
)
from findsdesk.desk.squares import SquareFacts, square_named
from findsdesk.domain.marks import check_pattern
from findsdesk.domain.natural_order import folded, sort_key
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.settings import NumberScope, Role
from findsdesk.store.models import Container, Period, Person, Season, Square, Ware
from findsdesk.words import N_

Row = Season | Square | Person | Ware | Period


@dataclass(frozen=True, slots=True)
class ChangedSeason:
    """A season after a change, and how much is to be written again."""

    season: SeasonFacts
    asked: Asked


@dataclass(frozen=True, slots=True)
class ChangedPerson:
    """Somebody after a change, and how much is to be written again."""

    person: PersonFacts
    asked: Asked


def change_season(
    desk: Desk,
    name: str,
    *,
    seen: int | None = None,
    to: str | None = None,
    permit: str | None = None,
    starts: date | None = None,
    ends: date | None = None,
    number_scope: NumberScope | None = None,
    mark_pattern: str | None = None,
) -> ChangedSeason:
    """Change facts of a season; ``to`` is its new name, what is not named stays. Opposite: the change back.

    Labels and marks that say something else afterwards come out as things to redo. Refusals: ``unknown_season``,
    ``empty``, ``already_there``, ``season_dates``, ``scope_in_use``, those of a mark pattern, ``changed_meanwhile``.
    """
    if mark_pattern is not None:
        check_pattern(mark_pattern)
    with desk.deed("change_season") as deed:
        row = _named(deed.session, Season, Season.name == name.strip(), "unknown_season", _NO_SEASON, name)
        said = {
            "name": need_text(to, N_("name of the season")),
            "permit": permit.strip() if permit is not None else None,
            "starts": starts,
            "ends": ends,
            "number_scope": number_scope,
            "mark_pattern": mark_pattern,
        }
        mine = _mine(deed.session, row, said, seen)
        if "name" in mine:
            refuse_second(deed.session, Season, Season.name == mine["name"], mine["name"])
        if "number_scope" in mine:
            _refuse_scope_in_use(deed.session, row)
        check_season_days(mine.get("starts", row.starts), mine.get("ends", row.ends))
        before = papers_of(deed.session, desk.facts, _containers(deed.session, Container.season_id == row.id))
        _write(deed, row, mine, name.strip())
        asked = ask_to_redo(deed, before, deed.said)
        return ChangedSeason(season_facts(row), asked)


@dataclass(frozen=True, slots=True)
class ChangedSquare:
    """A square after a change, and how much is to be written again."""

    square: SquareFacts
    asked: Asked


def change_square(desk: Desk, name: str, *, to: str, seen: int | None = None) -> ChangedSquare:
    """Give a square another name; tags, labels and marks that say the old one come out as things to redo.

    Opposite: the change back. Refusals: ``unknown_square``, ``empty``, ``already_there``, ``changed_meanwhile``.
    """
    with desk.deed("change_square") as deed:
        row = square_named(deed.session, name)
        mine = _mine(deed.session, row, {"name": need_text(to, N_("name"))}, seen)
        if "name" in mine:
            _refuse_namesake(deed.session, row, mine["name"])
            mine |= {"name_key": sort_key(mine["name"])}
        before = papers_of(deed.session, desk.facts, _containers(deed.session, Container.square_id == row.id))
        was = row.name
        for key, value in mine.items():
            setattr(row, key, value)
        deed.said = f"{was} → {row.name}"
        deed.session.flush()
        asked = ask_to_redo(deed, before, deed.said)
        return ChangedSquare(SquareFacts(row.id, row.name, row.version), asked)


def change_person(
    desk: Desk,
    name: str,
    *,
    seen: int | None = None,
    to: str | None = None,
    role: Role | None = None,
    active: bool | None = None,
) -> ChangedPerson:
    """Change somebody's name or role, or let them leave (``active`` no) and come back. Opposite: the change back.

    Refusals: ``unknown_person``, ``empty``, ``already_there``, ``last_director``, ``changed_meanwhile``.
    """
    with desk.deed("change_person") as deed:
        row = _person(deed.session, name)
        mine = _mine(
            deed.session, row, {"name": need_text(to, N_("name of the person")), "role": role, "active": active}, seen
        )
        if "name" in mine:
            _refuse_namesake(deed.session, row, mine["name"])
        _refuse_last_director(deed.session, row, mine)
        before = papers_of(deed.session, desk.facts, _containers(deed.session, Container.supervisor_id == row.id))
        _write(deed, row, mine, name.strip())
        asked = ask_to_redo(deed, before, deed.said)
        return ChangedPerson(person_facts(row), asked)


def change_ware(
    desk: Desk,
    code: str,
    *,
    seen: int | None = None,
    to: str | None = None,
    name: str | None = None,
    earliest: int | None = None,
    latest: int | None = None,
    source: str | None = None,
    note: str | None = None,
) -> WareFacts:
    """Change a ware's code (``to``), name, years or source; what is not named stays. Opposite: the change back.

    Refusals: ``unknown_ware``, ``empty``, ``already_there``, ``years_reversed``, ``changed_meanwhile``.
    """
    with desk.deed("change_ware") as deed:
        row = _named(deed.session, Ware, Ware.code == code.strip().upper(), "unknown_ware", _NO_WARE, code)
        wanted = need_text(to, N_("code of the ware"))
        said = {
            "code": wanted.upper() if wanted else None,
            "name": name,
            "earliest": earliest,
            "latest": latest,
            "source": source,
            "note": note,
        }
        mine = _mine(deed.session, row, said, seen)
        if "code" in mine:
            refuse_second(deed.session, Ware, Ware.code == mine["code"], mine["code"])
            carry_code(deed, "wares", row.code, mine["code"])
        check_years(mine.get("earliest", row.earliest), mine.get("latest", row.latest))
        _write(deed, row, mine, row.code)
        return ware_facts(row)


def change_period(
    desk: Desk,
    code: str,
    *,
    seen: int | None = None,
    to: str | None = None,
    name: str | None = None,
    earliest: int | None = None,
    latest: int | None = None,
) -> PeriodFacts:
    """Change a period's code (``to``), name or years; what is not named stays. Opposite: the change back.

    Refusals: ``unknown_period``, ``empty``, ``already_there``, ``years_reversed``, ``changed_meanwhile``.
    """
    with desk.deed("change_period") as deed:
        row = _named(deed.session, Period, Period.code == code.strip(), "unknown_period", _NO_PERIOD, code)
        wanted = need_text(to, N_("code of the period"))
        said = {"code": wanted, "name": name, "earliest": earliest, "latest": latest}
        mine = _mine(deed.session, row, said, seen)
        if "code" in mine:
            refuse_second(deed.session, Period, Period.code == mine["code"], mine["code"])
        check_years(mine.get("earliest", row.earliest), mine.get("latest", row.latest))
        _write(deed, row, mine, row.code)
        return period_facts(row)


_NO_SEASON = N_("There is no season {name}. Look at the list of seasons.")
_NO_WARE = N_("There is no ware {name}. Look at the list of wares.")
_NO_PERIOD = N_("There is no period {name}. Look at the list of periods.")


def _named(session: Session, model: type[Any], same: Any, code: str, text: str, name: str) -> Any:
    row = session.execute(select(model).where(same)).scalar_one_or_none()
    if row is None:
        raise Refusal(code, text, name=name.strip())
    return row


def _person(session: Session, name: str) -> Person:
    wanted = folded(name)
    for row in session.execute(select(Person)).scalars():
        if folded(row.name) == wanted:
            return row
    raise Refusal("unknown_person", N_("There is nobody called {name} in the team."), name=name.strip())


def _mine(session: Session, row: Row, said: Mapping[str, Any], seen: int | None) -> dict[str, Any]:
    """Return what truly differs from the row; refuses what somebody else changed since it was seen."""
    plain = {key: value.strip() if isinstance(value, str) else value for key, value in said.items()}
    wanted = {key: value for key, value in plain.items() if value is not None}
    if seen is not None:
        refuse_if_moved(session, row, seen, wanted)
    return {key: value for key, value in wanted.items() if value != getattr(row, key)}


def _write(deed: Deed, row: Row, mine: Mapping[str, Any], was: str) -> None:
    for key, value in mine.items():
        setattr(row, key, value)
    deed.said = f"{was}: {', '.join(mine)}" if mine else was
    deed.session.flush()


def _containers(session: Session, those: Any) -> list[int]:
    return list(session.execute(select(Container.id).where(those).order_by(Container.id)).scalars())


def _refuse_scope_in_use(session: Session, season: Season) -> None:
    used = session.execute(select(Container.number).where(Container.season_id == season.id).limit(1)).scalar()
    if used is not None:
        raise Refusal(
            "scope_in_use",
            N_("Season {season} has {containers} already, so how they are numbered stays as it is."),
            season=season.name,
        )


def _refuse_namesake(session: Session, row: Person | Square, name: str) -> None:
    model: type[Any] = type(row)
    for other in session.execute(select(model).where(model.id != row.id)).scalars():
        if folded(other.name) == folded(name):
            raise Refusal("already_there", N_("{name} is already there."), name=other.name)


def _refuse_last_director(session: Session, row: Person, mine: Mapping[str, Any]) -> None:
    """Refuse to leave the excavation without anybody who directs it."""
    stays = mine.get("active", row.active) and mine.get("role", row.role) == Role.DIRECTOR
    if row.role != Role.DIRECTOR or not row.active or stays:
        return
    others = select(Person.id).where(Person.role == Role.DIRECTOR, Person.active, Person.id != row.id)
    if session.execute(others.limit(1)).first() is None:
        raise Refusal("last_director", N_("{name} is the only director. Name another one first."), name=row.name)
