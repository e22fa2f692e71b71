"""Field lists: looked at first, then taken in; rows with a question are set aside and answered one by one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path
from typing import cast

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.finding import deposit_of
from findsdesk.desk.list_checks import CheckedRow, Fate, check_rows, known_names
from findsdesk.desk.setting_up import person_or_new, season_of
from findsdesk.desk.steps import write_step
from findsdesk.desk.tags import IssuedTag, as_tag, new_container, scope_of, square_named
from findsdesk.domain.field_lists import (
    DayOrder,
    DecimalSign,
    FieldList,
    ListedRow,
    column_of,
    identifier_key,
    match_columns,
    read_field_list,
)
from findsdesk.domain.raw_tables import RawTable
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.settings import NumberScope
from findsdesk.domain.standings import NOT_YET_HERE, Standing, StepKind, after
from findsdesk.exchange.tables import read_table
from findsdesk.store.models import ColumnMatch, Container, Part, RowSetAside, Season, Square, TakenList
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class ListLook:
    """A field list as it was looked at: nothing is written yet."""

    file_name: str
    table: RawTable
    listed: FieldList
    season: str
    rows: tuple[CheckedRow, ...]
    taken_before: datetime | None

    def with_fate(self, fate: Fate) -> tuple[CheckedRow, ...]:
        """Return the rows of one fate."""
        return tuple(row for row in self.rows if row.fate is fate)


@dataclass(frozen=True, slots=True)
class ListTaken:
    """What taking a list in did."""

    file_name: str
    taken: tuple[IssuedTag, ...]
    same: int
    set_aside: tuple[ListedRow, ...]


@dataclass(frozen=True, slots=True)
class AsideRow:
    """A row set aside with its open questions."""

    id: int
    version: int
    file_name: str
    row: ListedRow


def look_at_list(
    desk: Desk,
    path: Path,
    *,
    encoding: str | None = None,
    sheet: str | None = None,
    columns: Mapping[str, str] | None = None,
    given: Mapping[str, str] | None = None,
    day_order: DayOrder | None = None,
    decimal: DecimalSign | None = None,
    season: str | None = None,
) -> ListLook:
    """Read a field list and say what would become of each row; writes nothing.

    ``columns`` maps headers to columns where the person matched them by hand, ``given`` tells values the list lacks
    (e.g. ``{"material": "pottery"}``). Refusals and questions: those of reading a table and a field list.
    """
    with desk.reading() as reading:
        today = reading.now.astimezone(desk.facts.zone).date()
        its_season = season_of(reading.session, today, season)
        known = known_names(reading.session)
        kept = _kept_matches(reading.session)
        taken = {row.digest: row.taken_at for row in reading.session.execute(select(TakenList)).scalars()}
    table = read_table(
        path, encoding=encoding, sheet=sheet, is_known=lambda header: column_of(header, desk.terms) is not None
    )
    remembered = kept.get(_heads(table))
    match = match_columns(table.headers, desk.terms, columns or (remembered.mapping if remembered else None), given)
    listed = read_field_list(
        table,
        match,
        season=(its_season.starts, its_season.ends),
        today=today,
        terms=desk.terms,
        given=given,
        day_order=day_order,
        day_order_before=cast("DayOrder | None", remembered.day_order) if remembered else None,
        decimal=decimal,
        known=known,
        by_square=its_season.number_scope == NumberScope.SQUARE,
    )
    with desk.reading() as reading:
        rows = check_rows(reading.session, its_season, listed.rows, desk.terms)
    return ListLook(path.name, table, listed, its_season.name, rows, taken.get(table.digest))


def _heads(table: RawTable) -> str:
    return "\t".join(table.headers)


def _kept_matches(session: Session) -> dict[str, ColumnMatch]:
    return {row.headers: row for row in session.execute(select(ColumnMatch)).scalars()}


def take_in_list(desk: Desk, look: ListLook) -> ListTaken:
    """Take a list in: its clear rows become expected containers, its doubtful rows are set aside; one act.

    The same file a second time adds nothing.
    """
    with desk.deed("take_in_list") as deed:
        season = season_of(deed.session, deed.today(), look.season)
        rows = check_rows(deed.session, season, look.listed.rows, desk.terms)
        taken = [_list_row(deed, season, row) for row in rows if row.fate is Fate.NEW]
        aside = _set_aside(deed, look, [row for row in rows if row.fate is Fate.ASIDE])
        _remember_columns(deed, look)
        if taken or aside or look.taken_before is None:
            deed.add(
                TakenList(
                    digest=look.table.digest,
                    file_name=look.file_name,
                    rows_taken=len(taken),
                    rows_set_aside=len(aside),
                    taken_at=deed.happened_at,
                )
            )
        deed.said = f"{look.file_name}: {len(taken)} + {len(aside)}"
        same = sum(row.fate is Fate.SAME for row in rows)
    return ListTaken(look.file_name, tuple(as_tag(row) for row in taken), same, tuple(aside))


def import_list(
    desk: Desk,
    path: Path,
    *,
    encoding: str | None = None,
    sheet: str | None = None,
    columns: Mapping[str, str] | None = None,
    given: Mapping[str, str] | None = None,
    day_order: DayOrder | None = None,
    decimal: DecimalSign | None = None,
    season: str | None = None,
) -> ListTaken:
    """Look at a list and take it in at once, as a file of acts does."""
    look = look_at_list(
        desk,
        path,
        encoding=encoding,
        sheet=sheet,
        columns=columns,
        given=given,
        day_order=day_order,
        decimal=decimal,
        season=season,
    )
    return take_in_list(desk, look)


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
        container = _list_row(deed, its_season, checked)
        deed.said = f"{number}: {deposit}"
    return as_tag(container)


def rows_set_aside(desk: Desk) -> tuple[AsideRow, ...]:
    """Return the rows that wait for an answer, in the order of their lists."""
    with desk.reading() as reading:
        rows = reading.session.execute(
            select(RowSetAside).where(RowSetAside.answered_at.is_(None)).order_by(RowSetAside.id)
        ).scalars()
        return tuple(AsideRow(row.id, row.version, row.file_name, ListedRow.from_plain(row.row)) for row in rows)


def answer_row(
    desk: Desk,
    row_id: int,
    *,
    number: str | None = None,
    deposit: str | None = None,
    square: str | None = None,
    collected_on: date | None = None,
    material: str | None = None,
    answer: str = "",
) -> IssuedTag:
    """Answer a row set aside: as corrected here it goes in; what differs from the store replaces it there.

    Refusals: ``answered_already``, and ``still_open`` while a number, deposit or material is not known.
    """
    with desk.deed("answer_row") as deed:
        waiting = _waiting_row(deed, row_id)
        row = ListedRow.from_plain(waiting.row)
        row = replace(
            row,
            number=row.number if number is None else number.strip(),
            deposit=row.deposit if deposit is None else deposit.strip(),
            square=row.square if square is None else square.strip(),
            collected_on=collected_on or row.collected_on,
            material=row.material if material is None else material,
            doubts=(),
        )
        season = season_of(deed.session, row.collected_on or deed.today())
        checked = check_rows(deed.session, season, [row], desk.terms)[0]
        for doubt in checked.row.doubts:
            if doubt.code in ("unknown_deposit", "unknown_material") or (doubt.code == "number_taken" and not answer):
                raise Refusal(doubt.code, doubt.text, **doubt.facts)
        container = _list_row(deed, season, checked)
        waiting.answered_at, waiting.answer = deed.happened_at, answer or "as corrected"
        deed.said = f"{row.number}: {answer}"
    return as_tag(container)


def drop_row(desk: Desk, row_id: int, *, reason: str) -> None:
    """Answer a row set aside by leaving it out, with the reason."""
    if not reason.strip():
        raise Refusal("reason_needed", N_("Write why the row is left out."))
    with desk.deed("drop_row") as deed:
        waiting = _waiting_row(deed, row_id)
        waiting.answered_at, waiting.answer = deed.happened_at, reason
        deed.said = f"{waiting.row.get('number', '')}: {reason}"


def _waiting_row(deed: Deed, row_id: int) -> RowSetAside:
    waiting = deed.session.get(RowSetAside, row_id)
    if waiting is None or waiting.answered_at is not None:
        raise Refusal("answered_already", N_("This row was answered already. Nothing was changed."))
    return waiting


def _list_row(deed: Deed, season: Season, checked: CheckedRow) -> Container:
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


def _set_aside(deed: Deed, look: ListLook, rows: list[CheckedRow]) -> list[ListedRow]:
    """Set doubtful rows aside, each once: a row that waits already, or was answered already, is not asked again."""
    seen = {
        (row.digest, row.line_number)
        for row in deed.session.execute(select(RowSetAside).where(RowSetAside.digest == look.table.digest)).scalars()
    }
    asked = {
        _asked(ListedRow.from_plain(row.row))
        for row in deed.session.execute(select(RowSetAside).where(RowSetAside.answered_at.is_(None))).scalars()
    }
    fresh = [
        checked.row
        for checked in rows
        if (look.table.digest, checked.row.line) not in seen and _asked(checked.row) not in asked
    ]
    for row in fresh:
        deed.add(
            RowSetAside(
                digest=look.table.digest,
                file_name=look.file_name,
                line_number=row.line,
                row=row.as_plain(),
                doubts={"codes": [doubt.code for doubt in row.doubts]},
            )
        )
    return fresh


def _asked(row: ListedRow) -> tuple[object, ...]:
    codes = tuple(doubt.code for doubt in row.doubts)
    return (identifier_key(row.number), identifier_key(row.deposit), row.collected_on, codes)


def _remember_columns(deed: Deed, look: ListLook) -> None:
    heads = _heads(look.table)
    mapping = {look.table.headers[place]: column for column, place in look.listed.match.mapping.items()}
    kept = _kept_matches(deed.session).get(heads)
    if kept is None:
        deed.add(ColumnMatch(headers=heads, mapping=mapping, day_order=look.listed.day_order))
    elif kept.mapping != mapping:
        kept.mapping, kept.day_order = mapping, look.listed.day_order
