"""Numbers as people type them."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.numbers import grams_in_words, metres_in_words, read_grams, read_metres, read_percent, read_pieces
from findsdesk.domain.refusals import Refusal


def refused(read: Callable[[str], int], text: str) -> str:
    with pytest.raises(Refusal) as caught:
        read(text)
    assert caught.value.in_words()
    return caught.value.code


@pytest.mark.parametrize(
    ("text", "pieces"),
    [
        ("132", 132),
        (" 132 \n", 132),
        ("0", 0),
        ("007", 7),
        ("+5", 5),
        ("-0", 0),
        ("100000", 100_000),
        ("١٣٢", 132),
        ("１３２", 132),
    ],
)
def test_pieces_are_whole_numbers(text: str, pieces: int) -> None:
    assert read_pieces(text) == pieces


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "not_a_number"),
        ("  ", "not_a_number"),
        ("a dozen", "not_a_number"),
        ("12 sherds", "not_a_number"),
        ("1e5", "not_a_number"),
        ("½", "not_a_number"),
        ("²", "not_a_number"),
        (".", "not_a_number"),
        ("1-2", "not_a_number"),
        ("--1", "not_a_number"),
        ("=A1", "not_a_number"),
        ("0x10", "not_a_number"),
        ("inf", "not_a_number"),
        ("-1", "negative"),
        ("\u22125", "negative"),
        ("– 5", "negative"),
        ("1.5", "fraction"),
        ("1,5", "fraction"),
        ("1.0", "fraction"),
        ("1,234", "fraction"),
        ("100001", "too_many"),
        ("4006381333931", "too_many"),
        ("9" * 5000, "too_many"),
        ("1 234", "group_separator"),
        ("1\u00a0234", "group_separator"),
        ("1\u202f234", "group_separator"),
        ("1'234", "group_separator"),
        ("1.234.567", "group_separator"),
        ("1,234.5", "group_separator"),
    ],
)
def test_what_is_no_number_of_pieces_is_refused(text: str, code: str) -> None:
    assert refused(read_pieces, text) == code


@pytest.mark.parametrize("read", [read_pieces, read_grams, read_metres, read_percent])
@pytest.mark.parametrize("kind", Kind)
def test_a_scan_into_a_number_field_is_known(read: Callable[[str], int], kind: Kind) -> None:
    assert refused(read, make_code("TQ", kind, 131)) == "code_in_number_field"
    assert refused(read, make_code("KSA", kind, 4).lower()) == "code_in_number_field"


@pytest.mark.parametrize(
    ("text", "tenths"),
    [
        ("340", 3400),
        ("17.5", 175),
        ("17,5", 175),
        ("17,50", 175),
        (".5", 5),
        ("5.", 50),
        ("12.3 g", 123),
        ("12.3g", 123),
        ("1.25 kg", 12_500),
        ("1,2345 KG", 12_345),
        ("٣٫٥", 35),
        ("1000 kg", 10_000_000),
        ("0", 0),
    ],
)
def test_grams_are_tenths(text: str, tenths: int) -> None:
    assert read_grams(text) == tenths


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("1.234,5", "group_separator"),
        ("1,234.5", "group_separator"),
        ("1 234", "group_separator"),
        ("1 234,5 g", "group_separator"),
        ("1٬234", "group_separator"),
        ("1.25", "too_fine"),
        ("1,234", "too_fine"),
        ("1.23456 kg", "too_fine"),
        ("-3", "negative"),
        ("12 lb", "wrong_unit"),
        ("12 m", "wrong_unit"),
        ("1001 kg", "too_many"),
        ("heavy", "not_a_number"),
        ("g", "not_a_number"),
    ],
)
def test_what_is_no_weight_is_refused(text: str, code: str) -> None:
    assert refused(read_grams, text) == code


def test_a_weight_too_fine_is_answered_with_the_nearest() -> None:
    with pytest.raises(Refusal) as caught:
        read_grams("12,35")
    assert "12.4 g" in caught.value.in_words()


@pytest.mark.parametrize(
    ("text", "like_one"), [("6.25", False), ("1,234", True), ("1.2345", False), ("12.345 g", True)]
)
def test_only_what_looks_like_a_thousand_is_told_of_its_separator(text: str, *, like_one: bool) -> None:
    with pytest.raises(Refusal) as caught:
        read_grams(text)
    assert ("thousand" in caught.value.in_words()) is like_one


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("40.14", 40_140),
        ("40,140 m", 40_140),
        ("-1.25", -1250),
        ("\u22121,25", -1250),
        ("－ 1.25", -1250),
        ("+0.005", 5),
        ("0", 0),
        ("-0.0", 0),
        ("8848", 8_848_000),
    ],
)
def test_metres_are_millimetres_with_their_sign(text: str, mm: int) -> None:
    assert read_metres(text) == mm


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("1.2345", "too_fine"),
        ("10001", "too_many"),
        ("3 ft", "wrong_unit"),
        ("3 g", "wrong_unit"),
        ("1.234,5", "group_separator"),
        ("level", "not_a_number"),
    ],
)
def test_what_is_no_elevation_is_refused(text: str, code: str) -> None:
    assert refused(read_metres, text) == code


@given(st.integers(0, 10_000_000), st.sampled_from([".", ","]))
def test_grams_shown_read_back(tenths: int, decimal: str) -> None:
    assert read_grams(grams_in_words(tenths, decimal)) == tenths


@given(st.integers(-10_000_000, 10_000_000), st.sampled_from([".", ","]))
def test_metres_shown_read_back(mm: int, decimal: str) -> None:
    assert read_metres(metres_in_words(mm, decimal)) == mm


def test_numbers_shown() -> None:
    assert grams_in_words(175) == "17.5"
    assert grams_in_words(3400, ",") == "340,0"
    assert metres_in_words(-50) == "-0.050"
    assert metres_in_words(40_140, ",") == "40,140"


@given(st.text(max_size=40), st.sampled_from([read_pieces, read_grams, read_metres, read_percent]))
def test_anything_typed_is_read_or_refused(text: str, read: Callable[[str], int]) -> None:
    answer: object
    try:
        answer = read(text)
    except Refusal as no:
        answer = no.in_words()
    assert isinstance(answer, int) or 20 < len(str(answer)) < 220


@pytest.mark.parametrize(("typed", "permille"), [("12", 120), ("12,5", 125), ("12.5 %", 125), ("230%", 2300), ("0", 0)])
def test_a_percentage_is_read_as_per_mille(typed: str, permille: int) -> None:
    assert read_percent(typed) == permille


@pytest.mark.parametrize(
    ("typed", "code"), [("12.55", "too_fine"), ("-1", "negative"), ("12 g", "wrong_unit"), ("200000", "too_many")]
)
def test_what_is_no_percentage_is_refused(typed: str, code: str) -> None:
    assert refused(read_percent, typed) == code
