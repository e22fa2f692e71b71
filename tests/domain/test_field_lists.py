"""Field lists: columns matched, rows read, questions in plain words, and what changed in a corrected list."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from findsdesk.domain.field_lists import (
    FieldList,
    ListedRow,
    changed_columns,
    column_of,
    match_columns,
    read_field_list,
    read_row,
    same_row,
)
from findsdesk.domain.raw_tables import RawRow, RawTable, TableNote
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.words import Terms

TERMS = Terms("context", "contexts", "bucket", "buckets", "square", "squares")
SEASON = (date(2026, 7, 6), date(2026, 8, 16))
HEADERS = ("Bucket", "Context", "Square", "Date", "Supervisor", "Material", "Description", "Parts", "Elevation")
GOOD = ("131", "2017", "B2", "2026-07-14", "Bryn Hallo", "pottery", "sieved", "", "")


def table(*rows: tuple[str, ...], headers=HEADERS, separator: str | None = ",", notes=()) -> RawTable:
    raw = tuple(RawRow(line, row) for line, row in enumerate(rows, 2))
    return RawTable(headers, raw, "csv", "utf-8", separator, tuple(notes), "0" * 64)


def listed(*rows: tuple[str, ...], headers=HEADERS, separator: str | None = ",", notes=(), **options) -> FieldList:
    raw = table(*rows, headers=headers, separator=separator, notes=notes)
    match = match_columns(raw.headers, TERMS, given=options.get("given"))
    return read_field_list(raw, match, season=SEASON, terms=TERMS, **options)


def row(**changes: str) -> tuple[str, ...]:
    named = dict(
        zip(
            ("number", "deposit", "square", "day", "supervisor", "material", "text", "parts", "elev"), GOOD, strict=True
        )
    )
    return tuple((named | changes).values())


def codes(one: ListedRow) -> list[str]:
    return [doubt.code for doubt in one.doubts]


@pytest.mark.parametrize(
    ("header", "column"),
    [
        ("Bucket", "number"), ("bucket no.", "number"), ("No", "number"), ("Nº", "number"), ("#", "number"),
        ("Basket Number", "number"), ("Find no.", "number"), ("Container", "number"), ("BUCKET #", "number"),
        ("Context", "deposit"), ("Ctx No.", "deposit"), ("Locus", "deposit"), ("Unit", "deposit"), ("US", "deposit"),
        ("Stratigraphic unit", "deposit"), ("Deposit (new)", "deposit"),
        ("Grid square", "square"), ("Sq.", "square"), ("Trench", "square"),
        ("Date dug", "collected_on"), ("DATE", "collected_on"), ("Collected on", "collected_on"),
        ("Recorded by", "supervisor"), ("Supervisor", "supervisor"),
        ("Find type", "material"), ("Finds", "material"), ("Matérial", "material"),
        ("Remarks", "description"), ("Notes", "description"), ("No. of parts", "parts"),
        ("Elev. (m)", "elevation"), ("Level", "elevation"),
        ("Soil (l)", None), ("", None), ("Weather", None),
    ],
)  # fmt: skip
def test_headers_are_known_in_their_common_spellings(header, column) -> None:
    # The spellings: common practice, no source.
    assert column_of(header, TERMS) == column


def test_the_excavations_own_words_go_before_other_spellings() -> None:
    own = Terms("feature", "features", "lot", "lots", "unit", "units")
    match = match_columns(("Lot no.", "Unit", "Feature", "Locus", "Date", "Material"), own)
    assert match.mapping == {"number": 0, "deposit": 2, "square": 1, "collected_on": 4, "material": 5}
    assert match.unused == ("Locus",)


def test_a_remembered_match_goes_before_everything_and_can_leave_a_header_out() -> None:
    match = match_columns(("Thing", "Bucket", "Context", "Date"), TERMS, {"thing": "number", "bucket": ""})
    assert match.mapping["number"] == 0
    assert match.unused == ("Bucket",)
    assert match.missing == ("material",)
    assert column_of("THING", TERMS, {"thing": "number"}) == "number"
    assert column_of("Bucket", TERMS, {"bucket": ""}) is None
    assert column_of("Context", TERMS, {"thing": "number"}) == "deposit"


def test_missing_columns_are_named_with_the_headers_that_were_seen() -> None:
    with pytest.raises(Refusal) as caught:
        listed(("131", "B2"), headers=("Bucket", "Square"))
    assert caught.value.code == "missing_columns"
    assert caught.value.facts["columns"] == ("deposit", "collected_on", "material")
    assert "context, date, material" in caught.value.in_words(TERMS)
    assert "Bucket, Square" in caught.value.in_words(TERMS)


def test_a_value_told_beside_the_list_stands_for_a_missing_column() -> None:
    read = listed(
        ("131", "2017"), headers=("Bucket", "Context"), given={"collected_on": "2026-07-14", "material": "pottery"}
    )
    assert (read.rows[0].collected_on, read.rows[0].material, read.waiting) == (date(2026, 7, 14), "pottery", ())


def test_a_good_row_is_read_without_a_doubt() -> None:
    read = listed(row(parts="1 of 2", elev="4.21"))
    assert read.rows == (
        ListedRow(2, "131", "2017", "B2", date(2026, 7, 14), "Bryn Hallo", "pottery", "sieved", 2, 4210, ()),
    )
    assert (read.clear, read.waiting, read.notes) == (read.rows, (), ())


@pytest.mark.parametrize(
    "written",
    [
        "2017",
        " 2017 ",
        "\u00a02017\u00a0",
        "\ufeff2017",
        "2017\u200b",
        '"2017"',
        "'2017",
        "(2017)",
        "[2017]",
        "２０１７",
    ],
)
def test_blanks_quotes_and_brackets_go_without_a_question(written) -> None:
    (one,) = listed(row(deposit=written)).rows
    assert (one.deposit, one.doubts) == ("2017", ())


@pytest.mark.parametrize(
    "written",
    [
        "ctx 2017 ", "context 2017", "Ctx.2017", "ctx2017", "context no. 2017", "Locus 2017", "#2017", "no. 2017",
        "2017.0", "2,017", "20 17", "2017?", "2017 *",
    ],
)  # fmt: skip
def test_what_was_cleaned_by_guessing_is_asked_about(written) -> None:
    (one,) = listed(row(deposit=written)).rows
    assert one.deposit == "2017"
    assert len(one.doubts) == 1
    assert one.doubts[0].column == "deposit"
    said = one.doubts[0].in_words(TERMS)
    assert "2017" in said
    assert "context" in said
    assert said.endswith("?")


def test_squares_are_read_with_or_without_a_blank() -> None:
    assert [one.square for one in listed(row(square=" B 2"), row(number="132", square="b2")).rows] == ["B2", "b2"]


def test_a_habit_of_the_whole_list_is_told_once_and_not_asked() -> None:
    read = listed(*(row(number=str(number), deposit=f"ctx {number}") for number in (2017, 2018, 2019)))
    assert [one.deposit for one in read.rows] == ["2017", "2018", "2019"]
    assert read.waiting == ()
    assert [note.code for note in read.notes] == ["cleaned_throughout"]
    assert "ctx 2017" in read.notes[0].in_words(TERMS)


def test_numbers_that_the_excavation_has_are_taken_as_they_stand() -> None:
    rows = [row(number=str(number), deposit=f"SU {number}") for number in (1, 2, 3)]
    assert [one.deposit for one in listed(*rows).rows] == ["1", "2", "3"]
    assert [one.deposit for one in listed(*rows, known={"deposit": ["SU 1", "su 2", "SU3"]}).rows] == [
        "SU 1",
        "SU 2",
        "SU 3",
    ]


@pytest.mark.parametrize("written", ["3E5", "3.00E+05", "2026-11-03", "3-Nov", "Mar-11", "03/11/2026", "11.3.26"])
def test_identifiers_changed_by_a_spreadsheet_are_asked_about(written) -> None:
    (one,) = listed(row(number=written)).rows
    assert codes(one) == ["changed_by_spreadsheet"]
    assert written in one.doubts[0].in_words(TERMS)


def test_lost_zeros_are_asked_about_with_the_number_that_may_be_meant() -> None:
    read = listed(row(number="007"), row(number="008"), row(number="9"))
    assert [one.number for one in read.rows] == ["007", "008", "009"]
    assert [codes(one) for one in read.rows] == [[], [], ["changed_by_spreadsheet"]]


@pytest.mark.parametrize("written", ["=A5+1", "13;1", "<131", "13#1"])
def test_signs_that_no_number_has_are_asked_about(written) -> None:
    assert codes(listed(row(number=written)).rows[0]) == ["odd_signs"]


def test_what_is_missing_in_a_row_is_a_question_of_that_row_alone() -> None:
    read = listed(
        row(),
        row(number=""),
        row(number="133", deposit="", material=""),
        row(number="134", day=" "),
        row(number="Total"),
    )
    assert [codes(one) for one in read.rows] == [
        [],
        ["number_missing"],
        ["deposit_missing", "material_missing"],
        ["collected_on_missing"],
        ["number_unreadable"],
    ]
    assert read.clear == read.rows[:1]


def test_square_and_supervisor_may_be_left_out() -> None:
    assert listed(row(square="", supervisor="")).waiting == ()


def test_blank_rows_and_a_header_row_repeated_are_no_rows() -> None:
    read = listed(row(), ("", " ") + ("",) * 7, HEADERS, row(number="132"))
    assert [one.number for one in read.rows] == ["131", "132"]


def test_a_list_without_rows_is_refused() -> None:
    with pytest.raises(Refusal) as caught:
        listed(HEADERS)
    assert caught.value.code == "list_empty"


def test_ditto_marks_take_the_value_above_with_a_question() -> None:
    read = listed(row(), row(number="132", deposit='"', material="ditto"), row(number="133", deposit="do."))
    assert [(one.deposit, one.material) for one in read.rows] == [("2017", "pottery")] * 3
    assert [codes(one) for one in read.rows] == [[], ["as_above", "as_above"], ["as_above"]]


def test_a_number_twice_is_asked_about_and_the_same_row_twice_is_dropped() -> None:
    read = listed(row(), row(), row(deposit="2019"))
    assert [codes(one) for one in read.rows] == [[], ["number_twice"]]
    assert "first on line 2" in read.rows[1].doubts[0].in_words(TERMS)
    by_square = listed(row(), row(square="B3", deposit="2019"), by_square=True)
    assert by_square.waiting == ()


def test_questions_of_the_file_reader_come_to_the_row_if_the_cell_is_used() -> None:
    notes = [
        TableNote("formula_without_value", "({formula})?", {"formula": "=A1"}, 2, 0, asks=True),
        TableNote("error_value", "{value}?", {"value": "#REF!"}, 3, 99, asks=True),
        TableNote("row_too_long", "{beyond}?", {"beyond": "5"}, 3, asks=True),
        TableNote("formula", "{value}", {"value": "132"}, 3, 0),
    ]
    read = listed(row(), row(number="132"), notes=notes)
    assert [codes(one) for one in read.rows] == [["formula_without_value"], ["row_too_long"]]
    assert read.rows[0].doubts[0].column == "number"
    assert [note.code for note in read.notes] == ["formula"]


@pytest.mark.parametrize(
    ("written", "parts"), [("", 1), ("2", 2), ("2.0", 2), ("2 parts", 2), ("1/2", 2), ("1 of 3", 3)]
)
def test_parts_are_read(written, parts) -> None:
    assert listed(row(parts=written)).rows[0].parts == parts


@pytest.mark.parametrize("written", ["0", "many", "-1", "1.5", "200"])
def test_parts_that_cannot_be_are_asked_about(written) -> None:
    assert codes(listed(row(parts=written)).rows[0]) == ["parts_unreadable"]


def test_a_row_kept_as_plain_values_comes_back_the_same() -> None:
    (one,) = listed(row(deposit="ctx 2017", day="nonsense")).rows
    assert ListedRow.from_plain(one.as_plain()) == one
    (good,) = listed(row()).rows
    assert ListedRow.from_plain(good.as_plain()) == good


def test_a_row_can_be_read_alone() -> None:
    one = read_row(7, GOOD, {"number": 0, "deposit": 1, "material": 5, "collected_on": 3})
    assert (one.line, one.number, one.square, one.doubts) == (7, "131", "", ())


def test_two_rows_differ_in_the_columns_that_say_something_else() -> None:
    old = listed(row(), row(number="132")).rows
    new = listed(row(deposit="2019", material="bone"), row(number="132", text="SIEVED ")).rows
    assert [changed_columns(*pair) for pair in zip(old, new, strict=True)] == [("deposit", "material"), ()]


def test_two_rows_are_the_same_whatever_their_line_and_doubts() -> None:
    (one,) = listed(row()).rows
    (other,) = listed(row(deposit="ctx 2017")).rows
    assert other.doubts
    assert same_row(one, replace(other, line=99))
    assert not same_row(one, replace(one, parts=2))


@given(st.lists(st.lists(st.text(max_size=12), min_size=9, max_size=9), min_size=1, max_size=6))
def test_no_row_whatever_it_says_breaks_the_reading(rows: list[list[str]]) -> None:
    try:
        read = listed(*map(tuple, rows))
    except Question:
        return
    except Refusal as refusal:
        if refusal.code != "list_empty":
            raise
        return
    for one in read.rows:
        assert all("{" not in doubt.in_words(TERMS) or "{" in "".join(map("".join, rows)) for doubt in one.doubts)
