"""Tags: issued ahead of the day in number order, voided, come back unused, reprinted, swapped, lost and found."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.finding import container_of, deposit_of
from findsdesk.desk.setting_up import person_or_new, season_of
from findsdesk.desk.steps import take_step, write_step
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.natural_order import folded, sort_key
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Standing, StepKind
from findsdesk.domain.settings import NumberScope
from findsdesk.store.models import Container, Person, Season, Square, TagBlock
from findsdesk.store.numbers import raise_series, take_numbers
from findsdesk.words import N_

MOST_TAGS_AT_ONCE = 1000
SERIALS = "serial:T"


@dataclass(frozen=True, slots=True)
class IssuedTag:
    """A tag as it is printed: its code for ever, its number, its copy."""

    container_id: int
    code: str
    number: str
    copy: int


@dataclass(frozen=True, slots=True)
class IssuedBlock:
    """A block of tags handed to one supervisor."""

    first_number: str
    last_number: str
    supervisor: str
    tags: tuple[IssuedTag, ...]


def issue_tags(
    desk: Desk,
    *,
    how_many: int,
    supervisor: str = "",
    material: str = "pottery",
    season: str | None = None,
    square: str | None = None,
) -> IssuedBlock:
    """Issue a block of tags in number order, so that a missing one is known. Refusals: ``tags_at_once``."""
    if not 1 <= how_many <= MOST_TAGS_AT_ONCE:
        raise Refusal("tags_at_once", N_("Issue between 1 and {most} tags at once."), most=MOST_TAGS_AT_ONCE)
    with desk.deed("issue_tags") as deed:
        its_season = season_of(deed.session, deed.today(), season)
        its_square = square_named(deed.session, square) if square else None
        person = person_or_new(deed, supervisor)
        numbers = _free_numbers(deed, its_season, its_square, how_many)
        block = deed.add(
            TagBlock(
                season_id=its_season.id,
                supervisor_id=person.id if person else None,
                square_id=its_square.id if its_square else None,
                first_number=numbers[0],
                last_number=numbers[-1],
                issued_at=deed.happened_at,
            )
        )
        deed.session.flush()
        scope = scope_of(its_season, its_square)
        rows = [
            new_container(deed, its_season, number, material=material, scope=scope, square=its_square)
            for number in numbers
        ]
        for row in rows:
            row.block_id = block.id
            row.supervisor_id = block.supervisor_id
        deed.session.flush()
        for row in rows:
            write_step(deed, row, StepKind.ISSUED, note=person.name if person else "")
        deed.said = f"{numbers[0]}–{numbers[-1]}"
    return IssuedBlock(numbers[0], numbers[-1], person.name if person else "", tuple(as_tag(row) for row in rows))


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
    """Make the row of a new container with the next code; its number must be free in its scope."""
    refuse_taken(deed.session, scope, number)
    serial = take_numbers(deed.session, SERIALS, 1, station_id=deed.desk.station_id)[0]
    if number.isdigit():
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


def square_named(session: Session, name: str) -> Square:
    """Return the square of a name, however it is written; raises ``unknown_square``."""
    wanted = folded(name)
    for row in session.execute(select(Square)).scalars():
        if folded(row.name) == wanted:
            return row
    raise Refusal(
        "unknown_square", N_("There is no {square} {name}. Add it in Set-up, or check the name."), name=name.strip()
    )


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


def _free_numbers(deed: Deed, season: Season, square: Square | None, how_many: int) -> list[str]:
    series = number_series(scope_of(season, square))
    return [str(number) for number in take_numbers(deed.session, series, how_many, station_id=deed.desk.station_id)]


def void_tag(desk: Desk, tag: str, *, reason: str) -> IssuedTag:
    """Void a tag that will never be used, with a reason; its number is not given again."""
    if not reason.strip():
        raise Refusal("reason_needed", N_("Write why the tag is voided."))
    with desk.deed("void_tag") as deed:
        row = container_of(deed.session, desk, tag)
        take_step(deed, row, StepKind.VOIDED, note=reason)
        deed.said = f"{row.number}: {reason}"
    return as_tag(row)


def return_unused(desk: Desk, tag: str) -> IssuedTag:
    """Take back a tag that the field did not use; its number stays a known gap."""
    with desk.deed("return_unused") as deed:
        row = container_of(deed.session, desk, tag)
        take_step(deed, row, StepKind.UNUSED)
        deed.said = row.number
    return as_tag(row)


def report_missing(desk: Desk, tag: str, *, note: str = "") -> IssuedTag:
    """Report that a container was expected and is not here; it stays on the missing list until it arrives."""
    with desk.deed("report_missing") as deed:
        row = container_of(deed.session, desk, tag)
        take_step(deed, row, StepKind.MISSING, note=note)
        deed.said = row.number
    return as_tag(row)


def register_untagged(
    desk: Desk,
    *,
    material: str = "pottery",
    neighbours: str = "",
    deposit: str | None = None,
    season: str | None = None,
) -> IssuedTag:
    """Register a find that came without a readable tag under a provisional number, with its neighbours noted."""
    with desk.deed("register_untagged") as deed:
        its_season = season_of(deed.session, deed.today(), season)
        number = _provisional_number(deed, its_season)
        row = new_container(
            deed, its_season, number, material=material, scope=f"provisional {its_season.id}", provisional=True
        )
        if deposit:
            found = deposit_of(deed.session, deposit)
            row.deposit_id, row.square_id = found.id, found.square_id
        row.arrived_at = deed.happened_at
        row.collected_on = deed.today()
        deed.session.flush()
        write_step(deed, row, StepKind.ISSUED, note=neighbours)
        take_step(deed, row, StepKind.ARRIVED, note=neighbours)
        deed.said = number
    return as_tag(row)


def _provisional_number(deed: Deed, season: Season) -> str:
    number = take_numbers(deed.session, f"provisional:{season.id}", 1, station_id=deed.desk.station_id)[0]
    return f"P{number}"


def attribute(desk: Desk, provisional: str, *, to: str, reason: str) -> IssuedTag:
    """Say which issued container a provisional find is: it takes that number, and the lost tag is voided."""
    with desk.deed("attribute") as deed:
        find = container_of(deed.session, desk, provisional)
        lost = container_of(deed.session, desk, to)
        if not find.provisional:
            raise Refusal("not_provisional", N_("{Container} {number} has its own number already."), number=find.number)
        if Standing(lost.standing) not in (Standing.ISSUED, Standing.LISTED, Standing.MISSING):
            raise Refusal(
                "already_here", N_("{Container} {number} is here already under its own tag."), number=lost.number
            )
        take_step(deed, lost, StepKind.VOIDED, note=f"{find.code}: {reason}")
        number = lost.number
        lost.number = f"{number} (tag lost)"
        lost.number_key, lost.number_folded = sort_key(lost.number), folded(lost.number)
        deed.session.flush()
        find.scope, find.number, find.number_key, find.number_folded = (
            lost.scope,
            number,
            sort_key(number),
            folded(number),
        )
        find.deposit_id, find.square_id = lost.deposit_id, lost.square_id
        find.collected_on, find.supervisor_id = lost.collected_on or find.collected_on, lost.supervisor_id
        find.provisional, find.on_list = False, lost.on_list
        write_step(deed, find, StepKind.ATTRIBUTED, note=reason)
        deed.said = f"{provisional} = {number}"
    return as_tag(find)


@dataclass(frozen=True, slots=True)
class UnaccountedTag:
    """A tag that is out and whose container is not here."""

    container_id: int
    code: str
    number: str
    deposit: str
    square: str
    standing: Standing
    supervisor: str
    since: datetime | None


OUT = (Standing.ISSUED, Standing.LISTED, Standing.MISSING)


def count_unaccounted(session: Session) -> int:
    """Return how many containers were listed or reported missing and are not here."""
    return session.execute(
        select(func.count()).select_from(Container).where(Container.standing.in_((Standing.LISTED, Standing.MISSING)))
    ).scalar_one()


def blocks(desk: Desk) -> tuple[IssuedBlock, ...]:
    """Return the blocks of tags issued, the newest first, each with its tags that are still out."""
    with desk.reading() as reading:
        rows = reading.session.execute(
            select(TagBlock, Person.name)
            .outerjoin(Person, TagBlock.supervisor_id == Person.id)
            .order_by(TagBlock.issued_at.desc())
        ).all()
        return tuple(
            IssuedBlock(block.first_number, block.last_number, name or "", _tags_out(reading.session, block.id))
            for block, name in rows
        )


def _tags_out(session: Session, block_id: int) -> tuple[IssuedTag, ...]:
    rows = session.execute(
        select(Container)
        .where(Container.block_id == block_id, Container.standing.in_(OUT))
        .order_by(Container.number_key)
    ).scalars()
    return tuple(as_tag(row) for row in rows)
