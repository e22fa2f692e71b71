"""Field lists: what square supervisors write of the day's containers, read as a whole, with questions row by row."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date

from findsdesk.domain.doubts import Doubt
from findsdesk.domain.list_columns import (
    COLUMNS,
    ColumnMatch,
    column_in_words,
    column_of,
    match_columns,
    refuse_missing,
)
from findsdesk.domain.list_differences import (
    changed_columns,
    same_row,
)
from findsdesk.domain.list_habits import ListHabits, habits_of
from findsdesk.domain.listed_rows import ListedRow, read_row
from findsdesk.domain.raw_tables import RawRow, RawTable, TableNote
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.written_dates import (
    DayOrder,
    Season,
    day_order_of,
)
from findsdesk.domain.written_numbers import (
    DecimalSign,
    decimal_of,
    identifier_key,
)
from findsdesk.words import N_, Terms

__all__ = [
    "COLUMNS",
    "ColumnMatch",
    "DayOrder",
    "DecimalSign",
    "Doubt",
    "FieldList",
    "ListHabits",
    "ListedRow",
    "Season",
    "changed_columns",
    "column_in_words",
    "column_of",
    "day_order_of",
    "decimal_of",
    "identifier_key",
    "match_columns",
    "read_field_list",
    "read_row",
    "refuse_missing",
    "same_row",
    "twice_doubt",
]

_DITTO_MARKS = ('"', "''", "“", "”", "〃", "ditto", "do", "do.", "id.", "idem", '-"-', '--"--', "-''-", "same")
_DITTO = frozenset(f"{blank}{form}" for mark in _DITTO_MARKS for form in (mark, mark.title()) for blank in ("", " "))


@dataclass(frozen=True, slots=True)
class FieldList:
    """A field list as it was read; rows with doubts wait, the others can go in."""

    rows: tuple[ListedRow, ...]
    notes: tuple[TableNote, ...]
    match: ColumnMatch
    day_order: DayOrder | None
    decimal: DecimalSign | None
    digest: str

    @property
    def clear(self) -> tuple[ListedRow, ...]:
        """Return the rows without any doubt."""
        return tuple(row for row in self.rows if not row.doubts)

    @property
    def waiting(self) -> tuple[ListedRow, ...]:
        """Return the rows that wait for an answer."""
        return tuple(row for row in self.rows if row.doubts)


def _filled_rows(table: RawTable, match: ColumnMatch) -> list[RawRow]:
    """Return the rows with something in a column we use; a header row repeated further down is none."""
    places = sorted(match.mapping.values())
    blank = ("",) * len(places)

    def used(row: RawRow) -> tuple[str, ...]:
        return tuple(row.cells[place].strip() if place < len(row.cells) else "" for place in places)

    heads = tuple(table.headers[place] for place in places)
    rows = [row for row in table.rows if (cells := used(row)) != blank and cells != heads]
    if not rows:
        raise Refusal("list_empty", N_("The list has headers but no rows. Choose the right sheet or file."))
    return rows


def _without_ditto(row: RawRow, above: RawRow | None, match: ColumnMatch, terms: Terms) -> tuple[RawRow, list[Doubt]]:
    """Put the value of the row above where the list says "ditto", each with a question."""
    doubts: list[Doubt] = []
    if _DITTO.isdisjoint(row.cells):
        return row, doubts
    cells = list(row.cells)
    for column, place in match.mapping.items():
        if place >= len(cells) or cells[place] not in _DITTO or column == "number":
            continue
        cells[place] = above.cells[place] if above and place < len(above.cells) else ""
        text = N_("“{written}” means “as above”. Is {what} {value}?")
        facts = {"written": row.cells[place].strip(), "what": column_in_words(column, terms), "value": cells[place]}
        doubts.append(Doubt("as_above", text, facts, column))
    return RawRow(row.line_number, tuple(cells)), doubts


def _asked_by_line(table: RawTable, match: ColumnMatch) -> dict[int, list[Doubt]]:
    """Turn what the reader of the file asks about a cell we use, or about a whole line, into doubts of that line."""
    names = {place: column for column, place in match.mapping.items()}
    asked: dict[int, list[Doubt]] = {}
    for note in table.notes:
        if not note.asks or note.line_number is None or (note.column is not None and note.column not in names):
            continue
        column = names.get(note.column) if note.column is not None else None
        asked.setdefault(note.line_number, []).append(Doubt(note.code, note.text, note.facts, column))
    return asked


def twice_doubt(row: ListedRow, before: ListedRow) -> Doubt:
    """Return the question which of two rows of one list with the same number is right."""
    text = N_("{Container} {number} stands twice in this list, first on line {line}. Which row is right?")
    return Doubt("number_twice", text, {"number": row.number, "line": before.line}, "number")


def _twice(rows: Iterable[ListedRow], by_square: bool) -> list[ListedRow]:
    """Drop a row that says again exactly what was said; ask where a number stands twice with different content."""
    first: dict[tuple[str, str], ListedRow] = {}
    kept: list[ListedRow] = []
    for row in rows:
        key = (identifier_key(row.square) if by_square else "", identifier_key(row.number))
        before = first.setdefault(key, row) if row.number else row
        if before is not row:
            if same_row(before, row):
                continue
            row = replace(row, doubts=(*row.doubts, twice_doubt(row, before)))
        kept.append(row)
    return kept


def read_field_list(
    table: RawTable,
    match: ColumnMatch,
    *,
    season: Season | None = None,
    terms: Terms | None = None,
    given: Mapping[str, str] | None = None,
    today: date | None = None,
    day_order: DayOrder | None = None,
    day_order_before: DayOrder | None = None,
    decimal: DecimalSign | None = None,
    known: Mapping[str, Iterable[str]] | None = None,
    by_square: bool = False,
) -> FieldList:
    """Read a whole field list: one question at most for all its dates and one for its decimal sign, the rest by row.

    ``season`` is the first and last day of the season; ``given`` holds values told beside the list (a day, a
    material) for columns it lacks; ``today`` is the day after which nothing can have been collected; ``day_order`` and
    ``decimal`` answer the questions, ``day_order_before`` is what was answered for such lists before; ``known`` holds
    the numbers of deposits and names of squares that exist, which are then never taken for something to clean.
    Raises the refusals ``missing_columns`` and ``list_empty``, the questions ``day_order_unsure`` and
    ``decimal_unsure``.
    """
    terms = terms or Terms()
    refuse_missing(match, table.headers, terms)
    rows = _filled_rows(table, match)
    habits, told = habits_of(
        rows,
        match,
        season=season,
        today=today,
        terms=terms,
        separator=table.separator,
        day_order=day_order,
        day_order_before=day_order_before,
        decimal=decimal,
        known={column: frozenset(map(identifier_key, names)) for column, names in (known or {}).items()},
    )
    notes = (*(note for note in table.notes if not note.asks), *told)
    asked = _asked_by_line(table, match)
    mapping = match.mapping
    read: list[ListedRow] = []
    above: RawRow | None = None
    for row in rows:
        above, ditto = _without_ditto(row, above, match, terms)
        one = read_row(
            row.line_number, above.cells, mapping, habits=habits, season=season, today=today, terms=terms, given=given
        )
        if more := (*ditto, *asked.get(row.line_number, ())):
            one = replace(one, doubts=(*more, *one.doubts))
        read.append(one)
    return FieldList(tuple(_twice(read, by_square)), notes, match, habits.day_order, habits.decimal, table.digest)
