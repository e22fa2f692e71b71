from findsdesk.domain.near_codes import near
from findsdesk.domain.unknown_words import unknown_word

WARES = ("BIM", "CKI", "CSJ", "GGL", "IPA", "MBU", "QRS", "TGY")


def test_a_swapped_letter_finds_its_ware() -> None:
    assert near("qsr", WARES)[0] == "QRS"
    assert near("TYG", WARES)[0] == "TGY"


def test_what_begins_alike_comes_first() -> None:
    assert near("C", WARES)[:2] == ("CKI", "CSJ")


def test_where_nothing_is_near_the_first_ones_are_named() -> None:
    assert near("???", WARES, most=3) == ("BIM", "CKI", "CSJ")
    assert near("x", ()) == ()


def test_a_word_on_no_list_is_refused_with_its_field_and_at_most_three_near_words() -> None:
    words = ("oxidised", "reduced", "sandwich", "oxidised outside", "oxidised inside", "oxidized")
    near = unknown_word("firings", "oxidise", words)
    assert near.facts["near"] == "oxidised, oxidised outside, oxidised inside"
    assert near.in_words().startswith("Firing: “oxidise” is not on the list. Near it: oxidised, ")
    assert unknown_word("firings", "XYZ", words).in_words() == (
        "Firing: “XYZ” is not on the list, which begins oxidised, reduced, sandwich. Choose one, or add it in Set-up."
    )
