"""Tables that people bring: CSV, XLSX and ODS files as rows of text, with the header row found."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from findsdesk.domain.list_columns import column_of
from findsdesk.domain.many_values import without_collector
from findsdesk.domain.raw_tables import RawRow, RawTable, TableNote
from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.arriving_files import take_file
from findsdesk.exchange.text_tables import read_text
from findsdesk.words import N_

__all__ = ["RawRow", "RawTable", "TableNote", "read_table"]

_LINES_TO_SEARCH = 40


def _is_listed_column(header: str) -> bool:
    return column_of(header) is not None


def _known(row: RawRow, is_known: Callable[[str], bool]) -> int:
    return sum(1 for cell in {cell.strip() for cell in row.cells} if cell and is_known(cell))


def _header_place(rows: Sequence[RawRow], is_known: Callable[[str], bool]) -> int:
    """Return the place of the header row: the row with most known names (two at least), else the fullest of the top."""
    scores = [_known(row, is_known) for row in rows[:_LINES_TO_SEARCH]]
    best = max(scores, default=0)
    if best >= 2:
        return scores.index(best)
    filled = [sum(1 for cell in row.cells if cell.strip()) for row in rows[:10]]
    return filled.index(max(filled))


def _fitted(row: RawRow, width: int, notes: list[TableNote]) -> RawRow:
    """Return a row as wide as the headers; filled cells beyond them are a question about the whole row."""
    beyond = [cell for cell in row.cells[width:] if cell.strip()]
    if beyond:
        text = N_("This row has more cells than the list has headers ({beyond}). Did a comma or a cell slip in?")
        facts = {"beyond": ", ".join(beyond)[:60]}
        notes.append(TableNote("row_too_long", text, facts, row.line_number, asks=True))
    padding = ("",) * (width - len(row.cells))
    return replace(row, cells=row.cells[:width] + padding)


@without_collector()
def read_table(
    path: Path,
    *,
    encoding: str | None = None,
    sheet: str | None = None,
    is_known: Callable[[str], bool] = _is_listed_column,
) -> RawTable:
    """Read a table that somebody brought; what the file is shows in its bytes, not in its name.

    ``encoding`` answers the question ``encoding_unsure``, ``sheet`` names the sheet of a spreadsheet, ``is_known``
    tells a column name of a list (for the excavation's own words). Refuses, in words and without having changed
    anything, what is missing, unreadable, empty, damaged, protected, too large or no table.
    """
    arrived = take_file(path)
    found: str | None = None
    separator: str | None = None
    name: str | None = None
    names: tuple[str, ...] = ()
    if arrived.format == "csv":
        rows, notes, found, separator = read_text(arrived, encoding, is_known)
    else:
        # The reader of spreadsheets is large and few sessions bring one.
        from findsdesk.exchange.spreadsheets import read_sheet

        read = read_sheet(arrived, sheet, lambda rows: _known(rows[_header_place(rows, is_known)], is_known) >= 2)
        rows, notes, name, names = read.rows, read.notes, read.name, read.names
    if not rows:
        text = N_("{file} has nothing but blank lines. Ask for the list again.")
        raise Refusal("table_blank", text, file=arrived.name)
    place = _header_place(rows, is_known)
    headers = tuple(cell.strip() for cell in rows[place].cells)
    while headers and not headers[-1]:
        headers = headers[:-1]
    width = len(headers)
    notes = [note for note in notes if (note.line_number or 0) > rows[place].line_number]
    if name is not None and len(names) > 1:
        others = ", ".join(one for one in names if one != name)
        text = N_("Read from the sheet {sheet}; not read: {others}.")
        notes.insert(0, TableNote("other_sheets", text, {"sheet": name, "others": others}))
    return RawTable(
        headers=headers,
        rows=tuple(row if len(row.cells) == width else _fitted(row, width, notes) for row in rows[place + 1 :]),
        format=arrived.format,
        encoding=found,
        separator=separator,
        notes=tuple(notes),
        digest=arrived.digest,
        sheet=name,
        sheets=names,
        title_lines=tuple(" ".join(cell.strip() for cell in row.cells if cell.strip()) for row in rows[:place]),
    )
