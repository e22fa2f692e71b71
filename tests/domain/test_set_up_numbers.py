"""Numbers of a set-up. Year counting: ISO 8601 counts years as astronomers do, with 0000 for 1 BCE (from memory)."""

import pytest

from findsdesk.domain.refusals import Refusal
from findsdesk.domain.set_up_numbers import read_per_mille, read_tenths_of_mm, read_whole, read_year, year_in_words


@pytest.mark.parametrize(("typed", "year"), [("180", 180), ("1 BCE", 0), ("50 bc", -49), ("420 CE", 420)])
def test_years_before_the_turn_are_counted_as_astronomers_do(typed: str, year: int) -> None:
    assert read_year(typed) == year


@pytest.mark.parametrize("year", [-49, 0, 1, 180])
def test_a_year_in_words_is_read_back_as_the_same_year(year: int) -> None:
    assert read_year(year_in_words(year)) == year


@pytest.mark.parametrize(
    ("read", "typed", "value"),
    [
        (read_whole, "36", 36),
        (read_whole, "36.0", 36),
        (read_per_mille, "2", 20),
        (read_per_mille, "2,5 %", 25),
        (read_per_mille, "100", 1000),
        (read_tenths_of_mm, "2.5", 25),
        (read_tenths_of_mm, "2 mm", 20),
    ],
)
def test_numbers_are_read_in_small_units(read: object, typed: str, value: int) -> None:
    assert read(typed) == value  # type: ignore[operator]


@pytest.mark.parametrize(
    ("read", "typed", "code"),
    [
        (read_whole, "1.5", "fraction"),
        (read_whole, "-1", "negative"),
        (read_whole, "1.234.567", "group_separator"),
        (read_whole, "six", "not_a_number"),
        (read_whole, "6 h", "not_a_number"),
        (read_per_mille, "101", "not_a_share"),
        (read_per_mille, "2.55", "too_fine"),
        (read_per_mille, "-1", "negative"),
        (read_year, "180.5", "fraction"),
        (read_year, "0 BCE", "no_year_nought"),
        (read_year, "0", "no_year_nought"),
        (read_year, "-49", "which_year"),
        (read_year, "1000000", "year_range"),
        (read_year, "TQT000131D", "code_in_number_field"),
    ],
)
def test_what_cannot_be_is_refused(read: object, typed: str, code: str) -> None:
    with pytest.raises(Refusal) as told:
        read(typed)  # type: ignore[operator]
    assert told.value.code == code
    assert typed in told.value.in_words()
