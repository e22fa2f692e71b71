"""Objects: a coin or other find with a number of its season's series, in a container of its own with its own route."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from pathlib import Path

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.explaining import need_not_shut
from findsdesk.desk.finding import container_of
from findsdesk.desk.ledgers import enter, ledger_of, there_now
from findsdesk.desk.moving import arrived_from
from findsdesk.desk.new_containers import IssuedTag, as_tag
from findsdesk.desk.one_at_a_time import only_here
from findsdesk.desk.photos import photo_read, take_in
from findsdesk.desk.setting_up import need_text
from findsdesk.desk.shipped import material_named, routes
from findsdesk.desk.steps import take_step, write_step
from findsdesk.domain.balance import Entry
from findsdesk.domain.natural_order import folded
from findsdesk.domain.pieces import check_years
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Standing, StepKind
from findsdesk.domain.settings import Role
from findsdesk.store.models import Container, Deposit, FoundObject, Photo, Season, Square
from findsdesk.store.numbers import raise_series, take_numbers
from findsdesk.words import N_, CountOf


class Leaves(StrEnum):
    """How an object stood in the count of the container it was met in."""

    MOVED_OUT = "moved out"
    NOT_A_SHERD = "not a sherd"
    NOT_COUNTED = "not counted"
    ITSELF = "itself"
    """The container holds the object and nothing else: it becomes the object's own."""


LEAVES_IN_WORDS: dict[Leaves, str] = {
    Leaves.MOVED_OUT: N_("it was counted and is moved out"),
    Leaves.NOT_A_SHERD: N_("it was counted as a sherd and is none"),
    Leaves.NOT_COUNTED: N_("it was not counted"),
    Leaves.ITSELF: N_("the {container} is the object"),
}


@dataclass(frozen=True, slots=True)
class ObjectFacts:
    """An object as it is shown; years are astronomical; ``from_container`` is where it was met, '' where nowhere."""

    id: int
    version: int
    number: int
    season: str
    what: str
    description: str
    material: str
    """The key of its route."""
    made_of: str
    """The word for its material where somebody said more than the route does, else ''."""
    tenths: int | None
    container_id: int
    container: str
    container_code: str
    from_container: str
    deposit: str
    square: str
    earliest: int | None
    latest: int | None
    found_at: datetime
    told_at: datetime | None
    photos: int


@dataclass(frozen=True, slots=True)
class RegisteredObject:
    """An object that was registered, and the tag of its container, to be printed where it is new."""

    found: ObjectFacts
    tag: IssuedTag
    new_tag: bool


def register_object(
    desk: Desk,
    tag: str,
    *,
    what: str,
    material: str = "",
    leaves: Leaves = Leaves.MOVED_OUT,
    description: str = "",
    earliest: int | None = None,
    latest: int | None = None,
    number: int | None = None,
    tenths: int | None = None,
    photo: Path | None = None,
) -> RegisteredObject:
    """Register what was met in a container as an object of its season, in one act.

    It gets the next number (or the one given), a container of its own with a tag and the route of its ``material``
    (any word for it: coin, bronze, glass; the word stays with it), and leaves the ledger it was counted in. It stands
    on the day page until the director knows of it. What was not counted leaves a settled container, too: its count
    stays. A ``photo`` is taken in as it is by ``add_photo``. Opposite: none; an object keeps its number.
    Refusals: ``empty``, ``unknown_material``, ``range_reversed``, ``object_number_taken``, ``more_than_there``,
    ``already_settled``, those of finding the container, of its route and of ``photo_read``.
    """
    wanted = need_text(what, N_("name of the find"))
    check_years(earliest, latest)
    taken = None if photo is None else photo_read(desk, photo)
    with desk.deed("register_object") as deed:
        source = container_of(deed.session, desk, tag)
        season = deed.session.get_one(Season, source.season_id)
        numbered = _number(deed, season, number)
        own = source if leaves is Leaves.ITSELF else _taken_out(deed, source, material, leaves, tenths)
        row = deed.add(
            FoundObject(
                season_id=season.id,
                number=numbered,
                container_id=own.id,
                what=wanted,
                made_of=made_of(material),
                description=description.strip(),
                tenths=tenths,
                earliest=earliest,
                latest=latest,
                found_at=deed.happened_at,
                person_id=deed.person_id,
            )
        )
        deed.said = f"{numbered}: {wanted} ({source.number})"
        if taken is not None:
            take_in(deed, taken, ("object", row.id))
        deed.session.flush()
        return RegisteredObject(object_rows(deed.session, [row.id])[0], as_tag(own), own is not source)


def made_of(word: str) -> str:
    """Return a word for a material as it stays with an object: '' where it is but the name of a route."""
    said = " ".join(word.split())
    route = routes().get(material_named(said) or "")
    return "" if route and folded(said) in (folded(route.key), folded(route.name)) else said


def material_with_word(material: str, found: ObjectFacts) -> str:
    """Return what an object is made of: what its material is called, and the word that says more."""
    return f"{material}: {found.made_of}" if found.made_of else material


def _number(deed: Deed, season: Season, number: int | None) -> int:
    series = f"object:{season.id}"
    if number is None:
        return take_numbers(deed.session, series, 1, station_id=deed.desk.station_id)[0]
    taken = deed.session.execute(
        select(FoundObject.what).where(FoundObject.season_id == season.id, FoundObject.number == number)
    ).scalar()
    if taken is not None or number < 1:
        raise Refusal(
            "object_number_taken",
            N_("Object {number} of season {season} exists already. Leave the number out for the next free one."),
            number=number,
            season=season.name,
        )
    raise_series(deed.session, series, number)
    return number


def _taken_out(deed: Deed, source: Container, material: str, leaves: Leaves, tenths: int | None) -> Container:
    """Let the object leave the container it was met in for one of its own."""
    route = material_named(material)
    if route is None:
        raise Refusal(
            "unknown_material",
            N_("“{material}” is not a material of this yard. Choose one of: {known}."),
            material=material.strip(),
            known=", ".join(routes()),
        )
    only_here(deed, source)
    changes_no_count = leaves is Leaves.NOT_COUNTED and Standing(source.standing) in (Standing.SETTLED, Standing.BAGGED)
    if not changes_no_count:
        need_not_shut(source)
    ledger = ledger_of(deed.session, source.id, source.material)
    counted = leaves is not Leaves.NOT_COUNTED and ledger.expected > 0
    if counted and there_now(ledger) < 1:
        raise Refusal(
            "more_than_there",
            N_("{Container} {number} holds {pieces}. Take out {left} or fewer."),
            number=source.number,
            pieces=CountOf("{n} piece", "{n} pieces", there_now(ledger)),
            left=there_now(ledger),
        )
    (write_step if changes_no_count else take_step)(deed, source, StepKind.SPLIT, pieces=1)
    own = arrived_from(deed, source, route)
    if counted:
        leaving = Entry.NOT_A_SHERD if leaves is Leaves.NOT_A_SHERD else Entry.MOVED_OUT
        enter(deed, source, leaving, 1, tenths=tenths or 0, why=own.number, other=own)
        enter(deed, own, Entry.ARRIVED, 1, tenths=tenths or 0, why=source.number, other=source)
    return own


def know_of_objects(desk: Desk, object_ids: Sequence[int] = ()) -> int:
    """Write that the director knows of new objects (nothing named: of all); returns how many were new.

    Opposite: none. Refusal: ``not_the_director``.
    """
    if desk.person.role is not Role.DIRECTOR:
        raise Refusal("not_the_director", N_("New objects are for the director to take note of. Change who sits here."))
    with desk.deed("know_of_objects") as deed:
        rows = deed.session.execute(
            select(FoundObject).where(FoundObject.told_at.is_(None)).order_by(FoundObject.number)
        ).scalars()
        known = [row for row in rows if not object_ids or row.id in object_ids]
        for row in known:
            row.told_at = deed.happened_at
        deed.said = ", ".join(f"{row.number} {row.what}" for row in known)
    return len(known)


def new_objects(desk: Desk) -> tuple[ObjectFacts, ...]:
    """Return the objects that the director has not yet said to know of, by number."""
    with desk.reading() as reading:
        ids = reading.session.execute(
            select(FoundObject.id)
            .where(FoundObject.told_at.is_(None))
            .order_by(FoundObject.season_id, FoundObject.number)
        ).scalars()
        return object_rows(reading.session, list(ids))


def object_of(desk: Desk, number: int, season: str = "") -> ObjectFacts:
    """Return an object by its number, of the newest season that has it or of the one named.

    Refusal: ``unknown_object``.
    """
    with desk.reading() as reading:
        found = select(FoundObject.id).join(Season, FoundObject.season_id == Season.id)
        found = found.where(FoundObject.number == number).order_by(Season.starts.desc())
        if season:
            found = found.where(Season.name == season)
        row_id = reading.session.execute(found.limit(1)).scalar()
        if row_id is None:
            raise Refusal(
                "unknown_object", N_("There is no object {number}. Look at the register of objects."), number=number
            )
        return object_rows(reading.session, [row_id])[0]


def object_rows(session: Session, ids: Sequence[int]) -> tuple[ObjectFacts, ...]:
    """Return objects by their ids, in that order; those that are gone are left out."""
    found = session.execute(
        select(FoundObject, Container, Season.name, Deposit.number, Square.name)
        .join(Container, FoundObject.container_id == Container.id)
        .join(Season, FoundObject.season_id == Season.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .where(FoundObject.id.in_(ids))
    ).all()
    origins = _origins(session, [container.from_container_id for _row, container, *_rest in found])
    pictured = list(session.execute(select(Photo.object_id).where(Photo.object_id.in_(ids))).scalars())
    rows = {
        row.id: ObjectFacts(
            id=row.id,
            version=row.version,
            number=row.number,
            season=season,
            what=row.what,
            description=row.description,
            material=container.material,
            made_of=row.made_of,
            tenths=row.tenths,
            container_id=container.id,
            container=container.number,
            container_code=container.code,
            from_container=origins.get(container.from_container_id, ""),
            deposit=deposit or "",
            square=square or "",
            earliest=row.earliest,
            latest=row.latest,
            found_at=row.found_at,
            told_at=row.told_at,
            photos=pictured.count(row.id),
        )
        for row, container, season, deposit, square in found
    }
    return tuple(rows[row_id] for row_id in ids if row_id in rows)


def _origins(session: Session, ids: Sequence[int | None]) -> dict[int | None, str]:
    known = {row_id for row_id in ids if row_id is not None}
    found = session.execute(select(Container.id, Container.number).where(Container.id.in_(known))).all()
    return {row.id: row.number for row in found}
