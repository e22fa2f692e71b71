"""Writing tables: what goes out comes back the same, identifiers stay text, and a failed write leaves nothing."""

from __future__ import annotations

import csv
import errno
import gc
import io
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from findsdesk.domain.refusals import Refusal
from findsdesk.exchange import writing
from findsdesk.exchange.odd_cells import defused, undefused
from findsdesk.exchange.tables import read_table
from findsdesk.exchange.writing import Cell, Sheet, cannot_write, write_csv, write_xlsx

HEADERS = ("Bucket", "Context", "Notes")
NAMES_IN_FIVE_SCRIPTS = ("Sherd", "Κεραμίδι", "Черепок", "חרס", "陶片")
DANGEROUS = ("=1+1", "+A1", "-1-2", "@x", "{=1}", "'=1", "''-1", "\t=1", "007", "3-11", "3E5", "12-3-7", "1,5", '"so"')


def read_back(path: Path) -> list[tuple[str, ...]]:
    return [row.cells for row in read_table(path).rows]


@given(st.text(alphabet=st.characters(codec="utf-8")))
def test_the_mark_against_formulas_comes_off_exactly(text: str) -> None:
    marked = defused(text)
    assert undefused(marked) == text
    assert not marked.startswith(("=", "+", "-", "@", "\t", "\r"))


@pytest.mark.parametrize("for_spreadsheet", [True, False])
def test_csv_comes_back_the_same(tmp_path, for_spreadsheet) -> None:
    rows = [(str(place), text, "two\nlines") for place, text in enumerate(DANGEROUS + NAMES_IN_FIVE_SCRIPTS)]
    path = tmp_path / "register.csv"
    assert write_csv(HEADERS, rows, path, for_spreadsheet=for_spreadsheet) == len(rows)
    assert read_back(path) == rows
    assert path.read_bytes().startswith(b"\xef\xbb\xbf") is for_spreadsheet


# Control signs (a carriage return with them) are what a spreadsheet cell itself does not keep.
WRITTEN = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")), max_size=20)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.from_regex(r"[1-9][0-9]{0,4}", fullmatch=True), WRITTEN, WRITTEN), min_size=1, max_size=8))
def test_any_text_survives_csv_and_spreadsheet(rows: list[tuple[str, str, str]]) -> None:
    # An error value or our own hint for a separator would be read as what it says; neither is a text of a register.
    given_rows = [tuple("x" if cell.startswith(("#", "Err:")) else cell for cell in row) for row in rows]
    with tempfile.TemporaryDirectory() as folder:
        write_csv(HEADERS, given_rows, Path(folder) / "a.csv", for_spreadsheet=False)
        write_xlsx([Sheet("Register", HEADERS, given_rows)], Path(folder) / "a.xlsx")
        assert read_back(Path(folder) / "a.csv") == given_rows
        assert read_back(Path(folder) / "a.xlsx") == given_rows


def test_identifiers_are_typed_text_in_a_spreadsheet(tmp_path) -> None:
    # Source: openpyxl 3.1 as an independent reader says what type a cell has.
    path = tmp_path / "register.xlsx"
    rows = [(text, text, 131) for text in DANGEROUS]
    write_xlsx([Sheet("Register", HEADERS, rows)], path)
    sheet = openpyxl.load_workbook(path).active
    for line, text in enumerate(DANGEROUS, 2):
        cell = sheet.cell(line, 1)
        assert (cell.data_type, cell.number_format, cell.value) == ("s", "@", text)
        assert sheet.cell(line, 3).data_type == "n"


def test_numbers_dates_and_moments_keep_their_kind(tmp_path) -> None:
    moment = datetime(2026, 7, 14, 14, 40, tzinfo=UTC)
    rows: list[tuple[Cell, ...]] = [("131", -5, date(2026, 7, 14)), ("132", 2.5, moment), ("133", None, True)]
    write_xlsx([Sheet("Register", HEADERS, rows)], tmp_path / "a.xlsx")
    write_csv(HEADERS, rows, tmp_path / "a.csv", for_spreadsheet=False)
    assert read_back(tmp_path / "a.xlsx")[:2] == [("131", "-5", "2026-07-14"), ("132", "2.5", "2026-07-14T14:40")]
    text = (tmp_path / "a.csv").read_text(encoding="utf-8")
    assert text == "Bucket,Context,Notes\n131,-5,2026-07-14\n132,2.5,2026-07-14T14:40:00+00:00\n133,,TRUE\n"


def test_a_line_break_within_a_text_ends_no_row(tmp_path) -> None:
    # RFC 4180, 2.6: a field with a line break stands in quotes. The csv module reads it back on its own.
    rows = [("131", "a\rb", "c\nd"), ("132", "e\r\nf", "\r")]
    for for_spreadsheet in (True, False):
        write_csv(HEADERS, rows, tmp_path / "a.csv", for_spreadsheet=for_spreadsheet)
        with (tmp_path / "a.csv").open(encoding="utf-8-sig", newline="") as file:
            assert [tuple(row) for row in csv.reader(file)][1:] == [("131", "a\rb", "c\nd"), ("132", "e\r\nf", "'\r")]


def test_several_sheets_go_into_one_file(tmp_path) -> None:
    sheets = [Sheet("Contexts", HEADERS, [("1", "2017", "")]), Sheet("Buckets", HEADERS, [("131", "2017", "x")])]
    assert write_xlsx(sheets, tmp_path / "a.xlsx") == 2
    assert [row.cells for row in read_table(tmp_path / "a.xlsx", sheet="Buckets").rows] == [("131", "2017", "x")]


def rows_that_fail():
    yield ("131", "2017", "")
    raise RuntimeError("the reading of the register broke off")


@pytest.mark.parametrize("name", ["a.csv", "a.xlsx"])
def test_a_write_that_breaks_off_leaves_the_old_file_and_nothing_beside_it(tmp_path, name) -> None:
    path = tmp_path / name
    path.write_bytes(b"what stood there before")

    def write() -> int:
        if name == "a.csv":
            return write_csv(HEADERS, rows_that_fail(), path, for_spreadsheet=True)
        return write_xlsx([Sheet("Register", HEADERS, rows_that_fail())], path)

    with pytest.raises(RuntimeError, match="broke off"):
        write()
    assert path.read_bytes() == b"what stood there before"
    assert [one.name for one in tmp_path.iterdir()] == [name]


def test_a_folder_that_is_not_there_is_refused(tmp_path) -> None:
    with pytest.raises(Refusal) as caught:
        write_csv(HEADERS, [], tmp_path / "none" / "a.csv", for_spreadsheet=False)
    assert caught.value.code == "cannot_write"
    said = f"a.csv cannot be written: there is no folder {tmp_path / 'none'}. Choose another folder, or make it first."
    assert caught.value.in_words() == said


def test_a_path_below_a_file_is_refused_as_no_folder(tmp_path) -> None:
    (tmp_path / "a.csv").write_text("a table")
    with pytest.raises(Refusal) as caught:
        write_csv(HEADERS, [], tmp_path / "a.csv" / "b.csv", for_spreadsheet=False)
    assert caught.value.code == "cannot_write"
    assert caught.value.in_words().startswith(f"b.csv cannot be written: there is no folder {tmp_path / 'a.csv'}.")
    assert (tmp_path / "a.csv").read_text() == "a table"


def test_a_read_only_folder_is_refused_in_words(tmp_path, monkeypatch) -> None:
    # Who runs the tests as root may write anywhere: the system's answer is given instead.
    def read_only(*_arguments: object, **_options: object) -> None:
        raise OSError(30, "Read-only file system")

    monkeypatch.setattr(tempfile, "NamedTemporaryFile", read_only)
    with pytest.raises(Refusal) as caught:
        write_xlsx([Sheet("Register", HEADERS, [])], tmp_path / "a.xlsx")
    assert caught.value.code == "cannot_write"
    assert "Read-only file system" in caught.value.in_words()
    assert list(tmp_path.iterdir()) == []


def test_a_text_too_long_for_a_cell_is_refused_and_never_cut(tmp_path) -> None:
    with pytest.raises(Refusal) as caught:
        write_xlsx([Sheet("Register", HEADERS, [("131", "2017", "x" * 32_768)])], tmp_path / "a.xlsx")
    assert caught.value.code == "cell_too_long"
    assert list(tmp_path.iterdir()) == []


class SmallDisk(io.BytesIO):
    """Holds so many bytes and no more."""

    def write(self, content: Any) -> int:
        if self.tell() + len(content) > 700:
            raise OSError(errno.ENOSPC, "No space left on device")
        return super().write(content)


def test_a_workbook_that_does_not_fit_is_refused_once_and_nothing_comes_after(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    @contextmanager
    def small(path: Path) -> Iterator[SmallDisk]:
        try:
            with SmallDisk() as disk:
                yield disk
        except OSError as fault:
            raise cannot_write(path, fault) from fault

    monkeypatch.setattr(writing, "written_whole", small)
    with pytest.raises(Refusal) as caught:
        write_xlsx([Sheet("Groups", ("ware",), [("QRS",)] * 50)], tmp_path / "groups.xlsx")
    assert caught.value.in_words().startswith(f"{tmp_path / 'groups.xlsx'} cannot be written: the disk is full (")
    del caught
    gc.collect()  # what was left of the workbook is let go here: it must not write again
