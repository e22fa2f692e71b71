from findsdesk.domain.near_codes import near

WARES = ("BIM", "CKI", "CSJ", "GGL", "IPA", "MBU", "QRS", "TGY")


def test_a_swapped_letter_finds_its_ware() -> None:
    assert near("qsr", WARES)[0] == "QRS"
    assert near("TYG", WARES)[0] == "TGY"


def test_what_begins_alike_comes_first() -> None:
    assert near("C", WARES)[:2] == ("CKI", "CSJ")


def test_where_nothing_is_near_the_first_ones_are_named() -> None:
    assert near("???", WARES, most=3) == ("BIM", "CKI", "CSJ")
    assert near("x", ()) == ()
