"""A new container: its code for ever, its number within its scope, its tag as it is printed."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed
from findsdesk.desk.shipped import route_of
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.natural_order import folded, sort_key
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Standing
from findsdesk.domain.settings import NumberScope
from findsdesk.store.models import Container, Season, Square
from findsdesk.store.numbers import raise_series, take_numbers
from findsdesk.words import N_

SERIALS = "serial:T"


@dataclass(frozen=True, slots=True)
class IssuedTag:
    """A tag as it is printed: its code for ever, its number, its copy."""

    container_id: int
    code: str
    number: str
    copy: int


def as_tag(row: Container) -> IssuedTag:
    """Return a container's tag as it is printed."""
    return IssuedTag(row.id, row.code, row.number, row.tag_copy)


def new_container(
    deed: Deed,
    season: Season,
    number: str,
    *,
    material: str,
    scope: str,
    square: Square | None = None,
    standing: Standing = Standing.ISSUED,
    provisional: bool = False,
) -> Container:
    """Make the row of a new container with the next code; its number must be free in its scope.

    Refusals: ``number_taken``, ``unknown_material``.
    """
    route_of(material)
    refuse_taken(deed.session, scope, number)
    serial = take_numbers(deed.session, SERIALS, 1, station_id=deed.desk.station_id)[0]
    if number.isdecimal():
        raise_series(deed.session, number_series(scope), int(number))
    return deed.add(
        Container(
            code=make_code(deed.desk.facts.code, Kind.TAG, serial),
            season_id=season.id,
            scope=scope,
            number=number,
            number_key=sort_key(number),
            number_folded=folded(number),
            provisional=provisional,
            square_id=square.id if square else None,
            material=material,
            description="",
            standing=standing,
            on_list=False,
            tag_copy=1,
        )
    )


def scope_of(season: Season, square: Square | None) -> str:
    """Return the key of the scope within which a season's container numbers are used once."""
    if season.number_scope == NumberScope.EXCAVATION:
        return "excavation"
    if season.number_scope == NumberScope.SQUARE:
        if square is None:
            raise Refusal("square_needed", N_("Numbers run within each {square} this season. Name the {square} first."))
        return f"season {season.id} square {square.id}"
    return f"season {season.id}"


def number_series(scope: str) -> str:
    """Return the name of the series of container numbers of a scope."""
    return f"container:{scope}"


def free_numbers(deed: Deed, scope: str, how_many: int) -> list[str]:
    """Take the next numbers of a scope; those that somebody typed before their turn came are passed over."""
    free: list[str] = []
    while len(free) < how_many:
        wanted = how_many - len(free)
        some = take_numbers(deed.session, number_series(scope), wanted, station_id=deed.desk.station_id)
        numbers = [str(number) for number in some]
        typed = select(Container.number_folded).where(Container.scope == scope, Container.number_folded.in_(numbers))
        taken = set(deed.session.execute(typed).scalars())
        free += [number for number in numbers if number not in taken]
    return free


def refuse_taken(session: Session, scope: str, number: str) -> None:
    """Refuse a number that is used already in its scope, whatever became of it."""
    taken = session.execute(
        select(Container.code).where(Container.scope == scope, Container.number_folded == folded(number))
    ).scalar()
    if taken is not None:
        raise Refusal(
            "number_taken",
            N_("{Container} {number} exists already (tag {code}). Give the next free number."),
            number=number,
            code=taken,
        )
