from datetime import date

import pytest

from findsdesk.domain.refusals import Refusal
from findsdesk.domain.season_end import CountsFrom, Unit, counted_from, due_on, may_sign_open
from findsdesk.domain.settings import Role

# FROM MEMORY: SQL reckons a month later as the same day of the month, or its last day where there is none
# (PostgreSQL manual, date/time functions: 2001-01-31 and one month is 2001-02-28). The leap year is arithmetic (OWN).
MONTHS_LATER = [
    (date(2001, 1, 31), 1, date(2001, 2, 28)),
    (date(2024, 1, 31), 1, date(2024, 2, 29)),
    (date(2026, 8, 16), 12, date(2027, 8, 16)),
    (date(2026, 8, 31), -6, date(2026, 2, 28)),
    (date(2026, 12, 31), 1, date(2027, 1, 31)),
]


@pytest.mark.parametrize(("day", "months", "due"), MONTHS_LATER)
def test_a_month_later_is_the_same_day_or_the_last_of_the_month(day: date, months: int, due: date) -> None:
    assert due_on(day, months, Unit.MONTHS) == due


def test_weeks_and_days_are_counted_on_and_back() -> None:
    # PUBLISHED rule (archaeology.ie, Excavation reports: within 4 weeks of the season's end); our season: DERIVED.
    assert due_on(date(2026, 8, 16), 4, Unit.WEEKS) == date(2026, 9, 13)
    assert due_on(date(2026, 8, 16), 30, Unit.DAYS) == date(2026, 9, 15)
    assert due_on(date(2026, 8, 16), -7, Unit.DAYS) == date(2026, 8, 9)


def test_an_offset_that_nobody_means_is_refused() -> None:
    with pytest.raises(Refusal) as refused:
        due_on(date(2026, 8, 16), 1201, Unit.DAYS)
    assert refused.value.code == "offset_too_long"


def test_a_deadline_is_counted_from_the_season_or_from_the_day_that_is_said() -> None:
    ends = date(2026, 8, 16)
    assert counted_from(CountsFrom.SEASON_END, ends, None) == ends
    assert counted_from(CountsFrom.CALENDAR_YEAR, ends, None) == date(2026, 12, 31)
    assert counted_from(CountsFrom.FIELDWORK_END, ends, None) is None
    assert counted_from(CountsFrom.CATALOGUE_END, ends, date(2026, 10, 1)) == date(2026, 10, 1)


@pytest.mark.parametrize(
    ("people", "code"),
    [
        ({1: ("Ilo Marr", Role.DIRECTOR)}, "two_sign"),
        ({1: ("Ilo Marr", Role.DIRECTOR), None: ("", None)}, "two_sign"),
        ({1: ("Ilo Marr", Role.DIRECTOR), 2: ("Lio", Role.VOLUNTEER)}, "may_not_sign_open"),
        ({1: ("Tessa Quill", Role.WASH_LEAD), 2: ("Oren Vade", Role.CERAMICIST)}, "nobody_answers"),
    ],
)
def test_two_sign_and_one_of_them_answers_for_it(people: dict[int | None, tuple[str, Role | None]], code: str) -> None:
    with pytest.raises(Refusal) as refused:
        may_sign_open(people)
    assert refused.value.code == code
    may_sign_open({1: ("Ilo Marr", Role.DIRECTOR), 2: ("Tessa Quill", Role.WASH_LEAD)})
