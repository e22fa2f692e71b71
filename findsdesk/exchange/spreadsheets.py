"""Sheets of XLSX and ODS files as rows of text: values as saved, formulas and errors noted, limits kept."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import lru_cache

import python_calamine

from findsdesk.domain.raw_tables import RawRow, TableNote
from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.archives import FAULTS
from findsdesk.exchange.arriving_files import MOST_CELLS, ArrivedFile, damaged, locked_by_password, too_many_cells
from findsdesk.exchange.odd_cells import (
    error_note,
    formula_note,
    formula_without_value_note,
    without_error,
)
from findsdesk.exchange.sheet_contents import HostileSheet, SheetContents, look_into_ods, look_into_xlsx, sheet_members
from findsdesk.words import N_

Value = int | float | str | bool | date | datetime | time | timedelta


@dataclass(frozen=True, slots=True)
class ReadSheet:
    """A sheet's rows (blank ones left out), its notes, its name and the names of all sheets with cells."""

    rows: list[RawRow]
    notes: list[TableNote]
    name: str
    names: tuple[str, ...]


@lru_cache(maxsize=65_536, typed=True)
def text_of(value: Value) -> str:
    """Return a cell's value as text: whole numbers without a decimal point, dates and times in ISO form."""
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() and abs(value) < 1e15 else f"{value:.15g}"
    if isinstance(value, str):
        return value
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, datetime):
        return value.date().isoformat() if value.time() == time() else value.isoformat(timespec="minutes")
    if isinstance(value, date):
        return value.isoformat()
    return str(value)


@contextmanager
def _faults_in_words(arrived: ArrivedFile) -> Iterator[None]:
    """Turn whatever a damaged file makes the libraries say into one refusal."""
    try:
        yield
    except Refusal:
        raise
    except python_calamine.PasswordError as fault:
        raise locked_by_password(arrived.name) from fault
    except (python_calamine.CalamineError, HostileSheet, ArithmeticError, OSError, *FAULTS) as fault:
        raise damaged(arrived.name) from fault
    except BaseException as fault:
        # The reader is native code: what it did not expect arrives as a panic, which is no Exception.
        if type(fault).__name__ == "PanicException":
            raise damaged(arrived.name) from fault
        raise


def _refuse_far_cells(arrived: ArrivedFile, contents: SheetContents) -> None:
    if contents.rows * contents.columns > MOST_CELLS:
        raise too_many_cells(arrived.name)


def _looked_into(arrived: ArrivedFile) -> Callable[[str], SheetContents]:
    """Return a function that tells what a sheet holds besides values."""
    archive = zipfile.ZipFile(io.BytesIO(arrived.content))
    if arrived.format == "ods":
        if b"encryption-data" in archive.read("META-INF/manifest.xml"):
            raise locked_by_password(arrived.name)
        sheets = look_into_ods(archive)
        for contents in sheets.values():  # the reader unfolds every sheet as soon as it opens the file
            _refuse_far_cells(arrived, contents)
        return lambda name: sheets.get(name, SheetContents())
    members = sheet_members(archive)
    return lambda name: look_into_xlsx(archive, members[name]) if name in members else SheetContents()


def _rows(values: list[list[Value]], contents: SheetContents, notes: list[TableNote]) -> list[RawRow]:
    """Return the rows of a sheet as text, column by column: large sheets hold few different values in most of them."""
    odd_rows = {row for row, _column in (*contents.formulas, *contents.errors)}
    columns = [_as_texts(column) for column in zip(*values, strict=False)]
    suspicious = any("#" in together or "Err:" in together for together in map("\n".join, columns))
    rows: list[RawRow] = []
    for place, cells in enumerate(zip(*columns, strict=True)):
        if place in odd_rows or suspicious:
            cells = tuple(_looked_at(place, list(cells), contents, notes, odd=place in odd_rows))
        if (cells[0] and not cells[0].isspace()) or place in odd_rows or any(_not_blank(cell) for cell in cells):
            rows.append(RawRow(place + 1, cells))
    return rows


def _as_texts(column: Sequence[Value]) -> Sequence[str]:
    return [value if type(value) is str else text_of(value) for value in column]


def _not_blank(cell: str) -> bool:
    return bool(cell) and not cell.isspace()


def _looked_at(
    place: int, cells: list[str], contents: SheetContents, notes: list[TableNote], *, odd: bool
) -> list[str]:
    """Return the cells of a row without formulas and error values, each with its note."""
    if odd:
        _note_odd(place, cells, contents, notes)
    return [without_error(cell, place + 1, column, notes) for column, cell in enumerate(cells)]


def _note_odd(place: int, cells: list[str], contents: SheetContents, notes: list[TableNote]) -> None:
    for column in range(len(cells)):
        formula, error = contents.formulas.get((place, column)), contents.errors.get((place, column))
        if error is not None:
            notes.append(error_note(error, place + 1, column))
            cells[column] = ""
        elif formula is not None and cells[column].strip():
            notes.append(formula_note(cells[column], place + 1, column))
        elif formula is not None:
            notes.append(formula_without_value_note(formula, place + 1, column))


def read_sheet(arrived: ArrivedFile, sheet: str | None, is_list: Callable[[list[RawRow]], bool]) -> ReadSheet:
    """Return the sheet named, or the first one that ``is_list`` knows as a list, or the first with any cells.

    Raises the refusals ``file_damaged``, ``file_password``, ``table_too_large``, ``sheet_missing``, ``sheets_empty``.
    """
    with _faults_in_words(arrived):
        look = _looked_into(arrived)
        workbook = python_calamine.CalamineWorkbook.from_object(io.BytesIO(arrived.content))
        names = [one.name for one in workbook.sheets_metadata if one.typ == python_calamine.SheetTypeEnum.WorkSheet]
        if sheet is not None and sheet not in names:
            text = N_("{file} has no sheet named {sheet}; it has {sheets}. Choose one of them.")
            raise Refusal("sheet_missing", text, file=arrived.name, sheet=sheet, sheets=", ".join(names))
        first: ReadSheet | None = None
        for name in [sheet] if sheet is not None else names:
            read = _one_sheet(arrived, workbook, name, tuple(names), look(name))
            if read.rows and (sheet is not None or is_list(read.rows)):
                return read
            first = first or (read if read.rows else None)
        if first is None:
            text = N_("{file} has no cells with anything in them. Choose another file, or ask for the list again.")
            raise Refusal("sheets_empty", text, file=arrived.name)
        return first


def _one_sheet(
    arrived: ArrivedFile,
    workbook: python_calamine.CalamineWorkbook,
    name: str,
    names: tuple[str, ...],
    contents: SheetContents,
) -> ReadSheet:
    _refuse_far_cells(arrived, contents)
    cells = workbook.get_sheet_by_name(name)
    if cells.total_height * cells.total_width > MOST_CELLS:
        raise too_many_cells(arrived.name)
    notes: list[TableNote] = []
    rows = _rows(cells.to_python(skip_empty_area=False), contents, notes)
    return ReadSheet(rows, notes, name, names)
