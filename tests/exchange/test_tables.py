"""Reading tables that people bring: encodings, separators, header rows, formulas, and every refusal in words."""

from __future__ import annotations

import re
import zipfile
from datetime import date, datetime, time
from pathlib import Path

import openpyxl
import pytest
import xlsxwriter

from findsdesk.domain.refusals import Question, Refusal
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
    assert len(caught.value.in_words().split()) <= 40
    assert "{" not in caught.value.in_words()
    return caught.value


def cells(path: Path, **options) -> list[tuple[str, ...]]:
    return [row.cells for row in read_table(path, **options).rows]


def test_a_plain_list_comes_as_text_with_line_numbers(tmp_path) -> None:
    table = read_table(write(tmp_path, HEAD + "\n" + ROWS))
    assert table.headers == ("Bucket", "Context", "Date", "Material")
    assert [(row.line_number, row.cells[0]) for row in table.rows] == [(3, "131"), (4, "132")]
    assert (table.format, table.encoding, table.separator, table.notes) == ("csv", "utf-8", ",", ())


def test_the_digest_is_that_of_the_bytes(tmp_path) -> None:
    # Source: NIST FIPS 180-4 examples, SHA-256 of the three bytes "abc" (from memory).
    assert read_table(write(tmp_path, "abc")).digest == (
        "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    )
    one = read_table(write(tmp_path, HEAD + ROWS, "a.csv")).digest
    assert one == read_table(write(tmp_path, HEAD + ROWS, "b.csv")).digest
    assert one != read_table(write(tmp_path, HEAD + ROWS + "\n", "c.csv")).digest


@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
def test_the_separator_is_found(tmp_path, separator) -> None:
    text = (HEAD + ROWS).replace(",", separator)
    table = read_table(write(tmp_path, text))
    assert table.separator == separator
    assert len(table.headers) == 4


def test_decimal_commas_do_not_mislead_the_separator(tmp_path) -> None:
    text = "Bucket;Context;Soil (l)\n131;2017;12,5\n132;2017;8,25\n133;2017;9,5\n"
    assert read_table(write(tmp_path, text)).separator == ";"


def test_a_separator_told_in_the_first_line_is_taken(tmp_path) -> None:
    table = read_table(write(tmp_path, "sep=|\nBucket|Context\n131|2017\n"))
    assert (table.separator, table.headers, table.rows[0].line_number) == ("|", ("Bucket", "Context"), 3)


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "utf-32"])
def test_a_byte_order_mark_tells_the_encoding(tmp_path, encoding) -> None:
    path = write(tmp_path, ("Bucket,Context\n131,façade Ω 窯\n").encode(encoding))
    assert cells(path) == [("131", "façade Ω 窯")]


def test_windows_1252_is_asked_about_with_a_line_that_can_be_read(tmp_path) -> None:
    path = write(tmp_path, "Bucket,Context,Notes\n131,2017,plain\n132,2017,façade – ½ jar\n".encode("cp1252"))
    with pytest.raises(Question) as caught:
        read_table(path)
    assert caught.value.code == "encoding_unsure"
    assert caught.value.facts["encoding"] == "cp1252"
    assert "façade – ½ jar" in str(caught.value.facts["preview"])
    assert cells(path, encoding="cp1252")[1][2] == "façade – ½ jar"


def test_utf_16_without_a_mark_is_asked_about(tmp_path) -> None:
    path = write(tmp_path, (HEAD + ROWS).encode("utf-16-le"))
    question = refused(path)
    assert (question.code, question.facts["encoding"]) == ("encoding_unsure", "utf-16-le")
    assert cells(path, encoding="utf-16-le")[0][0] == "131"


def test_the_wrong_encoding_told_is_refused(tmp_path) -> None:
    path = write(tmp_path, "Bucket,Context\n131,façade\n".encode("cp1252"))
    assert refused(path, encoding="ascii").code == "encoding_wrong"
    assert refused(path, encoding="nonsense").code == "encoding_unknown"


def test_titles_above_the_header_row_are_passed_over_and_kept(tmp_path) -> None:
    table = read_table(write(tmp_path, "Tannery Quay,,,\nSquare B2,14 July,,\n\n" + HEAD + ROWS))
    assert table.headers[0] == "Bucket"
    assert table.title_lines == ("Tannery Quay", "Square B2 14 July")
    assert table.rows[0].line_number == 5


def test_a_row_with_more_cells_than_headers_asks(tmp_path) -> None:
    table = read_table(write(tmp_path, HEAD + "131,2017,2026-07-14,pottery,5\n" + "132,2017\n"))
    assert [(note.code, note.asks, note.line_number) for note in table.notes] == [("row_too_long", True, 2)]
    assert table.rows[1].cells == ("132", "2017", "", "")


def test_line_breaks_inside_quotes_keep_the_line_numbers_true(tmp_path) -> None:
    table = read_table(write(tmp_path, 'Bucket,Context,Notes\n131,2017,"two\nlines, ""so"""\n132,2017,one\n'))
    assert [row.line_number for row in table.rows] == [2, 4]
    assert table.rows[0].cells[2] == 'two\nlines, "so"'


def test_old_line_ends_are_read(tmp_path) -> None:
    assert cells(write(tmp_path, (HEAD + ROWS).replace("\n", "\r")))[1][0] == "132"


def test_a_quotation_mark_left_open_is_refused_with_its_line(tmp_path) -> None:
    refusal = refused(write(tmp_path, HEAD + '131,2017,2026-07-14,"pottery\n132,2019,2026-07-14,bone\n'))
    assert (refusal.code, refusal.facts["line"]) == ("quote_open", 2)


def test_formulas_in_a_text_file(tmp_path) -> None:
    table = read_table(write(tmp_path, 'Bucket,Context,Notes\n"=""007""",2017,x\n=A2+1,2017,#REF!\n'))
    assert table.rows[0].cells[0] == "007"
    assert table.rows[1].cells == ("", "2017", "")
    assert [(note.code, note.line_number, note.column, note.asks) for note in table.notes] == [
        ("formula", 2, 0, False),
        ("formula_without_value", 3, 0, True),
        ("error_value", 3, 2, True),
    ]


def spreadsheet(path: Path) -> Path:
    """A list as a spreadsheet program saves it: title, gap, formula, error, dates, whole and broken numbers."""
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("List")
        sheet.write(0, 0, "Tannery Quay, squares A4 and B4")
        for column, header in enumerate(["Bucket", "Context", "Date", "Elevation"]):
            sheet.write(2, column, header)
        day = book.add_format({"num_format": "dd/mm/yy"})
        for row, number in enumerate([133, 134, 135, 136]):
            sheet.write_number(3 + row, 0, number)
            sheet.write_number(3 + row, 1, 2023)
            sheet.write_datetime(3 + row, 2, date(2026, 7, 14), day)
            sheet.write_number(3 + row, 3, 4.215)
        sheet.write_formula(4, 0, "=A4+1", None, 134)
        sheet.write_formula(5, 0, "=A99", None, "")
        sheet.write_formula(6, 3, "=1/0", None, "#DIV/0!")
        book.add_worksheet("Weather").write(0, 0, "sun")
    return path


def test_a_spreadsheet_gives_whole_numbers_iso_dates_and_notes_on_formulas(tmp_path) -> None:
    table = read_table(spreadsheet(tmp_path / "sefi.xlsx"))
    assert (table.format, table.sheet, table.sheets) == ("xlsx", "List", ("List", "Weather"))
    assert [row.line_number for row in table.rows] == [4, 5, 6, 7]
    assert table.rows[0].cells == ("133", "2023", "2026-07-14", "4.215")
    told = [(note.code, note.line_number, note.column, note.asks) for note in table.notes]
    assert told == [
        ("other_sheets", None, None, False),
        ("formula", 5, 0, False),
        ("formula_without_value", 6, 0, True),
        ("error_value", 7, 3, True),
    ]
    assert table.rows[1].cells[0] == "134"
    assert table.rows[3].cells[3] == ""


def test_a_sheet_can_be_named(tmp_path) -> None:
    path = spreadsheet(tmp_path / "sefi.xlsx")
    assert read_table(path, sheet="Weather").headers == ("sun",)
    refusal = refused(path, sheet="Rain")
    assert refusal.code == "sheet_missing"
    assert "List, Weather" in refusal.in_words()


def test_the_sheet_with_the_list_is_found_behind_another(tmp_path) -> None:
    with xlsxwriter.Workbook(tmp_path / "two.xlsx") as book:
        book.add_worksheet("Read me").write(0, 0, "please fill in the second sheet")
        sheet = book.add_worksheet("Buckets")
        sheet.write_row(0, 0, ["Bucket", "Context"])
        sheet.write_row(1, 0, ["131", "2017"])
    assert read_table(tmp_path / "two.xlsx").sheet == "Buckets"


def test_a_file_written_by_an_independent_library_reads_the_same(tmp_path) -> None:
    # Source: openpyxl 3.1 writes the file and reads it back; both readers must agree on every cell.
    book = openpyxl.Workbook()
    sheet = book.active
    rows = [("Bucket", "Context", "Date"), (131, "0017", date(2026, 7, 14)), ("3-11", 2.5, date(2026, 2, 28))]
    for row in rows:
        sheet.append(row)
    book.save(tmp_path / "other.xlsx")
    again = openpyxl.load_workbook(tmp_path / "other.xlsx").active
    theirs = [
        tuple(value.date().isoformat() if isinstance(value, datetime) else str(value) for value in row)
        for row in again.iter_rows(min_row=2, values_only=True)
    ]
    assert cells(tmp_path / "other.xlsx") == theirs


ODS = """<?xml version="1.0" encoding="UTF-8"?>
<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0"
 xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0"
 xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"
 office:version="1.3"><office:body><office:spreadsheet><table:table table:name="List">
 <table:table-row><table:table-cell office:value-type="string"><text:p>Bucket</text:p></table:table-cell>
 <table:table-cell office:value-type="string"><text:p>Context</text:p></table:table-cell></table:table-row>
 <table:table-row><table:table-cell office:value-type="float" office:value="131"><text:p>131</text:p></table:table-cell>
 <table:table-cell office:value-type="float" office:value="2017"><text:p>2017</text:p></table:table-cell>
 </table:table-row>
 <table:table-row><table:table-cell table:formula="of:=[.A2]+1" office:value-type="float" office:value="132">
 <text:p>132</text:p></table:table-cell>
 <table:table-cell {repeat} office:value-type="float" office:value="2017"><text:p>2017</text:p></table:table-cell>
 </table:table-row>
 <table:table-row table:number-rows-repeated="1048573"><table:table-cell table:number-columns-repeated="1024"/>
 </table:table-row></table:table></office:spreadsheet></office:body></office:document-content>"""
MANIFEST = """<manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0">
{inside}</manifest:manifest>"""


def ods(path: Path, repeat: str = "", inside: str = "") -> Path:
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        # Spreadsheet programs write no blanks between the elements.
        archive.writestr("content.xml", re.sub(r">\s+<", "><", ODS.replace("{repeat}", repeat)))
        archive.writestr("META-INF/manifest.xml", MANIFEST.replace("{inside}", inside))
    return path


def test_an_ods_file_is_read_with_its_formula_noted(tmp_path) -> None:
    table = read_table(ods(tmp_path / "list.ods"))
    assert [row.cells for row in table.rows] == [("131", "2017"), ("132", "2017")]
    assert [(note.code, note.line_number, note.column) for note in table.notes] == [("formula", 3, 0)]


def test_an_ods_file_that_repeats_a_cell_without_end_is_refused_before_it_is_unfolded(tmp_path) -> None:
    path = ods(tmp_path / "list.ods", 'table:number-columns-repeated="1000000"')
    assert refused(path).code == "table_too_large"


def test_an_ods_file_with_a_password_is_refused(tmp_path) -> None:
    assert refused(ods(tmp_path / "list.ods", inside="<manifest:encryption-data/>")).code == "file_password"


def test_a_quotation_mark_in_the_middle_of_a_cell_is_only_a_sign(tmp_path) -> None:
    path = write(tmp_path, 'Bucket,Context,Notes\n131,2017,"big" jar\n132,2017,rim 12"\n')
    assert [row[2] for row in cells(path)] == ["big jar", 'rim 12"']


def test_other_kinds_of_cells_become_text_as_well(tmp_path) -> None:
    with xlsxwriter.Workbook(tmp_path / "kinds.xlsx") as book:
        sheet = book.add_worksheet()
        sheet.write_row(0, 0, ["Bucket", "Context", "Notes"])
        sheet.write_row(1, 0, [131, 2017, True])
        sheet.write_row(2, 0, [132, 2017, 0.1 + 0.2])
        sheet.write_datetime(3, 0, time(10, 30), book.add_format({"num_format": "hh:mm"}))
        sheet.write_row(4, 0, [1e20, 2017, "#N/A"])
    table = read_table(tmp_path / "kinds.xlsx")
    assert [row.cells[2] for row in table.rows] == ["TRUE", "0.3", "", ""]
    assert [table.rows[2].cells[0], table.rows[3].cells[0]] == ["10:30:00", "1e+20"]
    assert [(note.code, note.line_number) for note in table.notes] == [("error_value", 5)]


def test_addresses_left_out_or_in_single_quotes_are_still_found(tmp_path) -> None:
    # Both are sound XML that other programs may write; a formula must be noted at its true place all the same.
    sheet = """<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>
    <row><c t="inlineStr"><is><t>Bucket</t></is></c><c t="inlineStr"><is><t>Context</t></is></c></row>
    <row><c><v>131</v></c><c><f>A1+1</f><v>2017</v></c></row><row r='3'><c r='A3'><v>132</v></c></row>
    </sheetData></worksheet>"""
    path = spreadsheet(tmp_path / "whole.xlsx")
    other = tmp_path / "other.xlsx"
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(other, "w") as new:
        for name in old.namelist():
            new.writestr(name, sheet if name == "xl/worksheets/sheet1.xml" else old.read(name))
    table = read_table(other)
    assert [row.cells for row in table.rows] == [("131", "2017"), ("132", "")]
    assert [(note.code, note.line_number, note.column) for note in table.notes if note.line_number] == [
        ("formula", 2, 1)
    ]
