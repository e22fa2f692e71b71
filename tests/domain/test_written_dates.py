"""Dates as people write them: every common form, and the order of day and month decided by the column."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl.utils.datetime import to_excel

from findsdesk.domain.field_lists import match_columns, read_field_list
from findsdesk.domain.raw_tables import RawRow, RawTable
from findsdesk.domain.refusals import Question
from findsdesk.domain.written_dates import day_order_by_season, day_order_of, written_date

SEASON = (date(2026, 7, 6), date(2026, 8, 16))
JULY_14 = date(2026, 7, 14)


def read(days: list[str], **options):
    rows = tuple(RawRow(line, (str(line), "2017", day, "pottery")) for line, day in enumerate(days, 2))
    table = RawTable(("Bucket", "Context", "Date", "Material"), rows, "csv", "utf-8", ",", (), "")
    return read_field_list(table, match_columns(table.headers), **({"season": SEASON} | options))


@pytest.mark.parametrize(
    "written",
    [
        "2026-07-14", "2026/7/14", "2026.07.14", "20260714", "2026-07-14T14:40", "2026-07-14 00:00:00",
        "14/07/26", "14/7/2026", "14.07.2026", "14.7.26.", "14-07-2026", "07/14/26", "14 7 2026",
        "14 July 2026", "14th July 2026", "14 Jul 26", "14-Jul-2026", "July 14, 2026", "Jul 14 2026", "14 JULY 2026",
        "Tue 14 July 2026", "Tuesday, 14 July 2026", "14 July", "14/07", "14th of July", "\u00a014/07/26 ", "46217",
    ],
)  # fmt: skip
def test_every_common_form_is_read(written) -> None:
    one = written_date(written, SEASON)
    assert one is not None
    assert one.reading("dmy") == JULY_14


@given(st.dates(date(2000, 1, 1), date(2060, 12, 31)))
def test_a_spreadsheets_day_number_is_read(day: date) -> None:
    # Source: openpyxl 3.1, an independent library, converts the date into the day number.
    one = written_date(str(int(to_excel(day))))
    assert one is not None
    assert one.reading("ymd") == day


@pytest.mark.parametrize(
    "written", ["", "x", "14", "31/02/26", "32/13/26", "14 Juhl 2026", "ju 14 2026", "2026-13-01", "14/07/126", "131"]
)
def test_what_is_no_date_is_not_guessed(written) -> None:
    assert written_date(written, SEASON) is None


def test_a_date_without_a_year_needs_a_season_within_one_year() -> None:
    assert written_date("14 July") is None
    assert written_date("14 July", (date(2026, 12, 1), date(2027, 1, 31))) is None


@pytest.mark.parametrize(
    ("column", "order"),
    [
        (["2026-07-14", "14 July 2026"], "ymd"),
        (["03/07/26", "14/07/26"], "dmy"),
        (["07/03/26", "07/14/26"], "mdy"),
        (["03/07/26", "04/07/26"], None),
        (["03/14/26", "14/03/26"], None),
        (["07/07/26"], "ymd"),
        (["03.07.2026"], "dmy"),
        ([], "ymd"),
        (["rubbish"], "ymd"),
    ],
)
def test_the_order_is_decided_by_the_column_as_a_whole(column, order) -> None:
    assert day_order_of(column) == order


@given(
    st.lists(st.dates(SEASON[0], SEASON[1]), min_size=1, max_size=8),
    st.sampled_from(["%d/%m/%y", "%m/%d/%Y", "%d.%m.%Y"]),
)
def test_an_order_that_is_decided_gives_the_dates_that_were_written(days: list[date], form: str) -> None:
    column = [day.strftime(form) for day in days]
    order = day_order_of(column) or day_order_by_season(column, SEASON)
    if order is not None:
        assert [one.reading(order) for text in column if (one := written_date(text))] == days


def test_a_column_that_can_be_read_both_ways_is_one_question() -> None:
    with pytest.raises(Question) as caught:
        read(["08/07/26", "09/07/26", "10/07/26"], season=None)
    assert caught.value.code == "day_order_unsure"
    assert caught.value.facts["choices"] == ("dmy", "mdy")
    assert "2026-07-08 or 2026-08-07" in caught.value.in_words()
    answered = read(["08/07/26", "09/07/26"], season=None, day_order="mdy")
    assert [row.collected_on for row in answered.rows] == [date(2026, 8, 7), date(2026, 9, 7)]


def test_the_season_decides_where_only_one_order_lies_within_it() -> None:
    listing = read(["06/07/26", "07/07/26"])
    assert [row.collected_on for row in listing.rows] == [date(2026, 7, 6), date(2026, 7, 7)]
    assert [note.code for note in listing.notes] == ["day_order_by_season"]


def test_the_season_does_not_decide_where_both_orders_lie_within_it() -> None:
    with pytest.raises(Question):
        read(["08/07/26"])


def test_today_decides_where_one_order_lies_in_the_future() -> None:
    assert read(["08/07/26"], today=date(2026, 7, 8)).rows[0].collected_on == date(2026, 7, 8)


def test_neither_season_nor_today_decides_where_no_order_fits_both() -> None:
    """Day first is still to come, month first lies before the season: the sentence that names both would be untrue."""
    with pytest.raises(Question):
        read(["03/08/26"], today=date(2026, 7, 14))
    with pytest.raises(Question):
        read(["03/08/26"], season=None, today=date(2026, 7, 14))


def test_what_was_answered_before_is_used_last_and_told() -> None:
    listing = read(["08/07/26"], day_order_before="mdy")
    assert listing.rows[0].collected_on == date(2026, 8, 7)
    assert [note.code for note in listing.notes] == ["day_order_as_before"]
    assert read(["08/07/26", "14/07/26"], day_order_before="mdy").day_order == "dmy"


def test_dates_in_two_orders_in_one_list_leave_only_the_unclear_rows_waiting() -> None:
    listing = read(["14/07/26", "07/15/26", "08/07/26", "07/07/26"])
    assert [note.code for note in listing.notes] == ["day_orders_mixed"]
    assert [row.collected_on for row in listing.clear] == [JULY_14, date(2026, 7, 15), date(2026, 7, 7)]
    (waiting,) = listing.waiting
    assert waiting.doubts[0].code == "date_two_ways"
    assert "2026-07-08 or 2026-08-07" in waiting.doubts[0].in_words()


def test_dates_that_cannot_be_read_or_lie_outside_are_questions_of_their_rows() -> None:
    listing = read(["2026-07-14", "soon", "2025-07-14", "2026-07-16", "46217"], today=date(2026, 7, 15))
    assert [[doubt.code for doubt in row.doubts] for row in listing.rows] == [
        [],
        ["date_unreadable"],
        ["date_outside_season"],
        ["date_in_future"],
        [],
    ]
    (serial,) = read(["46217"], season=None).rows
    assert [doubt.code for doubt in serial.doubts] == ["date_serial"]


@given(st.text(max_size=20))
def test_no_text_breaks_the_reading_of_a_date(text: str) -> None:
    one = written_date(text, SEASON)
    assert one is None or one.reading(None) is not None


def test_the_lengths_of_years_are_those_of_the_calendar() -> None:
    leap = written_date("29/02/24")
    assert leap is not None
    assert leap.as_dmy == date(2024, 2, 28) + timedelta(days=1)
    assert written_date("29/02/26") is None
