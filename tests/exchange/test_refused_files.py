"""Files that are no list, too large, damaged, protected or hostile: each refused in words, nothing unfolded."""

from __future__ import annotations

import io
import struct
import zipfile
from pathlib import Path

import pytest
import xlsxwriter

from findsdesk.domain.refusals import Refusal
from findsdesk.exchange import arriving_files
from findsdesk.exchange.tables import read_table

HEAD = "Bucket,Context,Date,Material\n"
ROWS = "131,2017,2026-07-14,pottery\n132,2019,2026-07-14,bone\n"


def write(folder: Path, content: bytes | str, name: str = "list.csv") -> Path:
    path = folder / name
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return path


def refused(path: Path, **options) -> Refusal:
    with pytest.raises(Refusal) as caught:
        read_table(path, **options)
    assert "{" not in caught.value.in_words()
    return caught.value


def spreadsheet(path: Path) -> Path:
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("List")
        sheet.write_row(0, 0, ["Bucket", "Context", "Date", "Material"])
        for row in range(1, 40):
            sheet.write_row(row, 0, [row, 2017, "2026-07-14", f"pottery {row}"])
        sheet.write_formula(3, 0, "=A3+1", None, 3)
    return path


def test_a_missing_file_a_folder_and_an_empty_file_are_refused(tmp_path) -> None:
    assert refused(tmp_path / "none.csv").code == "file_missing"
    assert refused(tmp_path).code == "file_is_folder"
    assert refused(write(tmp_path, b"")).code == "file_empty"
    assert refused(write(tmp_path, "\n \n,,\n")).code == "table_blank"


def test_a_file_that_cannot_be_opened_is_refused_with_the_reason(tmp_path, monkeypatch) -> None:
    path = write(tmp_path, HEAD + ROWS)

    def locked(*_arguments: object, **_options: object) -> None:
        raise PermissionError(13, "The process cannot access the file because it is being used")

    monkeypatch.setattr(Path, "open", locked)
    refusal = refused(path)
    assert refusal.code == "file_unreadable"
    assert "being used" in refusal.in_words()


def test_a_file_above_200_megabytes_is_refused_unread(tmp_path) -> None:
    path = tmp_path / "big.csv"
    with path.open("wb") as stream:
        stream.truncate(200_000_001)
    refusal = refused(path)
    assert (refusal.code, refusal.facts["limit"]) == ("file_too_large", 200)


@pytest.mark.parametrize(
    ("start", "code"),
    [
        (b"%PDF-1.7 and more", "not_a_table"),
        (b"\x89PNG\r\n\x1a\n", "not_a_table"),
        (b"<!DOCTYPE html><table><tr><td>131", "not_a_table"),
        (b"Bucket,Context\n131,\x00\x01\x02\n", "not_a_table"),
        (b"PK\x03\x04 broken off", "file_damaged"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\x00" * 600, "file_old_format"),
        (
            b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\x00" * 600 + "EncryptedPackage".encode("utf-16-le"),
            "file_password",
        ),
    ],
)
def test_what_is_no_table_is_told_by_its_bytes(tmp_path, start, code) -> None:
    assert refused(write(tmp_path, start, "list.csv")).code == code


def test_a_text_file_named_like_a_spreadsheet_is_called_damaged(tmp_path) -> None:
    assert refused(write(tmp_path, HEAD + ROWS, "list.xlsx")).code == "file_damaged"


def test_a_zip_that_is_no_spreadsheet_is_no_table(tmp_path) -> None:
    with zipfile.ZipFile(tmp_path / "a.zip", "w") as archive:
        archive.writestr("photo.txt", "x")
    assert refused(tmp_path / "a.zip").code == "not_a_table"


@pytest.mark.parametrize("keep", [0.2, 0.5, 0.9, 0.99])
def test_a_spreadsheet_cut_short_is_damaged(tmp_path, keep) -> None:
    whole = spreadsheet(tmp_path / "whole.xlsx").read_bytes()
    assert refused(write(tmp_path, whole[: int(len(whole) * keep)], "cut.xlsx")).code == "file_damaged"


def rewritten(source: Path, target: Path, member: str, content: bytes | None) -> Path:
    """Copy a spreadsheet with one member replaced, or left out."""
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as new:
        for one in old.namelist():
            if one != member:
                new.writestr(one, old.read(one))
        if content is not None:
            new.writestr(member, content)
    return target


@pytest.mark.parametrize("content", [None, b"", b"<worksheet><sheetData><row", b"\xff\xfe\x00nonsense"])
def test_a_spreadsheet_with_a_broken_sheet_is_damaged(tmp_path, content) -> None:
    source = spreadsheet(tmp_path / "whole.xlsx")
    path = rewritten(source, tmp_path / "broken.xlsx", "xl/worksheets/sheet1.xml", content)
    assert refused(path).code == "file_damaged"


def test_a_reader_that_panics_is_a_damaged_file(tmp_path, monkeypatch) -> None:
    panic = type("PanicException", (BaseException,), {})

    def panics(*_arguments: object) -> None:
        raise panic("index out of bounds")

    monkeypatch.setattr("findsdesk.exchange.spreadsheets.sheet_members", panics)
    assert refused(spreadsheet(tmp_path / "list.xlsx")).code == "file_damaged"


def test_a_document_type_in_a_spreadsheet_is_never_resolved(tmp_path) -> None:
    laughs = b'<!DOCTYPE x [<!ENTITY a "lol"><!ENTITY b "&a;&a;&a;&a;">]><worksheet><sheetData/></worksheet>'
    source = spreadsheet(tmp_path / "whole.xlsx")
    assert refused(rewritten(source, tmp_path / "x.xlsx", "xl/worksheets/sheet1.xml", laughs)).code == "file_damaged"


def test_one_cell_at_the_far_corner_is_refused_before_memory_is_asked_for(tmp_path) -> None:
    with xlsxwriter.Workbook(tmp_path / "far.xlsx") as book:
        sheet = book.add_worksheet()
        sheet.write_row(0, 0, ["Bucket", "Context"])
        sheet.write(1_048_575, 16_383, "x")
    refusal = refused(tmp_path / "far.xlsx")
    assert refusal.code == "table_too_large"
    assert "1,000,000" in refusal.in_words()


def test_far_cells_that_are_only_formatted_do_no_harm(tmp_path) -> None:
    with xlsxwriter.Workbook(tmp_path / "far.xlsx") as book:
        sheet = book.add_worksheet()
        sheet.write_row(0, 0, ["Bucket", "Context"])
        sheet.write_row(1, 0, ["131", "2017"])
        sheet.write_blank(1_048_575, 200, None, book.add_format({"bold": True}))
    assert [row.cells for row in read_table(tmp_path / "far.xlsx").rows] == [("131", "2017")]


def test_a_text_file_with_too_many_cells_is_refused(tmp_path, monkeypatch) -> None:
    monkeypatch.setattr("findsdesk.exchange.text_tables.MOST_CELLS", 1000)
    assert refused(write(tmp_path, HEAD + "131,2017,2026-07-14,pottery\n" * 250)).code == "table_too_large"


def test_a_bomb_is_refused_by_its_directory(tmp_path) -> None:
    path = tmp_path / "bomb.xlsx"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/workbook.xml", b"0" * 30_000_000)
    assert refused(path).code == "file_unpacks_too_large"


def test_too_many_members_are_refused(tmp_path) -> None:
    path = tmp_path / "many.xlsx"
    with zipfile.ZipFile(path, "w") as archive:
        for number in range(arriving_files.MOST_MEMBERS + 1):
            archive.writestr(f"m{number}", b"")
    assert refused(path).code == "file_unpacks_too_large"


def test_a_directory_that_claims_a_gigabyte_is_refused(tmp_path) -> None:
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w") as archive:
        archive.writestr("xl/workbook.xml", b"x" * 100)
    raw = bytearray(content.getvalue())
    place = raw.rindex(b"PK\x01\x02") + 24  # uncompressed size in the central directory (APPNOTE 4.3.12, from memory)
    raw[place : place + 4] = struct.pack("<I", 2_000_000_000)
    assert refused(write(tmp_path, bytes(raw), "claim.xlsx")).code == "file_unpacks_too_large"


def test_an_encrypted_member_is_a_password(tmp_path) -> None:
    raw = bytearray(spreadsheet(tmp_path / "whole.xlsx").read_bytes())
    place = raw.rindex(b"PK\x01\x02") + 8  # general purpose flags in the central directory (from memory)
    raw[place] |= 1
    assert refused(write(tmp_path, bytes(raw), "locked.xlsx")).code == "file_password"


def test_a_spreadsheet_without_cells_is_refused(tmp_path) -> None:
    xlsxwriter.Workbook(tmp_path / "empty.xlsx").close()
    assert refused(tmp_path / "empty.xlsx").code == "sheets_empty"
