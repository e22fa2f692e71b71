"""A table looked at before it is taken in: its headers matched, and what would become of each row."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Unpack, cast

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.checked_tables import CheckedTable
from findsdesk.desk.desk import Desk
from findsdesk.desk.how_read import HowTableRead
from findsdesk.desk.list_checks import Fate
from findsdesk.desk.table_kinds_known import check_rows_of, season_meant
from findsdesk.domain.doubts import Doubt
from findsdesk.domain.list_columns import ColumnMatch, header_key
from findsdesk.domain.many_values import without_collector
from findsdesk.domain.passing import Follow, Passing
from findsdesk.domain.raw_tables import RawTable, TableNote
from findsdesk.domain.read_tables import STAGES, ReadTable, Told, read_by_columns
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.table_kinds import COLUMNS, Reads, TableKind, column_meant, match_headers
from findsdesk.domain.written_dates import DayOrder
from findsdesk.exchange.tables import read_table
from findsdesk.store.journal import store_head
from findsdesk.store.models import ColumnMatch as KeptMatch
from findsdesk.store.models import TakenList
from findsdesk.words import N_, put

QUESTION = N_("Question")
"""The header of the column in which a list of questions says what is asked."""


@dataclass(frozen=True, slots=True)
class TableAsk:
    """Which table, and how it is to be read: everything a person chose so far.

    ``columns`` maps a header to a column, or to '' for one to leave out; what it does not name is proposed.
    """

    path: Path
    kind: TableKind
    season: str | None = None
    encoding: str | None = None
    sheet: str | None = None
    columns: Mapping[str, str] = field(default_factory=dict)
    told: Told = field(default_factory=Told)


@dataclass(frozen=True, slots=True)
class TableSeen:
    """A table with its headers as they are matched, before its rows are read."""

    ask: TableAsk
    table: RawTable
    match: ColumnMatch
    day_order: DayOrder | None


@dataclass(frozen=True, slots=True)
class LookedRow:
    """A row of the preview: its line, its cells by column, its fate and its questions.

    Cells stand as the table has them, days as they are read: 03/08/2026 does not say whose month it is.
    """

    line: int
    cells: Mapping[str, str]
    fate: Fate
    doubts: tuple[Doubt, ...]


@dataclass(frozen=True, slots=True)
class TableLook:
    """A table as it was looked at: nothing is written yet."""

    ask: TableAsk
    table: RawTable
    match: ColumnMatch
    read: ReadTable
    checked: CheckedTable
    season: str
    head: str
    """The store's head at that moment: as long as it stays, the rows need not be checked again."""
    taken_before: datetime | None

    @property
    def notes(self) -> tuple[TableNote, ...]:
        """Return what there is to tell of the table as a whole."""
        return (*self.read.notes, *self.checked.notes)

    def how_many(self, fate: Fate) -> int:
        """Return how many rows have a fate."""
        return self.checked.fates.count(fate)

    def places(self, *fates: Fate) -> list[int]:
        """Return the places of the rows of these fates, in the order of the table."""
        return [place for place, fate in enumerate(self.checked.fates) if fate in fates]

    def rows(self, places: list[int]) -> Iterator[LookedRow]:
        """Yield rows by their places."""
        raw = {row.line_number: row.cells for row in self.table.rows}
        of_days = {column for column, one in COLUMNS[self.ask.kind].items() if one.reads is Reads.DAY}
        for place in places:
            cells = raw[self.read.lines[place]]
            said = {column: cells[at] if at < len(cells) else "" for column, at in self.match.mapping.items()}
            days = ((column, self.read.column(column)[place]) for column in said if column in of_days)
            said |= {column: str(day) for column, day in days if day is not None}
            doubts = tuple(self.checked.doubts.get(place, ()))
            yield LookedRow(self.read.lines[place], said, self.checked.fates[place], doubts)


def see_table(desk: Desk, ask: TableAsk) -> TableSeen:
    """Read a table and match its headers: by hand, as the last time, or by their spellings.

    Refusals: of reading a table, ``no_such_header``.
    """

    def is_known(header: str) -> bool:
        return column_meant(ask.kind, header, desk.terms) is not None

    table = read_table(ask.path, encoding=ask.encoding, sheet=ask.sheet, is_known=is_known)
    with desk.reading() as reading:
        kept = kept_match(reading.session, ask.kind, table)
    by_hand = {header_key(header): column for header, column in ask.columns.items()}
    _refuse_unknown_headers(ask, table)
    remembered = {header_key(header): column for header, column in (kept.mapping if kept else {}).items()}
    match = match_headers(ask.kind, table.headers, desk.terms, remembered | by_hand, ask.told.given)
    order = cast("DayOrder | None", kept.day_order) if kept else None
    return TableSeen(ask, table, match, order)


def _refuse_unknown_headers(ask: TableAsk, table: RawTable) -> None:
    there = {header_key(header) for header in table.headers}
    for header in ask.columns:
        if header_key(header) not in there:
            raise Refusal(
                "no_such_header",
                N_("{file} has no column “{header}”. Its headers are: {seen}."),
                file=ask.path.name,
                header=header,
                seen=", ".join(table.headers)[:300],
            )


def look_at_table(desk: Desk, path: Path, *, of: TableKind, **how: Unpack[HowTableRead]) -> TableLook:
    """Look at a table of one kind; writes nothing.

    Refusals: of reading a table, ``missing_columns``, ``list_empty``, ``season_needed``, ``unknown_season``.
    Questions: ``encoding_unsure``, ``day_order_unsure``, ``decimal_unsure``, ``circles_unsure``.
    """
    told = Told(how.get("given") or {}, how.get("day_order"), how.get("decimal"), how.get("circles"))
    columns = how.get("columns") or {}
    ask = TableAsk(path, of, how.get("season"), how.get("encoding"), how.get("sheet"), columns, told)
    return look_again(desk, see_table(desk, ask))


@without_collector()
def look_again(desk: Desk, seen: TableSeen, follow: Follow | None = None) -> TableLook:
    """Look at what becomes of the rows of a table that was seen; refusals and questions as ``look_at_table``.

    ``follow`` is told rows done of rows, and may end it by a refusal.
    """
    ask, table = seen.ask, seen.table
    passed = Passing(follow, len(table.rows), STAGES).at if follow is not None else None
    with desk.reading() as reading:
        season = season_meant(reading.session, desk, ask.kind, ask.season)
        days = (season.starts, season.ends) if season is not None else None
        today = desk.now().astimezone(desk.facts.zone).date()
        read = read_by_columns(
            ask.kind,
            table,
            seen.match,
            ask.told,
            season=days,
            today=today,
            day_order_before=seen.day_order,
            terms=desk.terms,
            passed=passed,
        )
        checked = check_rows_of(reading.session, desk, read, season)
        read.passed = None
        before = select(TakenList.taken_at).where(TakenList.digest == table.digest).order_by(TakenList.taken_at.desc())
        taken = reading.session.execute(before.limit(1)).scalar()
        name, head = season.name if season is not None else "", store_head(reading.session)
    return TableLook(ask, table, seen.match, read, checked, name, head, taken)


def headings_of(kind: TableKind, table: RawTable) -> str:
    """Return what tells this kind of table from others; a list of questions is known as the table it came from."""
    asked = {QUESTION, put(QUESTION)}
    return "\t".join((f"[{kind}]", *(header for header in table.headers if header not in asked)))


def kept_match(session: Session, kind: TableKind, table: RawTable) -> KeptMatch | None:
    """Return how the headers of such a table were matched the last time."""
    wanted = select(KeptMatch).where(KeptMatch.headers == headings_of(kind, table))
    return session.execute(wanted).scalar_one_or_none()
