"""Setting up an excavation: seasons, people, periods, wares, words and settings."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.domain.marks import check_pattern
from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.settings import NumberScope, Role
from findsdesk.store.models import Period, Person, Season, Ware
from findsdesk.words import N_

DEFAULT_MARK = "{permit}\n{deposit}-{container}"


@dataclass(frozen=True, slots=True)
class SeasonFacts:
    """A season as it is set up."""

    id: int
    name: str
    permit: str
    starts: date
    ends: date
    number_scope: NumberScope
    mark_pattern: str
    version: int = 1
    """Goes back as ``seen`` with a change."""


@dataclass(frozen=True, slots=True)
class PersonFacts:
    """Somebody of the team."""

    id: int
    name: str
    role: Role
    active: bool
    version: int = 1


@dataclass(frozen=True, slots=True)
class WareFacts:
    """A ware: code, name, years (astronomical; None where open), the publication it is known from."""

    id: int
    code: str
    name: str
    earliest: int | None
    latest: int | None
    version: int = 1
    source: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class PeriodFacts:
    """A period of the excavation's list."""

    id: int
    code: str
    name: str
    earliest: int
    latest: int
    version: int = 1


def open_season(
    desk: Desk,
    *,
    name: str,
    permit: str,
    starts: date,
    ends: date,
    number_scope: NumberScope = NumberScope.SEASON,
    mark_pattern: str = DEFAULT_MARK,
) -> SeasonFacts:
    """Begin a season with its permit, dates, number scope and mark pattern."""
    check_season_days(starts, ends)
    check_pattern(mark_pattern)
    wanted = name.strip()
    _need(wanted, N_("name of the season"))
    with desk.deed("open_season") as deed:
        refuse_second(deed.session, Season, Season.name == wanted, wanted)
        season = deed.add(
            Season(
                name=wanted,
                permit=permit.strip(),
                starts=starts,
                ends=ends,
                number_scope=number_scope,
                mark_pattern=mark_pattern,
            )
        )
        deed.said = f"{wanted}, {permit}"
    return season_facts(season)


def season_facts(season: Season) -> SeasonFacts:
    """Return a season's row as plain facts."""
    return SeasonFacts(
        season.id,
        season.name,
        season.permit,
        season.starts,
        season.ends,
        NumberScope(season.number_scope),
        season.mark_pattern,
        season.version,
    )


def person_facts(row: Person) -> PersonFacts:
    """Return somebody's row as plain facts."""
    return PersonFacts(row.id, row.name, Role(row.role), row.active, row.version)


def ware_facts(row: Ware) -> WareFacts:
    """Return a ware's row as plain facts."""
    return WareFacts(row.id, row.code, row.name, row.earliest, row.latest, row.version, row.source, row.note)


def period_facts(row: Period) -> PeriodFacts:
    """Return a period's row as plain facts."""
    return PeriodFacts(row.id, row.code, row.name, row.earliest, row.latest, row.version)


def seasons(desk: Desk) -> tuple[SeasonFacts, ...]:
    """Return all seasons, the newest first."""
    with desk.reading() as reading:
        return tuple(
            season_facts(row)
            for row in reading.session.execute(select(Season).order_by(Season.starts.desc())).scalars()
        )


def season_now(desk: Desk) -> SeasonFacts | None:
    """Return the season this day falls in, or else the newest; None where there is none yet."""
    today = desk.clock().astimezone(desk.facts.zone).date()
    known = seasons(desk)
    return next((season for season in known if season.starts <= today <= season.ends), known[0] if known else None)


def season_of(session: Session, day: date, name: str | None = None) -> Season:
    """Return the season named, or the one a day falls in, or else the newest."""
    rows = session.execute(select(Season).order_by(Season.starts.desc())).scalars().all()
    if not rows:
        raise Refusal("no_season", N_("There is no season yet. Open one in Set-up first."))
    if name is not None:
        named = [row for row in rows if row.name == name]
        if not named:
            raise Refusal("unknown_season", N_("There is no season {season}."), season=name)
        return named[0]
    return next((row for row in rows if row.starts <= day <= row.ends), rows[0])


def add_person(desk: Desk, *, name: str, role: Role) -> PersonFacts:
    """Take somebody into the team."""
    wanted = name.strip()
    _need(wanted, N_("name of the person"))
    with desk.deed("add_person") as deed:
        for person in deed.session.execute(select(Person)).scalars():
            if folded(person.name) == folded(wanted):
                raise Refusal("already_there", N_("{name} is already there."), name=person.name)
        row = deed.add(Person(name=wanted, role=role, active=True))
        deed.said = f"{wanted}, {role}"
    return person_facts(row)


def people(desk: Desk) -> tuple[PersonFacts, ...]:
    """Return the team in the order in which they joined."""
    with desk.reading() as reading:
        rows = reading.session.execute(select(Person).order_by(Person.id)).scalars()
        return tuple(person_facts(row) for row in rows)


def person_named(session: Session, name: str) -> Person | None:
    """Return the person of that name, or the only one whose name begins so."""
    wanted = folded(name)
    if not wanted:
        return None
    rows = session.execute(select(Person)).scalars().all()
    same = [row for row in rows if folded(row.name) == wanted] or [
        row for row in rows if folded(row.name).startswith(wanted)
    ]
    return same[0] if len(same) == 1 else None


def person_or_new(deed: Deed, name: str) -> Person | None:
    """Return the person a field list names; a name not met before joins the team as supervisor."""
    if not name.strip():
        return None
    found = person_named(deed.session, name)
    if found is None:
        found = deed.add(Person(name=name.strip(), role=Role.SUPERVISOR, active=True))
        deed.session.flush()
    return found


def add_ware(
    desk: Desk,
    *,
    code: str,
    name: str,
    earliest: int | None = None,
    latest: int | None = None,
    source: str = "",
    note: str = "",
) -> WareFacts:
    """Add a ware with its code, years (astronomical: 0 is 1 BCE) and the publication it is known from."""
    wanted = code.strip().upper()
    _need(wanted, N_("code of the ware"))
    check_years(earliest, latest)
    with desk.deed("add_ware") as deed:
        refuse_second(deed.session, Ware, Ware.code == wanted, wanted)
        row = deed.add(
            Ware(
                code=wanted,
                name=name.strip(),
                earliest=earliest,
                latest=latest,
                source=source.strip(),
                note=note.strip(),
            )
        )
        deed.said = wanted
    return ware_facts(row)


def wares(desk: Desk) -> tuple[WareFacts, ...]:
    """Return the wares by code, those left out whose place another took."""
    with desk.reading() as reading:
        rows = reading.session.execute(select(Ware).where(Ware.merged_into_id.is_(None)).order_by(Ware.code)).scalars()
        return tuple(ware_facts(row) for row in rows)


def add_period(desk: Desk, *, code: str, name: str, earliest: int, latest: int) -> PeriodFacts:
    """Add a period to the end of the excavation's list."""
    wanted = code.strip()
    _need(wanted, N_("code of the period"))
    check_years(earliest, latest)
    with desk.deed("add_period") as deed:
        refuse_second(deed.session, Period, Period.code == wanted, wanted)
        position = len(deed.session.execute(select(Period.id)).all()) + 1
        row = deed.add(Period(code=wanted, name=name.strip(), earliest=earliest, latest=latest, position=position))
        deed.said = wanted
    return period_facts(row)


def periods(desk: Desk) -> tuple[PeriodFacts, ...]:
    """Return the periods in the order of the excavation's list."""
    with desk.reading() as reading:
        rows = reading.session.execute(select(Period).order_by(Period.position)).scalars()
        return tuple(period_facts(row) for row in rows)


def need_text(value: str | None, what: str) -> str | None:
    """Return a text without blanks around it, or None where none was given; refuses an empty one (``empty``)."""
    if value is not None:
        _need(value.strip(), what)
    return value.strip() if value is not None else None


def check_season_days(starts: date, ends: date) -> None:
    """Refuse a season that ends before it starts: ``season_dates``."""
    if ends < starts:
        raise Refusal(
            "season_dates", N_("A season cannot end ({ends}) before it starts ({starts})."), starts=starts, ends=ends
        )


def _need(value: str, what: str) -> None:
    if not value:
        raise Refusal("empty", N_("Write the {what} first."), what=what)


def check_years(earliest: int | None, latest: int | None) -> None:
    """Refuse years that end before they begin: ``years_reversed``."""
    if earliest is not None and latest is not None and latest < earliest:
        raise Refusal(
            "years_reversed",
            N_("The years end ({latest}) before they begin ({earliest})."),
            earliest=earliest,
            latest=latest,
        )


def refuse_second(session: Session, model: type[Season] | type[Ware] | type[Period], same: object, name: str) -> None:
    """Refuse a name or code that another one has: ``already_there``."""
    if session.execute(select(model.id).where(same)).first() is not None:  # type: ignore[arg-type]
        raise Refusal("already_there", N_("{name} is already there."), name=name)
