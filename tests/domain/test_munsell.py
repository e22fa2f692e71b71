"""Munsell notations: what is read, what is refused, and the nearest chip."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from findsdesk.domain.munsell import FAMILIES, HIGHEST_CHROMA, degree_of, highest_chroma, hues_apart, read_munsell
from findsdesk.domain.munsell_chips import CHROMAS, TABLE
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.swatches import swatch


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("red", "not_munsell"),
        ("", "not_munsell"),
        ("10YR 5/", "not_munsell"),
        ("10YR", "not_munsell"),
        ("10 5/4", "not_munsell"),
        ("10YX 5/4", "not_munsell"),
        ("N 5/3", "not_munsell"),
        ("10YR -5/4", "not_munsell"),
        ("10YR 5.5.5/2", "not_munsell"),
        ("12.5YR 5/4", "hue_range"),
        ("100R 5/4", "hue_range"),
        ("10YR 11/2", "value_range"),
        ("N 10.5/", "value_range"),
        ("10YR 6-5/4", "span_reversed"),
        ("10YR 5/8-6", "span_reversed"),
        ("N 5-4/", "span_reversed"),
        ("10YR 0/2", "chroma_without_light"),
        ("10YR 10/1", "chroma_without_light"),
        ("10YR 3/14", "chroma_range"),
        ("5Y 2/8", "chroma_range"),
        ("2.5YR 5/6-40", "chroma_range"),
    ],
)
def test_impossible_colours_are_refused_in_words(text: str, code: str) -> None:
    with pytest.raises(Refusal) as caught:
        read_munsell(text)
    assert caught.value.code == code
    assert f"“{text}”" in caught.value.in_words()


def test_hue_zero_is_ten_of_the_hue_before() -> None:
    assert str(read_munsell("0YR 5/4")) == "10R 5/4"
    assert str(read_munsell("0R 5/4")) == "10RP 5/4"


def test_a_decimal_comma_and_odd_blanks_are_forgiven() -> None:
    assert str(read_munsell(" 7,5 yr  6,5 / 3,5 ")) == "7.5YR 6.5/3.5"


def test_the_refusal_says_what_is_possible() -> None:
    with pytest.raises(Refusal) as caught:
        read_munsell("10YR 3/14")
    assert "at most /8" in caught.value.in_words()


@given(st.integers(1, 40), st.sampled_from(FAMILIES), st.integers(2, 18), st.sampled_from(("0", "1", "1.5", "2", "2+")))
def test_what_is_read_reads_back(quarters: int, family: str, halves: int, chroma: str) -> None:
    colour = read_munsell(f"{quarters / 4:g}{family} {halves / 2:g}/{chroma}")
    assert read_munsell(str(colour)) == colour


def test_every_chip_of_the_table_is_a_colour_that_can_be_read() -> None:
    chips = 0
    for line in TABLE.splitlines():
        hue, value, most, *colours = line.split()
        if hue == "N":
            continue
        for chroma, _colour in zip(CHROMAS, colours, strict=False):
            found = swatch(read_munsell(f"{hue} {value}/{chroma}"))
            assert found.exact, found
            assert chroma <= int(most)
            chips += 1
    assert chips > 1700


def test_hues_go_round_in_a_circle() -> None:
    assert degree_of("10RP") == 100
    assert hues_apart(degree_of("10RP"), degree_of("2.5R")) == Fraction(5, 2)


def test_the_limit_between_hues_is_the_higher_of_both() -> None:
    between = read_munsell("8.75YR 5/2")
    assert highest_chroma(between) == max(HIGHEST_CHROMA["7.5YR", Fraction(5)], HIGHEST_CHROMA["10YR", Fraction(5)])


@pytest.mark.parametrize(
    ("text", "chip"),
    [
        ("7.5YR 6.5/3.5", "7.5YR 6/3"),
        ("8YR 5/4", "7.5YR 5/4"),
        ("9YR 5/4", "10YR 5/4"),
        ("1R 5/4", "10RP 5/4"),
        ("2.5YR 5/6-10", "2.5YR 5/8"),
        ("10YR 2.5/1", "10YR 2.5/1"),
        ("10YR 5/0.2", "N 5/"),
        ("N 2-3/", "N 2.5/"),
        ("5R 5/18", "5R 5/12"),
    ],
)
def test_the_nearest_chip_stands_for_a_colour_between(text: str, chip: str) -> None:
    found = swatch(read_munsell(text))
    assert found.chip == chip
    assert found.exact == (text == chip)


def test_a_colour_no_screen_shows_is_marked() -> None:
    assert not swatch(read_munsell("10YR 6/12")).within_screen
    assert swatch(read_munsell("10YR 6/4")).within_screen
