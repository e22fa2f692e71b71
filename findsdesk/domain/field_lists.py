"""Field lists: what square supervisors write of the day's containers, read as a whole, with questions row by row."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from findsdesk.domain.doubts import Doubt
from findsdesk.domain.list_columns import (
    COLUMNS,
    ColumnMatch,
    column_in_words,
    column_of,
    header_key,
    match_columns,
    refuse_missing,
)
from findsdesk.domain.list_differences import (
    ChangedRow,
    ListDifferences,
    changed_columns,
    differences,
    same_row,
)
from findsdesk.domain.listed_rows import ListedRow, ListHabits, read_row
from findsdesk.domain.raw_tables import RawRow, RawTable, TableNote
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.written_dates import (
    DayOrder,
    Season,
    both_orders_shown,
    day_order_by_season,
    day_order_of,
    written_date,
)
from findsdesk.domain.written_numbers import (
    DecimalSign,
    decimal_of,
    identifier_key,
    read_identifier,
    visible,
    zero_width_of,
)
from findsdesk.words import N_, Terms

__all__ = [
    "COLUMNS",
    "ChangedRow",
    "ColumnMatch",
    "DayOrder",
    "DecimalSign",
    "Doubt",
    "FieldList",
    "ListDifferences",
    "ListHabits",
    "ListedRow",
    "Season",
    "changed_columns",
    "column_in_words",
    "column_of",
    "day_order_of",
    "decimal_of",
    "differences",
    "identifier_key",
    "match_columns",
    "read_field_list",
    "read_row",
    "refuse_missing",
    "same_row",
]

_DITTO = frozenset({'"', "''", "“", "”", "〃", "ditto", "do", "do.", "id.", "idem", '-"-', '--"--', "-''-", "same"})
_IDENTIFIERS = ("number", "deposit", "square")
_ENOUGH_ROWS_FOR_A_HABIT = 3
_CHANGING_MEANING = frozenset({"spreadsheet", "mark", "signs"})


@dataclass(frozen=True, slots=True)
class FieldList:
    """A field list as it was read; rows with doubts wait, the others can go in."""

    rows: tuple[ListedRow, ...]
    notes: tuple[TableNote, ...]
    match: ColumnMatch
    day_order: DayOrder | None
    decimal: DecimalSign
    digest: str

    @property
    def clear(self) -> tuple[ListedRow, ...]:
        """Return the rows without any doubt."""
        return tuple(row for row in self.rows if not row.doubts)

    @property
    def waiting(self) -> tuple[ListedRow, ...]:
        """Return the rows that wait for an answer."""
        return tuple(row for row in self.rows if row.doubts)


def _column(table_rows: Sequence[RawRow], match: ColumnMatch, column: str) -> list[str]:
    place = match.mapping.get(column)
    if place is None:
        return []
    return [visible(row.cells[place]) for row in table_rows if place < len(row.cells) and row.cells[place].strip()]


def _decide_day_order(column: list[str], season: Season | None, notes: list[TableNote]) -> DayOrder | None:
    """Return the order of a whole column; ask one question if it cannot be told, None if it shows both orders."""
    order = day_order_of(column, season)
    if order is not None:
        return order
    if both_orders_shown(column, season):
        text = N_(
            "This list writes dates in both orders, day first and month first; unclear ones wait with a question."
        )
        notes.append(TableNote("day_orders_mixed", text))
        return None
    by_season = day_order_by_season(column, season)
    unclear = next(one for text in column if (one := written_date(text, season)) and one.ambiguous)
    example = next(text for text in column if written_date(text, season) == unclear)
    if by_season is not None:
        text = N_("Dates such as {example} are read as {day}: only so do all of them lie in the season.")
        notes.append(
            TableNote("day_order_by_season", text, {"example": example, "day": str(unclear.reading(by_season))})
        )
        return by_season
    raise Question(
        "day_order_unsure",
        N_("Dates such as {example} can mean {first} or {second}. Say whether this list writes day or month first."),
        example=example,
        first=str(unclear.as_dmy),
        second=str(unclear.as_mdy),
        choices=("dmy", "mdy"),
    )


def _decide_decimal(column: list[str], separator: str | None) -> DecimalSign:
    """Return the decimal sign of a column; where it does not show, the file's form may tell (``separator``)."""
    sign = decimal_of(column)
    if sign is not None:
        return sign
    signs = {one for text in column for one in text if one in ".,"}
    if signs == {"."} and separator in {None, ","}:
        return "."
    if signs == {","} and separator == ";":
        return ","
    example = next((text for text in column if "," in text or "." in text), "")
    raise Question(
        "decimal_unsure",
        N_("Is {example} written with a decimal comma or a decimal point? The column allows both: say which."),
        example=example,
        choices=(",", "."),
    )


def _usual_cleaning(
    rows: Sequence[RawRow], match: ColumnMatch, terms: Terms, notes: list[TableNote]
) -> frozenset[tuple[str, str]]:
    """Find what must be cleaned in every row alike ("ctx" before every number): told once instead of asked."""
    usual: set[tuple[str, str]] = set()
    for column in _IDENTIFIERS:
        texts = _column(rows, match, column)
        kinds = {read_identifier(text, column, terms).cleaned for text in texts}
        kind = kinds.pop() if len(kinds) == 1 else ""
        if kind and kind not in _CHANGING_MEANING and len(texts) >= _ENOUGH_ROWS_FOR_A_HABIT:
            usual.add((column, kind))
            value = read_identifier(texts[0], column, terms).value
            text = N_("Every {what} in this list is written like “{written}” and is read like {value}.")
            facts = {"what": column_in_words(column, terms), "written": texts[0], "value": value}
            notes.append(TableNote("cleaned_throughout", text, facts))
    return frozenset(usual)


def _without_ditto(row: RawRow, above: RawRow | None, match: ColumnMatch, terms: Terms) -> tuple[RawRow, list[Doubt]]:
    """Put the value of the row above where the list says "ditto", each with a question."""
    doubts: list[Doubt] = []
    cells = list(row.cells)
    for column, place in match.mapping.items():
        if place >= len(cells) or cells[place].strip().lower() not in _DITTO or column == "number":
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
            text = N_("{Container} {number} stands twice in this list, first on line {line}. Which row is right?")
            doubt = Doubt("number_twice", text, {"number": row.number, "line": before.line}, "number")
            row = replace(row, doubts=(*row.doubts, doubt))
        kept.append(row)
    return kept


def read_field_list(
    table: RawTable,
    match: ColumnMatch,
    *,
    season: Season | None = None,
    terms: Terms | None = None,
    given: Mapping[str, str] | None = None,
    day_order: DayOrder | None = None,
    decimal: DecimalSign | None = None,
    known: Mapping[str, Iterable[str]] | None = None,
    by_square: bool = False,
) -> FieldList:
    """Read a whole field list: one question at most for all its dates and one for its decimal sign, the rest by row.

    ``season`` is the first and last day of the season; ``given`` holds values told beside the list (a day, a
    material) for columns it lacks; ``day_order`` and ``decimal`` answer the questions; ``known`` holds the numbers of
    deposits and names of squares that exist, which are then never taken for something to clean. Raises the refusals
    ``missing_columns`` and ``list_empty`` and the questions ``day_order_unsure`` and ``decimal_unsure``.
    """
    terms = terms or Terms()
    refuse_missing(match, table.headers, terms)
    heads = tuple(header_key(header) for header in table.headers)
    places = sorted(match.mapping.values())
    rows = [
        row
        for row in table.rows
        if any(place < len(row.cells) and row.cells[place].strip() for place in places)
        and tuple(header_key(cell) for cell in row.cells[: len(heads)]) != heads
    ]
    if not rows:
        raise Refusal("list_empty", N_("The list has headers but no rows. Choose the right sheet or file."))
    notes = [note for note in table.notes if not note.asks]
    known_keys = {column: frozenset(map(identifier_key, names)) for column, names in (known or {}).items()}
    habits = ListHabits(
        day_order=day_order or _decide_day_order(_column(rows, match, "collected_on"), season, notes),
        decimal=decimal or _decide_decimal(_column(rows, match, "elevation"), table.separator),
        known=known_keys,
        usual=_usual_cleaning(rows, match, terms, notes),
        zero_widths={column: zero_width_of(_column(rows, match, column)) for column in _IDENTIFIERS},
    )
    asked = _asked_by_line(table, match)
    read: list[ListedRow] = []
    above: RawRow | None = None
    for row in rows:
        filled, ditto = _without_ditto(row, above, match, terms)
        one = read_row(
            filled.line_number, filled.cells, match.mapping, habits=habits, season=season, terms=terms, given=given
        )
        if more := (*ditto, *asked.get(row.line_number, ())):
            one = replace(one, doubts=(*more, *one.doubts))
        read.append(one)
        above = filled
    return FieldList(
        tuple(_twice(read, by_square)), tuple(notes), match, habits.day_order, habits.decimal, table.digest
    )
