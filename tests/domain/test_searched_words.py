"""The words of a text, as an index holds them and as somebody looks for them."""

import pytest

from findsdesk.domain.searched_words import LONGEST, MOST_WORDS, words_looked_for, words_to_find


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Rims of an Étagère, RED", ("rims", "of", "an", "etagere", "red")),
        ("VE-26-014 / 2017–131", ("ve-26-014", "26-014", "014", "2017-131", "131")),
        ("piece 90.4.", ("piece", "90.4", "4")),
        ("ΑΜΦΟΡΕΎΣ, Straße, Łódź", ("αμφορευσ", "strasse", "lodz")),
        ("陶片 ลูก", ("陶", "片", "ล", "ก")),
        ("হাঁড়ি", ("হড",)),
        ("٣ jars, ｆｕｌｌ", ("3", "jars", "full")),
        ("rim rim Rim", ("rim",)),
        (" \t(\"'*^:-./)\n\x00", ()),
    ],
)
def test_a_text_is_found_by_its_words(text: str, words: tuple[str, ...]) -> None:
    assert words_to_find(text) == words


def test_what_is_typed_can_never_be_a_query_of_its_own() -> None:
    words = words_looked_for('"OR" NEAR(a b, 3) col:x ^y* -z \'; DROP TABLE act; -- {said}: "=container')
    signs = {sign for word in words for sign in word if not sign.isalnum()}
    assert signs <= {"-", ".", "/"}
    assert words[:4] == ("or", "near", "a", "b")


def test_a_question_has_an_end() -> None:
    assert len(words_looked_for(" ".join(map(str, range(500))))) == MOST_WORDS
    assert words_looked_for("x" * 500) == ("x" * LONGEST,)
