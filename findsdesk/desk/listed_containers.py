"""One container as the field lists it: typed by hand, or made and completed from the row of a list."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.finding import deposit_of
from findsdesk.desk.list_checks import CheckedRow, check_rows
from findsdesk.desk.new_containers import IssuedTag, as_tag, new_container, scope_of
from findsdesk.desk.setting_up import person_or_new, season_of
from findsdesk.desk.squares import square_named
from findsdesk.desk.steps import write_step
from findsdesk.domain.field_lists import ListedRow
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.standings import NOT_YET_HERE, Standing, StepKind, after
from findsdesk.store.models import Container, Part, Season, Square


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
    """Type one row of the field's list by hand. Its first doubt is a Question; with ``sure`` the row goes in."""
    with desk.deed("list_container") as deed:
        day = collected_on or deed.today()
        its_season = season_of(deed.session, day, season)
        row = ListedRow(
            0, number.strip(), deposit.strip(), square.strip(), day, supervisor, material, description, parts
        )
        checked = check_rows(deed.session, its_season, [row], desk.terms)[0]
        for doubt in checked.row.doubts:
            if doubt.code in ("unknown_deposit", "unknown_material", "number_taken"):
                raise Refusal(doubt.code, doubt.text, **doubt.facts)
            if not sure:
                raise Question(doubt.code, doubt.text, **doubt.facts)
        container = list_row(deed, its_season, checked)
        deed.said = f"{number}: {deposit}"
    return as_tag(container)


def list_row(deed: Deed, season: Season, checked: CheckedRow) -> Container:
    """Make or complete the container of a row: what the list says of it is now known."""
    row, session = checked.row, deed.session
    deposit = deposit_of(session, row.deposit) if row.deposit else None
    square = square_named(session, row.square) if row.square and deposit is None else None
    if checked.container_id is None:
        scope_square = square or (_square_of(deed, deposit.square_id) if deposit else None)
        container = new_container(
            deed, season, row.number, material=row.material, scope=scope_of(season, scope_square), square=square
        )
        session.flush()
    else:
        container = session.get_one(Container, checked.container_id)
        container.material = row.material
    if deposit is not None:
        container.deposit_id, container.square_id = deposit.id, deposit.square_id
    person = person_or_new(deed, row.supervisor)
    container.supervisor_id = person.id if person else container.supervisor_id
    container.collected_on = row.collected_on or container.collected_on
    container.description = row.description or container.description
    container.on_list = True
    container.standing = after(Standing(container.standing), StepKind.LISTED)
    write_step(deed, container, StepKind.LISTED, note=row.supervisor)
    if row.parts > 1 and Standing(container.standing) in NOT_YET_HERE:
        _expect_parts(deed, container, row.parts)
    return container


def _square_of(deed: Deed, square_id: int) -> Square:
    return deed.session.get_one(Square, square_id)


def _expect_parts(deed: Deed, container: Container, parts: int) -> None:
    there = len(deed.session.execute(select(Part.id).where(Part.container_id == container.id)).all())
    for ordinal in range(there + 1, parts + 1):
        deed.add(Part(container_id=container.id, ordinal=ordinal, place_kind="yard", place="", since=deed.happened_at))
