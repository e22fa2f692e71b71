"""Tables that go out: CSV and XLSX in which identifiers stay what they are, written whole or not at all."""

from __future__ import annotations

import csv
import errno
import io
import os
import re
import tempfile
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import IO

import xlsxwriter
from xlsxwriter.exceptions import FileCreateError

from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.odd_cells import defused
from findsdesk.words import N_

Cell = str | int | float | bool | date | datetime | None
_AS_THEY_ARE = frozenset({int, float, type(None)})
"""Cells that the csv module writes as ``_text`` says them."""
_FULL = frozenset({errno.ENOSPC, errno.EDQUOT, errno.EFBIG})
_WIDEST_COLUMN = 60
_LONGEST_CELL = 32_767
"""Most characters a spreadsheet cell holds (XlsxWriter refuses more)."""
MOST_ROWS = 1_048_576


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet to write: its name (31 characters at most), its headers, its rows."""

    name: str
    headers: Sequence[str]
    rows: Iterable[Sequence[Cell]]


def _text(cell: Cell) -> str:
    """Return a cell as text; only texts are marked against formulas, numbers and dates never."""
    if cell is None:
        return ""
    if isinstance(cell, str):
        return defused(cell)
    if isinstance(cell, bool):
        return "TRUE" if cell else "FALSE"
    if isinstance(cell, date):
        return cell.isoformat()
    return str(cell)


def see_the_folder(path: Path) -> None:
    """Refuse ``cannot_write`` where a file is to be written into what is no folder."""
    try:
        there = path.parent.is_dir()
    except OSError:  # what the system forbids is said with the writing
        there = True
    if not there:
        text = N_("{file} cannot be written: there is no folder {folder}. Choose another folder, or make it first.")
        raise Refusal("cannot_write", text, file=path.name, folder=str(path.parent))


def cannot_write(path: Path, fault: OSError) -> Refusal:
    """Return the refusal ``cannot_write`` with what the system says: that the disk is full is said as such."""
    why = fault.strerror or str(fault) or type(fault).__name__
    if fault.errno in _FULL or "disk is full" in why:
        text = N_(
            "{file} cannot be written: the disk is full ({why}). Make room or take another folder; the old stays."
        )
    else:
        text = N_("{file} cannot be written ({why}). Close it elsewhere, or choose another folder; the old stays.")
    return Refusal("cannot_write", text, file=str(path), why=why)


@contextmanager
def written_whole(path: Path) -> Iterator[IO[bytes]]:
    """Open a file beside its place and, when all is written, put it there in one step: it is there whole or not at all.

    Raises the refusal ``cannot_write`` where the folder is read-only, full or missing, or the file is open elsewhere.
    """
    see_the_folder(path)
    beside: Path | None = None
    try:
        try:
            with tempfile.NamedTemporaryFile(dir=path.parent, prefix=f".{path.name}.", delete=False) as stream:
                beside = Path(stream.name)
                yield stream
                stream.flush()
                os.fsync(stream.fileno())
            beside.chmod(0o644)
            beside.replace(path)
        finally:
            if beside is not None:
                beside.unlink(missing_ok=True)
    except OSError as fault:
        raise cannot_write(path, fault) from fault


def write_csv(
    headers: Sequence[str],
    rows: Iterable[Sequence[Cell]],
    path: Path,
    *,
    for_spreadsheet: bool,
    separator: str = ",",
) -> int:
    """Write a table as CSV in UTF-8 with ISO dates and decimal points, and return the number of rows.

    ``for_spreadsheet`` puts a byte order mark before it, without which spreadsheet programs misread letters. Texts
    that a program would take for a formula get an apostrophe before them, which our reader takes off again.
    """
    written = 0
    with written_whole(path) as whole:
        stream = io.TextIOWrapper(whole, encoding="utf-8-sig" if for_spreadsheet else "utf-8", newline="")
        # RFC 4180 ends a line with both signs; the writer then also puts quotes around a text that holds one of them.
        writer = csv.writer(stream, delimiter=separator, lineterminator="\r\n")
        writer.writerow([_text(header) for header in headers])
        for row in rows:
            writer.writerow([cell if type(cell) in _AS_THEY_ARE else _text(cell) for cell in row])
            written += 1
        stream.flush()
        stream.detach()
    return written


def write_xlsx(sheets: Iterable[Sheet], path: Path) -> int:
    """Write tables as sheets of one XLSX file and return the number of rows.

    Texts (identifiers with them) are typed as text with the format "@", so that no program turns 3-11 into a date or
    3E5 into a number; numbers stay numbers, dates are dates shown in ISO form.
    """
    with written_whole(path) as whole:
        try:
            return _write_book(whole, sheets)
        except FileCreateError as wrapped:
            # What the system said is its only argument.
            raise OSError(*wrapped.args[0].args) from wrapped


def _write_book(whole: IO[bytes], sheets: Iterable[Sheet]) -> int:
    written = 0
    with xlsxwriter.Workbook(_Spoilable(whole), {"constant_memory": True}) as book:
        formats = {
            "text": book.add_format({"num_format": "@", "valign": "top"}),
            "head": book.add_format({"bold": True, "num_format": "@", "bottom": 1}),
            "day": book.add_format({"num_format": "yyyy-mm-dd"}),
            "moment": book.add_format({"num_format": "yyyy-mm-dd hh:mm"}),
        }
        for sheet in sheets:
            written += _write_sheet(book, sheet, formats)
    return written


class _Spoilable:
    """A stream that takes nothing more once a writing failed: what packs the workbook tries again when it is let go.

    From then on it only counts, so that whoever goes on finds the places expected.
    """

    def __init__(self, stream: IO[bytes]) -> None:
        self._stream, self._spoiled, self._place = stream, False, 0

    def write(self, content: bytes) -> int:
        """Write, or only count after a failure."""
        if not self._spoiled:
            self._place = self._stream.tell()
            try:
                return self._stream.write(content)
            except OSError:
                self._spoiled = True
                raise
        self._place += len(content)
        return len(content)

    def seek(self, place: int, whence: int = 0) -> int:
        """Go to a place."""
        if not self._spoiled:
            return self._stream.seek(place, whence)
        self._place = place
        return place

    def tell(self) -> int:
        """Return the place."""
        return self._place if self._spoiled else self._stream.tell()

    def flush(self) -> None:
        """Hand on what is held."""
        if not self._spoiled:
            self._stream.flush()

    def seekable(self) -> bool:
        """Tell that places can be gone to."""
        return True


def _sheet_name(name: str) -> str:
    """Return a name as a sheet may have it: no more than 31 signs, none of those that spreadsheets refuse."""
    return " ".join(re.sub(r"[\[\]:*?/\\']", " ", name).split())[:31].strip() or "-"


def _write_sheet(book: xlsxwriter.Workbook, sheet: Sheet, formats: dict[str, object]) -> int:
    page = book.add_worksheet(_sheet_name(sheet.name))
    widths = [len(header) for header in sheet.headers]
    for column, header in enumerate(sheet.headers):
        page.write_string(0, column, header, formats["head"])
    page.freeze_panes(1, 0)
    line = 0
    for line, row in enumerate(sheet.rows, 1):
        if line >= MOST_ROWS:
            text = N_("A sheet holds {limit} rows; this list has more. Choose a narrower filter, or write CSV.")
            raise Refusal("sheet_full", text, limit=f"{MOST_ROWS:,}")
        for column, cell in enumerate(row):
            _write_cell(page, line, column, cell, formats)
            if column < len(widths) and line < 200:
                widths[column] = max(widths[column], len(_text(cell)))
    for column, width in enumerate(widths):
        page.set_column(column, column, min(width + 2, _WIDEST_COLUMN))
    return line


def _write_cell(
    page: xlsxwriter.worksheet.Worksheet, line: int, column: int, cell: Cell, formats: dict[str, object]
) -> None:
    if cell is None:
        return
    if isinstance(cell, str):
        if len(cell) > _LONGEST_CELL:
            text = N_("A text in row {line} is too long for a spreadsheet cell. Write CSV instead.")
            raise Refusal("cell_too_long", text, line=line + 1)
        page.write_string(line, column, cell, formats["text"])
    elif isinstance(cell, bool):
        page.write_boolean(line, column, cell)
    elif isinstance(cell, datetime):
        page.write_datetime(line, column, cell.replace(tzinfo=None), formats["moment"])
    elif isinstance(cell, date):
        page.write_datetime(line, column, cell, formats["day"])
    else:
        page.write_number(line, column, cell)
