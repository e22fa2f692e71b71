"""Natural order of numbers and folding for searches."""

from __future__ import annotations

import random
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from findsdesk.domain.natural_order import folded, sort_key

# Written in the order a person would put them; each stands strictly before the next.
IN_ORDER = [
    "0", "1", "1-1", "1-2", "1-10", "1/11", "1.12", "1a", "1b", "1b2", "1b10", "1c", "2", "2-1", "2a", "2A1",
    "3", "9", "10", "10-1", "10-2", "10-10", "10a", "10a1", "10a2", "10a11", "10b", "10z", "10ä1", "11", "11a", "99",
    "100", "101", "999", "1000", "2003", "2017", "2017-9", "2017-131", "2017-1310", "2017a", "2031", "99999999",
    "100000000", "123456789012", "1234567890123", "A1", "a2", "A2b", "A10", "A10a", "B1", "B02", "b10", "C4", "P 3",
    "VE-24-009", "VE-26-014", "Z", "αλφα 2", "αλφα 10", "Я1",
]  # fmt: skip
PLACED_ELSEWHERE = {"10ä1"}

ALIKE = [
    ("2017-131", "2017–131"),
    ("2017-131", "2017 131"),
    ("007", "7"),
    ("É5", "e5"),
    ("ＡＢ１２", "ab12"),
    ("٢٠١٧", "2017"),
    ("Straße 2", "STRASSE 2"),
    ("  12   a ", "12 a"),
    ("Ø4", "o4"),
    ("½", "1/2"),
    ("12\u00ad3", "123"),
    ("10 a", "10a"),
    ("10-A", "10a"),
    ("A 2", "a2"),
    ("#12", "12"),
]


def test_numbers_stand_as_people_read_them() -> None:
    expected = [number for number in IN_ORDER if number not in PLACED_ELSEWHERE]
    assert len(expected) >= 60
    shuffled = expected[:]
    random.Random(26).shuffle(shuffled)
    assert sorted(shuffled, key=sort_key) == expected
    assert len({sort_key(number) for number in expected}) == len(expected)


def test_an_accent_does_not_move_a_number() -> None:
    assert sort_key("10a") < sort_key("10ä1") < sort_key("10a2")


@pytest.mark.parametrize(("one", "other"), ALIKE)
def test_ways_of_writing_the_same_number_share_a_key(one: str, other: str) -> None:
    assert sort_key(one) == sort_key(other)


@given(st.text(max_size=400))
def test_a_key_is_short_ascii_without_blanks_at_the_ends(text: str) -> None:
    key = sort_key(text)
    assert key.isascii()
    assert len(key) <= 200
    assert key == key.strip()


@given(st.integers(0, 10**40), st.integers(0, 10**40))
def test_whole_numbers_sort_by_size(one: int, other: int) -> None:
    assert (sort_key(str(one)) < sort_key(str(other))) == (one < other)


def as_people_read(text: str) -> list[tuple[int, int, str]]:
    """Return the parts of a number to compare: an independent statement of the order, for plain letters and digits."""
    parts = re.findall(r"[0-9]+|[a-z]", text.lower())
    return [(0, int(part), "") if part.isdigit() else (1, 0, part) for part in parts]


@given(st.from_regex(r"[A-Za-z0-9]{0,12}", fullmatch=True), st.from_regex(r"[A-Za-z0-9]{0,12}", fullmatch=True))
def test_letters_and_digits_sort_as_people_read_them(one: str, other: str) -> None:
    assert (sort_key(one) < sort_key(other)) == (as_people_read(one) < as_people_read(other))


def test_a_very_long_number_of_zeros_is_zero() -> None:
    assert sort_key("0" * 500) == sort_key("0")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("  Rímské  NÁDOBY ", "rimske nadoby"),
        ("2017–131", "2017-131"),
        ("2017—131", "2017-131"),
        ("2017\u2212131", "2017-131"),
        ("STRASSE Straße", "strasse strasse"),
        ("Łódź Ørsted Đồng", "lodz orsted dong"),
        ("ﬁne", "fine"),
        ("Τεῖχος", "τειχοσ"),
        ("a\u00a0b\tc\nd", "a b c d"),
        ("İstanbul ılık", "istanbul ilik"),
        ("١٢", "12"),
        ("", ""),
    ],
)
def test_searches_fold_case_accents_dashes_and_blanks(text: str, expected: str) -> None:
    assert folded(text) == expected


@given(st.text())
def test_folding_twice_changes_nothing(text: str) -> None:
    assert folded(folded(text)) == folded(text)


@given(st.text(st.characters(max_codepoint=0x24F)))
def test_case_makes_no_difference_to_a_search(text: str) -> None:
    assert folded(text.swapcase()) == folded(text)
