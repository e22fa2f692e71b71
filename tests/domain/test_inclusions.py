"""What lies in the clay, read as it is said at the table: with commas between the words, or without."""

from __future__ import annotations

import pytest

from findsdesk.desk.word_lists import SHIPPED
from findsdesk.domain.inclusions import LISTS, read_inclusions
from findsdesk.domain.refusals import Refusal

WORDS = {name: SHIPPED[name].in_use for name in LISTS}


def read(text: str) -> list[str]:
    return [one.in_words(WORDS) for one in read_inclusions(text, WORDS)]


@pytest.mark.parametrize(
    ("typed", "read_as"),
    [
        ("quartz, common, medium, poorly sorted, rounded", ["quartz, common, medium, poorly sorted, rounded"]),
        ("quartz common, fine; grog 10 %", ["quartz, common, fine", "grog, 10 %"]),
        ("grog 10%", ["grog, 10 %"]),
        ("QUARTZ  common poorly sorted very fine rounded", ["quartz, common, very fine, poorly sorted, rounded"]),
        ("well sorted shell", ["shell, well sorted"]),
        ("", []),
    ],
)
def test_commas_between_the_words_of_an_inclusion_may_be_left_out(typed: str, read_as: list[str]) -> None:
    assert read(typed) == read_as


@pytest.mark.parametrize(
    ("typed", "code", "named"),
    [
        ("quartz common, banana 10 %", "unknown_word", "banana"),
        ("quartz rather common", "unknown_word", "rather"),
        ("quartz sharp edges", "unknown_word", "sharp edges"),
        ("quartz common grog", "said_twice", "grog"),
        ("quartz 0 %", "percent_range", "0 %"),
        ("common fine", "inclusion_kind_missing", "common fine"),
    ],
)
def test_what_cannot_be_read_is_named_alone(typed: str, code: str, named: str) -> None:
    with pytest.raises(Refusal) as refused:
        read(typed)
    assert (refused.value.code, refused.value.facts["said"]) == (code, named)
