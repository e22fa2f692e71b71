"""Tags: issued ahead of the day in number order, voided, come back unused, reported missing."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import ask
from findsdesk.desk.finding import container_of
from findsdesk.desk.new_containers import IssuedTag, as_tag, free_numbers, new_container, scope_of
from findsdesk.desk.setting_up import person_named, person_or_new, season_of
from findsdesk.desk.squares import square_named
from findsdesk.desk.steps import take_step, write_step
from findsdesk.domain.near_codes import alike
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.routes import Standing, StepKind
from findsdesk.store.models import Container, Person, TagBlock
from findsdesk.words import N_

MOST_TAGS_AT_ONCE = 1000


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
    sure: bool = False,
) -> IssuedBlock:
    """Issue a block of tags in number order, so that a missing one is known.

    Refusals: ``tags_at_once``; ``new_person`` is a question, asked where the name resembles one of the team.
    """
    if not 1 <= how_many <= MOST_TAGS_AT_ONCE:
        raise Refusal("tags_at_once", N_("Issue between 1 and {most} tags at once."), most=MOST_TAGS_AT_ONCE)
    with desk.deed("issue_tags") as deed:
        its_season = season_of(deed.session, deed.today(), season)
        its_square = square_named(deed.session, square) if square else None
        doubt = _mistyped(deed, supervisor)
        person = person_or_new(deed, supervisor) if doubt is None or sure else None
        scope = scope_of(its_season, its_square)
        numbers = free_numbers(deed, scope, how_many)
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
        ask(deed, doubt, sure)
    return IssuedBlock(numbers[0], numbers[-1], person.name if person else "", tuple(as_tag(row) for row in rows))


def _mistyped(deed: Deed, name: str) -> Question | None:
    """Ask about a name that nobody bears and that resembles one of the team."""
    if not name.strip() or person_named(deed.session, name) is not None:
        return None
    team = deed.session.execute(select(Person.name).where(Person.active)).scalars()
    meant = alike(name, team, most=3)
    if not meant:
        return None
    return Question(
        "new_person",
        N_("Nobody here is called {name}. Did you mean {near}? Is {name} new in the team?"),
        name=name.strip(),
        near=", ".join(meant),
    )


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


OUT = (Standing.ISSUED, Standing.LISTED, Standing.MISSING)


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
