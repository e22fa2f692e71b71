"""The excavation's words laid over those that ship; what makes a sherd diagnostic follows from the marks on them."""

import pytest

from findsdesk.domain.vocabularies import Term
from findsdesk.domain.word_lists import TELLING, OwnWord, WordList, key_of, overlaid, tells_the_vessel

SHIPPED = (Term("rim", "rim", True), Term("body", "body"), Term("base", "base", True))


def test_without_own_words_a_list_is_as_it_ships() -> None:
    assert overlaid(SHIPPED, ()) == WordList(SHIPPED)


def test_a_word_is_renamed_in_its_place_put_away_and_added_at_the_end() -> None:
    own = (
        OwnWord("parts", "lug", "lug", 3, diagnostic=True),
        OwnWord("parts", "body", "wall", 1),
        OwnWord("parts", "base", "base", 2, diagnostic=True, in_use=False),
    )
    words = overlaid(SHIPPED, own)
    assert [term.name for term in words.in_use] == ["rim", "wall", "lug"]
    assert [term.own for term in words.in_use] == [False, True, True]
    assert [term.key for term in words.away] == ["base"]
    assert words.named("WALL") == words.named("body") == words.in_use[1]
    # A word put away is offered no more and still says what it means in old rows.
    assert words.named("base") is None
    assert words.keyed("base") == words.away[0]


@pytest.mark.parametrize(
    ("said", "diagnostic"),
    [
        ({"parts": "rim"}, True),
        ({"parts": "body"}, False),
        ({"parts": "body", "conditions": "fresh inscribed"}, True),
        ({"parts": "body", "decorations": "combed"}, False),
        ({}, False),
    ],
)
def test_a_sherd_is_diagnostic_by_the_marks_on_its_words(said: dict[str, str], diagnostic: bool) -> None:
    lists = {name: WordList() for name in TELLING} | {
        "parts": WordList(SHIPPED),
        "conditions": WordList((Term("fresh", "fresh"), Term("inscribed", "inscribed", True))),
        "decorations": WordList((Term("combed", "combed"),)),
    }
    assert tells_the_vessel(lists, said) is diagnostic


@pytest.mark.parametrize(
    ("name", "taken", "key"),
    [("Pod  foot", (), "pod_foot"), ("Lug!", ("lug",), "lug_2"), ("Öse", (), "ose"), ("***", (), "word")],
)
def test_a_new_word_gets_a_key_without_blanks_that_no_other_has(name: str, taken: tuple[str, ...], key: str) -> None:
    assert key_of(name, taken) == key
