"""One container as the field lists it: typed by hand, or made and completed from the row of a list."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select

from findsdesk.desk.correcting_material import correct_material
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import ask
from findsdesk.desk.list_checks import CheckedRow, check_rows
from findsdesk.desk.new_containers import IssuedTag, as_tag, new_container, scope_of
from findsdesk.desk.redoing import Paper, Says, Written, ask_to_redo, papers_of
from findsdesk.desk.rehousing import to_deposit
from findsdesk.desk.setting_up import person_or_new, season_of
from findsdesk.desk.squares import square_named
from findsdesk.desk.steps import write_step
from findsdesk.domain.doubts import Doubt
from findsdesk.domain.field_lists import ListedRow
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.standings import NOT_YET_HERE, Standing, StepKind, after
from findsdesk.store.models import Container, Deposit, Part, Season, Square
from findsdesk.words import N_

NEVER_SURE = frozenset({"unknown_deposit", "unknown_material", "tag_void", "tag_unused", "joined"})
"""Doubts that no yes answers: the row itself must say something else."""


def list_container(
    desk: Desk,
    number: str,
    *,
    deposit: str,
    collected_on: date | None = None,
    supervisor: str = "",
    material: str = "pottery",
    description: str = "",
    parts: int = 1,
    square: str = "",
    season: str | None = None,
    sure: bool = False,
) -> IssuedTag:
    """Type one row of the field's list by hand. Its first doubt is a Question; with ``sure`` the row goes in.

    Refusals: ``still_open`` without number or deposit, ``unknown_deposit``, ``unknown_material``, ``number_taken``,
    and those of a number that stands for no finds (``tag_void``, ``tag_unused``, ``joined``).
    """
    with desk.deed("list_container") as deed:
        day = collected_on or deed.today()
        its_season = season_of(deed.session, day, season)
        row = ListedRow(
            0, number.strip(), deposit.strip(), square.strip(), day, supervisor, material, description, parts
        )
        refuse_open(row)
        checked = check_rows(deed.session, its_season, [row], desk.terms)[0]
        deed.said = f"{number}: {deposit}"
        for doubt in checked.row.doubts:
            if doubt.code in NEVER_SURE or doubt.code == "number_taken":
                raise as_refusal(doubt)
            ask(deed, Question(doubt.code, doubt.text, **doubt.facts), sure)
        container = list_row(deed, its_season, checked)
    return as_tag(container)


def refuse_open(row: ListedRow) -> None:
    """Refuse a row that lacks its number, deposit or material: ``still_open``."""
    for value, what in (
        (row.number, N_("number")),
        (row.deposit, N_("{deposit}")),
        (row.material, N_("material")),
    ):
        if not value:
            raise Refusal("still_open", N_("The row lacks its {what}. Write it, or leave the row out."), what=what)


def as_refusal(doubt: Doubt) -> Refusal:
    """Return a doubt that must be cleared first as a refusal."""
    return Refusal(doubt.code, doubt.text, **doubt.facts)


def list_row(deed: Deed, season: Season, checked: CheckedRow) -> Container:
    """Make or complete the container of a row: what the list says of it is now known.

    What was written by then with other facts comes out as things to redo. Refusals: those of another material.
    """
    row, session = checked.row, deed.session
    deposit = session.get_one(Deposit, checked.deposit_id) if checked.deposit_id is not None else None
    before: dict[Paper, Says] = {}
    if checked.container_id is None:
        container = _made(deed, season, row, deposit)
    else:
        container = session.get_one(Container, checked.container_id)
        before = _written_before(deed, container)
        _complete(deed, container, row, deposit)
    person = person_or_new(deed, row.supervisor)
    container.supervisor_id = person.id if person else container.supervisor_id
    container.collected_on = row.collected_on or container.collected_on
    container.description = row.description or container.description
    container.on_list = True
    container.standing = after(Standing(container.standing), StepKind.LISTED)
    write_step(deed, container, StepKind.LISTED, note=row.supervisor)
    if row.parts > 1 and Standing(container.standing) in NOT_YET_HERE:
        _expect_parts(deed, container, row.parts)
    if before:
        session.flush()
        ask_to_redo(deed, before, "field list")
    return container


def _made(deed: Deed, season: Season, row: ListedRow, deposit: Deposit | None) -> Container:
    square = square_named(deed.session, row.square) if row.square and deposit is None else None
    if deposit is not None:
        square = deed.session.get_one(Square, deposit.square_id)
    container = new_container(
        deed, season, row.number, material=row.material, scope=scope_of(season, square), square=square
    )
    container.deposit_id = deposit.id if deposit else None
    deed.session.flush()
    return container


def _complete(deed: Deed, container: Container, row: ListedRow, deposit: Deposit | None) -> None:
    if Standing(container.standing) in NOT_YET_HERE:
        container.material = row.material
    else:
        correct_material(deed, container, row.material, "field list", sure=True)
    if deposit is not None and deposit.id != container.deposit_id:
        to_deposit(deed, container, deposit)


def _written_before(deed: Deed, container: Container) -> dict[Paper, Says]:
    """Return what is written of a container: the tag says only what an earlier list said, labels and marks say all."""
    if Standing(container.standing) in NOT_YET_HERE and not container.on_list:
        return {}
    papers = papers_of(deed.session, deed.desk.facts, [container.id])
    return {paper: says for paper, says in papers.items() if container.on_list or paper[0] is not Written.TAG}


def _expect_parts(deed: Deed, container: Container, parts: int) -> None:
    there = len(deed.session.execute(select(Part.id).where(Part.container_id == container.id)).all())
    for ordinal in range(there + 1, parts + 1):
        deed.add(Part(container_id=container.id, ordinal=ordinal, place_kind="yard", place="", since=deed.happened_at))
