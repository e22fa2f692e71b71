"""A table taken in: what is new goes in as one act; what has a question is written out, corrected and tried again."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Unpack

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.how_read import HowTableRead
from findsdesk.desk.list_checks import Fate
from findsdesk.desk.table_kinds_known import check_rows_of, season_meant, write_rows_of
from findsdesk.desk.table_looks import QUESTION, TableLook, headings_of, kept_match, look_at_table
from findsdesk.domain.many_values import without_collector
from findsdesk.domain.passing import Follow, Passing
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.table_kinds import TableKind, column_name
from findsdesk.store.journal import STAGES, store_head
from findsdesk.store.models import ColumnMatch, TakenList
from findsdesk.words import N_, put


@dataclass(frozen=True, slots=True)
class TableTaken:
    """What taking a table in did; ``waiting`` rows have a question and stay out."""

    file_name: str
    taken: int
    same: int
    waiting: int


@without_collector()
def take_in_table(desk: Desk, look: TableLook, *, follow: Follow | None = None) -> TableTaken:
    """Take in what is new in a table that was looked at, as one act; without anything new, nothing is written.

    What the store came to say meanwhile is heard: the rows are checked again where anything was written since.
    ``follow`` is told rows done of rows, and may end it by a refusal: then nothing is written.
    """
    if not look.how_many(Fate.NEW):
        return TableTaken(look.ask.path.name, 0, look.how_many(Fate.SAME), look.how_many(Fate.ASIDE))
    with desk.deed("take_in_table") as deed:
        season = season_meant(deed.session, desk, look.ask.kind, look.season)
        checked = look.checked
        if store_head(deed.session) != look.head:
            checked = check_rows_of(deed.session, desk, look.read, season)
        if follow is not None:
            deed.changes.follow = Passing(follow, checked.fates.count(Fate.NEW), STAGES).at
        write_rows_of(deed, look.read, checked, season, look.ask.path.name)
        new, same, waiting = (checked.fates.count(fate) for fate in (Fate.NEW, Fate.SAME, Fate.ASIDE))
        _remember_columns(deed, look)
        deed.add(
            TakenList(
                digest=look.table.digest,
                file_name=look.ask.path.name,
                rows_taken=new,
                rows_set_aside=waiting,
                taken_at=deed.happened_at,
            )
        )
        deed.said = f"{look.ask.path.name}, {look.ask.kind}: {new}"
    return TableTaken(look.ask.path.name, new, same, waiting)


def import_table(desk: Desk, path: Path, of: TableKind, **how: Unpack[HowTableRead]) -> TableTaken:
    """Look at a table and take it in at once, as a file of acts does; refusals as ``look_at_table``."""
    return take_in_table(desk, look_at_table(desk, path, of=of, **how))


def _remember_columns(deed: Deed, look: TableLook) -> None:
    mapping = {look.table.headers[place]: column for column, place in look.match.mapping.items()}
    mapping |= {header: "" for header, column in look.ask.columns.items() if not column}
    kept = kept_match(deed.session, look.ask.kind, look.table)
    order = look.read.day_order
    if kept is None:
        deed.add(ColumnMatch(headers=headings_of(look.ask.kind, look.table), mapping=mapping, day_order=order))
    elif kept.mapping != mapping or kept.day_order != order:
        kept.mapping, kept.day_order = mapping, order


def write_questions(look: TableLook, path: Path) -> int:
    """Write the rows that wait as CSV, as they stand in the table with what is asked beside them; returns how many.

    The list is corrected there and brought in like any other. Refusals: ``nothing_waits``, ``cannot_write``.
    """
    from findsdesk.exchange.writing import write_csv

    places = look.places(Fate.ASIDE)
    if not places:
        raise Refusal("nothing_waits", N_("No row of {file} waits with a question."), file=look.ask.path.name)
    raw = {row.line_number: row.cells for row in look.table.rows}
    kept = [place for place, header in enumerate(look.table.headers) if header not in (QUESTION, put(QUESTION))]
    headers = [*(look.table.headers[place] for place in kept), put(QUESTION)]

    def cells(place: int) -> list[str]:
        row = raw[look.read.lines[place]]
        return [*(row[one] for one in kept), " ".join(asked(look, place))]

    return write_csv(headers, map(cells, places), path, for_spreadsheet=True)


def asked(look: TableLook, place: int) -> list[str]:
    """Return the questions about a row in words, each with the name of its column."""
    terms = look.read.terms
    words = []
    for doubt in look.checked.doubts.get(place, ()):
        named = column_name(look.ask.kind, doubt.column, terms) + ": " if doubt.column else ""
        words.append(named + doubt.in_words(terms))
    return words
