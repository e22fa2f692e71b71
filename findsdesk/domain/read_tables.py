"""A table read by its columns: a list of values for each of them, and the doubts of each row.

Columns are read one after the other and every different cell once, so that a hundred thousand rows take little longer
than the file itself.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from findsdesk.domain.doubts import Doubt
from findsdesk.domain.list_columns import ColumnMatch
from findsdesk.domain.list_habits import decide_day_order, decide_decimal
from findsdesk.domain.passing import OFTEN
from findsdesk.domain.raw_tables import RawRow, RawTable, TableNote
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.table_cells import CellHabits, Circles, Value, reader_of
from findsdesk.domain.table_kinds import COLUMNS, Reads, TableKind, column_name, refuse_missing_columns
from findsdesk.domain.written_dates import DayOrder, Season
from findsdesk.domain.written_numbers import DecimalSign
from findsdesk.words import N_, Terms

_ONE_PERCENT = 10
"""In per mille: as a share of whole rims it would be one whole rim."""
_MEASURES = frozenset({Reads.GRAMS, Reads.METRES, Reads.PERCENT})


@dataclass(frozen=True, slots=True)
class Told:
    """What a person told or answered of a whole table."""

    given: Mapping[str, str] = field(default_factory=dict)
    """Column to the value that all its rows have where they say nothing themselves."""
    day_order: DayOrder | None = None
    decimal: DecimalSign | None = None
    circles: Circles | None = None
    """Whether rims and bases are said in percent or as shares of whole ones."""


READING, CHECKING, SORTING_OUT = range(3)
"""The stages in which a table is looked at."""
STAGES = 3


@dataclass(slots=True)
class ReadTable:
    """A table of one kind: the values of each column it has, row by row; rows are named by their place from 0."""

    kind: TableKind
    terms: Terms
    lines: list[int]
    """The line of each row as a spreadsheet or an editor shows it."""
    values: dict[str, list[Value]]
    doubts: dict[int, list[Doubt]] = field(default_factory=lambda: defaultdict(list))
    notes: tuple[TableNote, ...] = ()
    day_order: DayOrder | None = None
    passed: Callable[[int, int, int], None] | None = None
    """Called with stage (a ``READING``, …), rows done and rows while much is read; it may refuse to go on."""

    def tell(self, stage: int, done: int) -> None:
        """Tell whoever follows how many rows are through a stage."""
        if self.passed is not None:
            self.passed(stage, done, len(self))

    def __len__(self) -> int:
        """Return how many rows there are."""
        return len(self.lines)

    def column(self, name: str) -> list[Value]:
        """Return the values of a column, all None where the table has none."""
        return self.values.get(name) or [None] * len(self.lines)

    def texts(self, name: str) -> list[str]:
        """Return the values of a column of texts; one that says nothing is ''."""
        return [str(value) if value is not None else "" for value in self.column(name)]

    def row(self, place: int) -> dict[str, Value]:
        """Return what a row says, by its columns; those left empty are left out."""
        if not place % OFTEN:
            self.tell(CHECKING, place)
        said = {name: values[place] for name, values in self.values.items()}
        return {name: value for name, value in said.items() if value is not None}

    def ask(self, place: int, doubt: Doubt) -> None:
        """Let a row wait with a question."""
        self.doubts[place].append(doubt)

    def called(self, column: str) -> str:
        """Return what a column is called."""
        return column_name(self.kind, column, self.terms)


def read_by_columns(
    kind: TableKind,
    table: RawTable,
    match: ColumnMatch,
    told: Told,
    *,
    season: Season | None = None,
    today: date | None = None,
    day_order_before: DayOrder | None = None,
    terms: Terms | None = None,
    passed: Callable[[int, int, int], None] | None = None,
) -> ReadTable:
    """Read a table whose headers are matched. What is unsure in a row becomes a doubt of it.

    Raises the refusals ``missing_columns`` and ``list_empty``, the questions ``day_order_unsure``, ``decimal_unsure``
    and ``circles_unsure``, which ``told`` answers.
    """
    terms = terms or Terms()
    refuse_missing_columns(kind, match, table.headers, terms)
    rows = _filled(table, match)
    cells = {column: [row.cells[place] for row in rows] for column, place in match.mapping.items()}
    notes: list[TableNote] = [note for note in table.notes if not note.asks]
    days = _different(kind, cells, (Reads.DAY,))
    order = told.day_order or decide_day_order(days, season, today, day_order_before, notes)
    decimal = told.decimal or decide_decimal(_different(kind, cells, _MEASURES), table.separator, notes)
    circles = told.circles or _decide_circles(_different(kind, cells, (Reads.PERCENT,)), decimal)
    habits = CellHabits(order, decimal, season, terms, circles)
    read = ReadTable(
        kind, terms, [row.line_number for row in rows], {}, notes=tuple(notes), day_order=order, passed=passed
    )
    for place, column in enumerate(COLUMNS[kind]):
        read.tell(READING, len(rows) * place // len(COLUMNS[kind]))
        if column in cells or told.given.get(column):
            _read_column(read, column, cells.get(column), told.given.get(column, ""), habits)
    _ask_what_the_file_asks(read, table, match)
    _ask_for_missing(read, match, told)
    return read


def _decide_circles(texts: Iterable[str], decimal: DecimalSign | None) -> Circles:
    """Return how much of a circle is said; where all of it is at most 1 it may be percent or a share, and is asked.

    Data sets write either (the trade's metadata name percent of the rim's circumference; others count whole rims).
    """
    read = reader_of(Reads.PERCENT, "rim", "", CellHabits(decimal=decimal))
    values = {text: value for text in texts if isinstance(value := read(text), int) and value}
    if not values or max(values.values()) > _ONE_PERCENT:
        return "percent"
    raise Question(
        "circles_unsure",
        N_("Does {example} mean so much percent of a circle, or so much of a whole one? Say which this table writes."),
        example=next(iter(values)),
        choices=("percent", "share"),
    )


def _filled(table: RawTable, match: ColumnMatch) -> Sequence[RawRow]:
    """Return the rows with something in a column we use; a header row repeated further down is none."""
    places = sorted(match.mapping.values())
    if not places:
        return table.rows
    heads = [table.headers[place] for place in places]

    def used(row: RawRow) -> bool:
        cells = [row.cells[place].strip() for place in places]
        return any(cells) and cells != heads

    first = places[0] if places else 0
    rows = [row for row in table.rows if (row.cells[first] and row.cells[first] != heads[0]) or used(row)]
    if not rows:
        raise Refusal("list_empty", N_("The list has headers but no rows. Choose the right sheet or file."))
    return rows


def _different(kind: TableKind, cells: Mapping[str, list[str]], reads: Iterable[Reads]) -> dict[str, int]:
    """Return the different texts of all columns that are read in one of these ways."""
    wanted = frozenset(reads)
    found: dict[str, int] = {}
    for column, texts in cells.items():
        if COLUMNS[kind][column].reads in wanted:
            found |= dict.fromkeys((text for text in dict.fromkeys(texts) if text.strip()), 1)
    return found


def _read_column(read: ReadTable, column: str, texts: list[str] | None, given: str, habits: CellHabits) -> None:
    reader = reader_of(COLUMNS[read.kind][column].reads, column, read.called(column), habits)
    written = texts if texts is not None else [""] * len(read.lines)
    known: dict[str, Value | Doubt] = {text: reader(text) for text in set(written)}
    if given:
        told = reader(given)
        if isinstance(told, Doubt):
            raise Refusal(told.code, told.text, **told.facts)
        known = {text: told if value is None else value for text, value in known.items()}
    odd = {text: value for text, value in known.items() if isinstance(value, Doubt)}
    if odd:
        for place, text in enumerate(written):
            if text in odd:
                read.ask(place, odd[text])
    plain = {text: None if isinstance(value, Doubt) else value for text, value in known.items()}
    read.values[column] = list(map(plain.__getitem__, written))


def _ask_what_the_file_asks(read: ReadTable, table: RawTable, match: ColumnMatch) -> None:
    """Turn what the reader of the file asks about a cell we use, or about a whole line, into doubts of that row."""
    names = {place: column for column, place in match.mapping.items()}
    asked = [note for note in table.notes if note.asks and (note.column is None or note.column in names)]
    if not asked:
        return
    places = {line: place for place, line in enumerate(read.lines)}
    for note in asked:
        if note.line_number in places:
            column = names.get(note.column) if note.column is not None else None
            read.ask(places[note.line_number], Doubt(note.code, note.text, note.facts, column))


def _ask_for_missing(read: ReadTable, match: ColumnMatch, told: Told) -> None:
    """Ask for what a row must say and leaves empty; a cell that could not be read was asked about already."""
    for column, said in COLUMNS[read.kind].items():
        values = read.values.get(column)
        if not said.needed or values is None or None not in values:
            continue
        doubt = Doubt(
            f"{column}_missing",
            N_("No {what} in this row. Write it in, or leave the row out."),
            {"what": read.called(column)},
            column,
        )
        for place, value in enumerate(values):
            if value is None and not any(one.column == column for one in read.doubts.get(place, ())):
                read.ask(place, doubt)
