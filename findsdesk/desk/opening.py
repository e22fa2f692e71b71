"""Opening a store and making a new one."""

from __future__ import annotations

import secrets
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from sqlalchemy import func, select
from sqlalchemy.exc import DatabaseError
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Acting, Desk, ExcavationFacts, _Shared, facts_of, real_clock
from findsdesk.desk.example_clock import ExampleClock, moment_of_last_act
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal, StoreFault
from findsdesk.domain.settings import Role, Settings
from findsdesk.store.faults import fault_from
from findsdesk.store.lock import StoreLock
from findsdesk.store.models import Excavation, Person, Station
from findsdesk.store.numbers import RowIds
from findsdesk.store.schema import bring_up, check_revision
from findsdesk.store.session import Store, is_url, store_path
from findsdesk.store.written_elsewhere import last_written_elsewhere
from findsdesk.words import N_, Terms

Clock = Callable[[], datetime]


@dataclass(frozen=True, slots=True)
class NewExcavation:
    """What a new excavation is called: site, short code of 2 or 3 letters, director, words, settings."""

    name: str
    code: str
    director: str
    time_zone: str
    terms: Terms = field(default_factory=Terms)
    settings: Settings = field(default_factory=Settings)
    example: bool = False


def new_store(
    where: str | Path, excavation: NewExcavation, *, station: str = "first", clock: Clock = real_clock
) -> Desk:
    """Make a store with its excavation and its director, and return a desk at which the director sits.

    Refusals: ``store_exists``, ``bad_short_code``, ``unknown_time_zone``; a folder that cannot be written in is a
    StoreFault.
    """
    make_code(excavation.code, Kind.TAG, 1)
    zone = _zone(excavation.time_zone)
    if not is_url(str(where)):
        _make_room(store_path(where))
    store = Store(where)
    lock = _locked(store, excavation.director, station)
    try:
        bring_up(store)
        facts = ExcavationFacts(
            excavation.name,
            excavation.code,
            excavation.director,
            zone,
            excavation.terms,
            excavation.settings,
            excavation.example,
        )
        station_id = station_named(store, station)
        director = Acting(None, excavation.director or excavation.name, Role.DIRECTOR)
        desk = Desk(store, station_id, station, director, clock, _Shared(lock, facts, []), RowIds(station_id))
        return desk.by(_first_rows(desk, excavation))
    except BaseException:
        _let_go(store, lock)
        raise


def _first_rows(desk: Desk, excavation: NewExcavation) -> Acting:
    with desk.deed("new_excavation") as deed:
        deed.add(
            Excavation(
                name=excavation.name,
                code=excavation.code,
                director=excavation.director,
                time_zone=excavation.time_zone,
                terms={name: getattr(excavation.terms, name) for name in Terms._fields},
                settings=excavation.settings.as_plain(),
                example=excavation.example,
            )
        )
        director = deed.add(Person(name=excavation.director or excavation.name, role=Role.DIRECTOR, active=True))
        deed.said = excavation.name
    return Acting(director.id, director.name, Role.DIRECTOR)


def open_store(
    where: str | Path,
    *,
    by: str | None = None,
    station: str = "first",
    read_only: bool = False,
    clock: Clock = real_clock,
) -> Desk:
    """Open a store at a station for a person of the team (by name, or the beginning of one).

    In an example time runs on from its last act (``ExampleClock``), unless another clock is given.

    Refusals: ``no_store``, ``newer_store``, ``other_state``, ``store_in_use``, ``unknown_person``; StoreFaults:
    ``damaged``, ``not_a_store``, ``read_only``.
    """
    store = Store(where, read_only=read_only)
    if store.path is not None and not _is_there(store.path):
        raise Refusal(
            "no_store", N_("There is no store at {path}. Check the name, or make a new one."), path=str(store.path)
        )
    lock = None if read_only else _locked(store, by or "?", station)
    try:
        _bring_up_if_older(store, clock)
        station_id = station_named(store, station) if not read_only else 0
        with store.reading() as session:
            facts = facts_of(session)
            person = find_person(session, by)
            others_wrote = last_written_elsewhere(session)
            if facts.example and clock is real_clock:
                clock = ExampleClock(moment_of_last_act(session) or clock())
        shared = _Shared(lock, facts, [], others_wrote=others_wrote)
        return Desk(store, station_id, station, person, clock, shared, RowIds(station_id))
    except BaseException as error:
        _let_go(store, lock)
        fault = fault_from(error) if isinstance(error, DatabaseError) else None
        if fault is not None:
            raise fault from error
        raise


def _bring_up_if_older(store: Store, clock: Clock) -> None:
    from findsdesk.store.backup import copy_store

    if check_revision(store) and not store.read_only:
        if store.path is not None:
            copy_store(store.path, clock(), "before-upgrade")
        bring_up(store)


def _make_room(path: Path) -> None:
    if _is_there(path):
        raise Refusal(
            "store_exists", N_("There is already a store at {path}. Open it, or choose another name."), path=str(path)
        )
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.with_suffix(".lock").touch()
    except OSError as error:
        raise StoreFault(
            "read_only", N_("Nothing can be written in {folder}. Choose another folder."), folder=str(path.parent)
        ) from error


def _is_there(path: Path) -> bool:
    """Tell whether a file is there; a folder that may not even be entered is a StoreFault ``cannot_open``."""
    try:
        return path.is_file()
    except PermissionError as error:
        raise StoreFault(
            "cannot_open",
            N_("You have no right to open {folder}. Ask for it, or choose another folder."),
            folder=str(path.parent),
        ) from error


def _locked(store: Store, person: str, station: str) -> StoreLock | None:
    if store.path is None:
        return None
    lock = StoreLock(store.path)
    try:
        lock.take(person=person, station=station)
    except PermissionError as error:
        raise StoreFault(
            "read_only", N_("Nothing can be written in {folder}. Choose another folder."), folder=str(store.path.parent)
        ) from error
    return lock


def _let_go(store: Store, lock: StoreLock | None) -> None:
    store.close()
    if lock is not None:
        lock.release()


def _zone(name: str) -> ZoneInfo:
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError) as error:
        raise Refusal(
            "unknown_time_zone", N_("{zone} is no time zone. Write one like Etc/GMT-2 or a region and city."), zone=name
        ) from error


def station_named(store: Store, name: str) -> int:
    """Return the number of a station; one not met before is given the next, or any where stores were parted.

    Refusal: ``station_elsewhere``, for a station that writes in a store of its own.
    """
    with store.writing() as session:
        found = session.execute(select(Station.id, Station.elsewhere).where(Station.name == name)).one_or_none()
        if found is not None:
            if found.elsewhere:
                raise _writes_elsewhere(session, name)
            return int(found.id)
        station_id = _new_station(session)
        session.add(Station(id=station_id, name=name, running=0, head="", next_row=1))
        return station_id


_STATIONS = 1 << 17
"""Rows carry their station's number above 40 bits and below the bit of what follows from others (``is_answer``)."""


def _new_station(session: Session) -> int:
    """Return a number for a new station: the next, or after stores were parted one that the others will not give."""
    last = session.execute(select(func.max(Station.id))).scalar() or 0
    if session.execute(select(Station.id).where(Station.elsewhere).limit(1)).first() is None:
        return last + 1
    while True:
        number = secrets.randbelow(_STATIONS - 2_000) + 2_000
        if session.get(Station, number) is None:
            return number


def _writes_elsewhere(session: Session, name: str) -> Refusal:
    here = session.execute(select(Station.name).where(~Station.elsewhere).order_by(Station.id)).scalars().all()
    return Refusal(
        "station_elsewhere",
        N_("{station} writes in a store of its own. Here it is {here}: add --station, or call the station back."),
        station=name,
        here=", ".join(here) or "–",
    )


def at_station(desk: Desk, name: str) -> Desk:
    """Return the desk as it stands at another station of the same store, with that station's own chain."""
    if name == desk.station_name:
        return desk
    station_id = station_named(desk.store, name)
    return replace(desk, station_id=station_id, station_name=name, row_ids=RowIds(station_id))


def find_person(session: Session, name: str | None) -> Acting:
    """Return the person meant by a name or the beginning of one; nobody named means the director."""
    people = session.execute(select(Person).where(Person.active).order_by(Person.id)).scalars().all()
    if name is None:
        chosen = [person for person in people if person.role == Role.DIRECTOR][:1] or list(people[:1])
    else:
        wanted = folded(name)
        chosen = [person for person in people if folded(person.name) == wanted]
        chosen = chosen or [person for person in people if folded(person.name).startswith(wanted)]
    if len(chosen) != 1:
        raise Refusal(
            "unknown_person",
            N_("Nobody here is called {name}. The team: {people}."),
            name=name or "",
            people=", ".join(person.name for person in people),
        )
    return Acting(chosen[0].id, chosen[0].name, Role(chosen[0].role))
