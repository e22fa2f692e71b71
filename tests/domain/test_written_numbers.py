"""Identifiers and quantities as people write them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from findsdesk.domain.field_lists import match_columns, read_field_list
from findsdesk.domain.raw_tables import RawRow, RawTable
from findsdesk.domain.refusals import Question
from findsdesk.domain.written_numbers import (
    Identifier,
    decimal_of,
    identifier_key,
    letters_like_digits,
    read_identifier,
    read_millimetres,
    written_number,
    zero_width_of,
)
from findsdesk.words import Terms


@pytest.mark.parametrize("written", ["131", "2017a", "B2", "TQ131", "10-1", "2017/2018", "12.3", "North 2", "Topsoil"])
def test_what_is_an_identifier_already_stays(written) -> None:
    assert read_identifier(written, "deposit", Terms()) == Identifier(written)


def test_two_letters_grown_together_with_a_number_are_part_of_it() -> None:
    assert read_identifier("SU12", "deposit", Terms()) == Identifier("SU12")
    assert read_identifier("SU 12", "deposit", Terms()) == Identifier("12", "word")
    assert read_identifier("bag 12", "deposit", Terms()) == Identifier("bag 12")


@given(st.integers(0, 10**9), st.sampled_from(["", " ", "\u00a0", "\t", '"', "\u200b"]))
def test_wrapping_never_changes_a_number(number: int, wrap: str) -> None:
    assert read_identifier(f"{wrap}{number}{wrap}", "number", Terms()) == Identifier(str(number))


@given(st.text(max_size=15))
def test_cleaning_a_second_time_changes_nothing_unless_it_was_a_guess(text: str) -> None:
    once = read_identifier(text, "deposit", Terms())
    if not once.cleaned:
        assert identifier_key(read_identifier(once.value, "deposit", Terms()).value) == identifier_key(once.value)


@pytest.mark.parametrize(("column", "width"), [(["007", "012", "7"], 3), (["7", "12"], 0), (["07", "007"], 0), ([], 0)])
def test_the_width_of_numbers_filled_with_zeros(column, width) -> None:
    assert zero_width_of(column) == width


@pytest.mark.parametrize(
    ("column", "sign"),
    [
        (["4,21", "3,9"], ","), (["4.21"], "."), (["1.234,5"], ","), (["1,234.5"], "."), (["4", "5"], "."), ([], "."),
        (["4,215"], None), (["4.215"], None), (["4,215", "4,2"], ","), (["0,215"], ","), (["1.234.567"], ","),
        (["4,2", "4.2"], None),
    ],
)  # fmt: skip
def test_the_decimal_sign_is_decided_by_the_column(column, sign) -> None:
    assert decimal_of(column) == sign


@pytest.mark.parametrize(
    ("written", "sign", "millimetres"),
    [
        ("4,21", ",", 4210), ("4.215 m", ".", 4215), ("-0,4", ",", -400), ("−0.25", ".", -250),
        ("1.234,5", ",", 1_234_500), ("12", ".", 12_000), ("+3.1", ".", 3100), ("4.2 masl", ".", 4200),
        ("4,2,1", ",", None), ("high", ".", None), ("", ".", None), ("1 234,5", ",", 1_234_500),
        ("4,2", ".", None), ("4.21", ",", None), ("0,215", ".", None), ("1,23,456", ".", None), ("4 2", ".", None),
        ("4,2", None, 4200), ("0.215", None, 215), ("4.215", None, None), ("1.234,5", None, 1_234_500),
    ],
)  # fmt: skip
def test_elevations_become_whole_millimetres(written, sign, millimetres) -> None:
    assert read_millimetres(written, sign) == millimetres


@given(st.integers(0, 99_999_999), st.sampled_from([".", ","]))
def test_a_sign_between_thousands_has_three_digits_after_it_each_time(number: int, decimal) -> None:
    """OWN: thousands are parted by Python's own format, which puts three digits after each sign."""
    parting = "," if decimal == "." else "."
    grouped = f"{number:,}".replace(",", parting)
    assert written_number(grouped).reading(decimal) == number
    for cut in (1, 2):
        if parting in grouped:
            assert written_number(grouped[:-cut]).reading(decimal) is None


@pytest.mark.parametrize(
    ("column", "odd"),
    [
        (["5101", "51O4"], {"51O4": "5104"}), (["5101", "510o"], {"510o": "5100"}),
        (["l012", "2044"], {"l012": "1012"}),
        (["51O4"], {"51O4": "5104"}), (["12", "12l"], {}), (["510o"], {}), (["5101", "5101a"], {}),
        (["51A4", "51O4"], {}), (["O", "TQ1", "I"], {}), (["5101", "5102"], {}),
    ],
)  # fmt: skip
def test_a_letter_in_place_of_a_digit_is_seen_by_the_other_numbers(column, odd) -> None:
    """Which letters are taken for digits is common practice, no source."""
    assert letters_like_digits(column) == odd


@given(st.integers(-99_999_999, 99_999_999), st.sampled_from([".", ","]))
def test_millimetres_come_back_whatever_the_decimal_sign(millimetres: int, sign) -> None:
    whole, rest = divmod(abs(millimetres), 1000)
    written = f"{'-' if millimetres < 0 else ''}{whole}{sign}{rest:03d}"
    assert read_millimetres(written, sign) == millimetres


def elevations(column: list[str], separator: str | None, **options):
    headers = ("Bucket", "Context", "Date", "Material", "Elevation")
    rows = tuple(
        RawRow(line, (str(line), "2017", "2026-07-14", "pottery", cell)) for line, cell in enumerate(column, 2)
    )
    table = RawTable(headers, rows, "csv", None, separator, (), "")
    return read_field_list(table, match_columns(headers), **options)


def test_where_the_column_does_not_tell_the_form_of_the_file_does() -> None:
    assert elevations(["4,215"], ";").rows[0].elevation_mm == 4215
    assert elevations(["4.215"], ",").rows[0].elevation_mm == 4215
    assert elevations(["4.215"], None).rows[0].elevation_mm == 4215


def test_a_decimal_sign_that_nothing_tells_is_one_question() -> None:
    with pytest.raises(Question) as caught:
        elevations(["4.215", "4.300"], ";")
    assert caught.value.code == "decimal_unsure"
    assert "4.215" in caught.value.in_words()
    assert elevations(["4.215"], ";", decimal=".").rows[0].elevation_mm == 4215


def test_a_list_with_both_decimal_signs_is_told_and_only_its_unclear_rows_wait() -> None:
    listing = elevations(["4.21", "3,9", "4,215"], ";")
    assert [note.code for note in listing.notes] == ["decimal_signs_mixed"]
    assert [row.elevation_mm for row in listing.rows] == [4210, 3900, None]
    assert [[doubt.code for doubt in row.doubts] for row in listing.rows] == [[], [], ["elevation_unreadable"]]
    assert [row.elevation_mm for row in elevations(["4.21", "3,9", "4,215"], ";", decimal=",").rows] == [
        None,
        3900,
        4215,
    ]


def test_an_elevation_that_cannot_be_read_is_a_question_of_its_row() -> None:
    listing = elevations(["4.21", "high"], ",")
    assert [[doubt.code for doubt in row.doubts] for row in listing.rows] == [[], ["elevation_unreadable"]]
