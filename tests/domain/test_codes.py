"""Codes: made, tidied, read; three different refusals."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from findsdesk.domain.check_characters import ALPHABET, is_valid_37_36, mod_37_36
from findsdesk.domain.codes import (
    Code,
    Kind,
    check_short_code,
    could_be_code,
    could_be_misread,
    make_code,
    read_code,
    tidy,
)
from findsdesk.domain.refusals import Refusal

DASHES = "-\u00ad\u2010\u2011\u2012\u2013\u2014\u2015\u2212\ufe58\ufe63\uff0d"


def refusal(call, *arguments) -> Refusal:
    with pytest.raises(Refusal) as caught:
        call(*arguments)
    return caught.value


def test_a_code_has_short_code_kind_serial_and_check_character() -> None:
    text = make_code("TQ", Kind.TAG, 131)
    assert text[:-1] == "TQT000131"
    assert text[-1] == mod_37_36("TQT000131")
    assert Code("TQ", Kind.TAG, 131).text == text


@given(st.from_regex(r"[A-Z]{2,3}", fullmatch=True), st.sampled_from(Kind), st.integers(0, 999_999))
def test_every_code_reads_back(excavation: str, kind: Kind, serial: int) -> None:
    text = make_code(excavation, kind, serial)
    assert could_be_code(text)
    assert read_code(text, excavation) == Code(excavation, kind, serial)


@given(st.integers(0, 999_999), st.integers(0, 9), st.sampled_from(ALPHABET))
def test_one_wrong_character_is_never_taken(serial: int, place: int, wrong: str) -> None:
    text = make_code("TQ", Kind.TAG, serial)
    if text[place] == wrong:
        return
    with pytest.raises(Refusal):
        read_code(text[:place] + wrong + text[place + 1 :], "TQ")


@pytest.mark.parametrize("dash", DASHES)
def test_any_dash_is_forgiven(dash: str) -> None:
    text = make_code("TQ", Kind.BAG, 7)
    written = f" {text[:2].lower()}{dash}{text[2]}{dash}{text[3:9]} {dash}{text[9:].lower()}\r\n"
    assert read_code(written, "TQ").serial == 7


def test_control_characters_and_wide_letters_are_folded() -> None:
    assert tidy("\x02\u200eｔｑ\u3000Ｔ\t０００\xa0１３１\x1d") == "TQT000131"
    assert tidy("٠١٢") == "012"


@pytest.mark.parametrize(
    "text", ["", "   ", "132", "TQ", "TQT00013", "TQT0001311X", "TQQ000131A", "T1T000131A", "TQTO00131A"]
)
def test_what_is_no_code_is_said_so_with_an_example(text: str) -> None:
    no = refusal(read_code, text, "TQ")
    assert no.code == "not_a_code"
    assert make_code("TQ", Kind.TAG, 131) in no.in_words()
    assert not could_be_code(text)


def test_a_long_paste_is_cut_in_the_sentence() -> None:
    assert len(refusal(read_code, "x" * 5000, "TQ").in_words()) < 160


def test_a_wrong_check_character_is_said_before_whose_code_it_is() -> None:
    right = make_code("KS", Kind.TAG, 131)
    wrong = right[:-1] + ("A" if right[-1] != "A" else "B")
    assert refusal(read_code, wrong, "TQ").code == "wrong_check_character"
    no = refusal(read_code, right, "TQ")
    assert no.code == "foreign_code"
    assert "KS" in no.in_words()
    assert "TQ" in no.in_words()


@pytest.mark.parametrize("short_code", ["", "T", "TQXY", "T1", "1Q", "ÄB", "T Q X Y"])
def test_bad_short_codes_are_refused(short_code: str) -> None:
    assert refusal(make_code, short_code, Kind.TAG, 1).code == "bad_short_code"
    assert refusal(check_short_code, short_code).code == "bad_short_code"


def test_serials_end_at_six_digits() -> None:
    assert make_code("TQ", Kind.TAG, 999_999)[3:9] == "999999"
    assert refusal(make_code, "TQ", Kind.TAG, 1_000_000).code == "serials_used_up"
    with pytest.raises(ValueError, match="counted from 0"):
        make_code("TQ", Kind.TAG, -1)


def test_what_cannot_be_checked_is_an_error_and_not_valid() -> None:
    with pytest.raises(ValueError, match="only 0-9 and A-Z"):
        mod_37_36("TQ-1")
    assert not is_valid_37_36("tq1A")
    assert not is_valid_37_36("A")
    assert not is_valid_37_36("１Ａ")


@given(st.sampled_from(Kind), st.integers(0, 999_999), st.integers(0, 9))
def test_a_code_that_lost_one_character_says_so(kind: Kind, serial: int, place: int) -> None:
    text = make_code("TQ", kind, serial)
    no = refusal(read_code, text[:place] + text[place + 1 :], "TQ")
    assert no.code == "one_character_missing"


@pytest.mark.parametrize("text", ["2017-131", "131", "TQ-131", "TQT00131", "KST001449", "123456789"])
def test_what_is_no_code_is_not_said_to_lack_one_character(text: str) -> None:
    assert refusal(read_code, text, "TQ").code == "not_a_code"


@given(st.sampled_from(Kind), st.integers(0, 999_999), st.integers(0, 9))
def test_what_a_scan_comes_to_where_signs_were_lost_is_known_for_a_code_of_ours(
    kind: Kind, serial: int, place: int
) -> None:
    text = make_code("TQ", kind, serial)
    assert could_be_misread(text, "TQ")
    assert could_be_misread(text[:place] + text[place + 1 :], "tq")
    assert could_be_misread(text[:7].lower(), "TQ")
    assert could_be_misread(text + text, "TQ"), "two scans run together"
    assert could_be_misread(make_code("RX", kind, serial), "TQ"), "whole, and of another excavation"
    assert not could_be_misread(text[:8], "RX")


@pytest.mark.parametrize("words", ["handle", "TQ2026", "TQ T00 14", "Trench 12", "5901234123457", "/srv/TQ/T00144.csv"])
def test_words_and_numbers_are_no_misread_code(words: str) -> None:
    assert not could_be_misread(words, "TQ")
    assert not could_be_misread(words, "")
