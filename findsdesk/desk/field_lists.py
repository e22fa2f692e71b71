"""Field lists: looked at first, then taken in; rows with a question are set aside (``rows_set_aside``)."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Unpack, cast

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.how_read import HowListRead
from findsdesk.desk.list_checks import CheckedRow, Fate, check_rows, known_names
from findsdesk.desk.listed_containers import list_row
from findsdesk.desk.new_containers import IssuedTag, as_tag
from findsdesk.desk.rows_set_aside import set_aside
from findsdesk.desk.setting_up import season_of
from findsdesk.domain.field_lists import (
    DayOrder,
    FieldList,
    ListedRow,
    column_of,
    match_columns,
    read_field_list,
)
from findsdesk.domain.raw_tables import RawTable
from findsdesk.domain.settings import NumberScope
from findsdesk.exchange.tables import read_table
from findsdesk.store.models import ColumnMatch, TakenList


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


def look_at_list(desk: Desk, path: Path, **how: Unpack[HowListRead]) -> ListLook:
    """Read a field list and say what would become of each row; writes nothing.

    Refusals and questions: those of reading a table and a field list.
    """
    given = how.get("given")
    with desk.reading() as reading:
        today = reading.now.astimezone(desk.facts.zone).date()
        its_season = season_of(reading.session, today, how.get("season"))
        known = known_names(reading.session)
        kept = _kept_matches(reading.session)
        taken = {row.digest: row.taken_at for row in reading.session.execute(select(TakenList)).scalars()}
    table = read_table(
        path,
        encoding=how.get("encoding"),
        sheet=how.get("sheet"),
        is_known=lambda header: column_of(header, desk.terms) is not None,
    )
    remembered = kept.get(_heads(table))
    columns = how.get("columns") or (remembered.mapping if remembered else None)
    match = match_columns(table.headers, desk.terms, columns, given)
    listed = read_field_list(
        table,
        match,
        season=(its_season.starts, its_season.ends),
        today=today,
        terms=desk.terms,
        given=given,
        day_order=how.get("day_order"),
        day_order_before=cast("DayOrder | None", remembered.day_order) if remembered else None,
        decimal=how.get("decimal"),
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
        taken = [list_row(deed, season, row) for row in rows if row.fate is Fate.NEW]
        doubtful = [row for row in rows if row.fate is Fate.ASIDE]
        aside = set_aside(deed, look.file_name, look.table.digest, doubtful)
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


def import_list(desk: Desk, path: Path, **how: Unpack[HowListRead]) -> ListTaken:
    """Look at a list and take it in at once, as a file of acts does."""
    return take_in_list(desk, look_at_list(desk, path, **how))


def _remember_columns(deed: Deed, look: ListLook) -> None:
    heads = _heads(look.table)
    mapping = {look.table.headers[place]: column for column, place in look.listed.match.mapping.items()}
    kept = _kept_matches(deed.session).get(heads)
    if kept is None:
        deed.add(ColumnMatch(headers=heads, mapping=mapping, day_order=look.listed.day_order))
    elif kept.mapping != mapping:
        kept.mapping, kept.day_order = mapping, look.listed.day_order
