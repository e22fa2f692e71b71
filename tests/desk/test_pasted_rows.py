"""Rows pasted from a spreadsheet: matched by heading or by order; what does not fit is explained."""

import pytest

from findsdesk.desk.pasted_columns import read_rows
from findsdesk.domain.pasted_rows import looks_like_rows
from findsdesk.domain.refusals import Refusal

COLUMNS = ("ware", "part", "pieces", "grams")
HEADINGS = {"ware": "ware", "part": "part", "count": "pieces", "grams": "grams", "note": "note"}
NAMES = {
    "ware": "Ware", "part": "Part", "form": "Form", "pieces": "Count", "grams": "Grams", "rim": "Rim %", "note": "Note",
}  # fmt: skip


def texts(text: str) -> list[dict[str, str]]:
    return [dict(row) for row in read_rows(text, COLUMNS, HEADINGS, NAMES).rows]


def test_cells_go_by_the_order_of_the_table_where_there_are_no_headings() -> None:
    assert texts("QRS\trim\t11\t340\nTGY\thandle\t2\t\n") == [
        {"ware": "QRS", "part": "rim", "pieces": "11", "grams": "340"},
        {"ware": "TGY", "part": "handle", "pieces": "2", "grams": ""},
    ]


def test_columns_behind_the_count_may_be_left_out_in_every_row() -> None:
    assert texts("QRS\trim\t11\nMBU\tbody\t5") == [
        {"ware": "QRS", "part": "rim", "pieces": "11"},
        {"ware": "MBU", "part": "body", "pieces": "5"},
    ]


def test_cells_go_by_their_headings_in_any_order_and_case_and_some_may_be_missing() -> None:
    rows = texts("COUNT;Ware;part;Note\r\n11;QRS;rim;burnt\r\n\r\n54;MBU;body;\r\n")
    assert rows == [
        {"pieces": "11", "ware": "QRS", "part": "rim", "note": "burnt"},
        {"pieces": "54", "ware": "MBU", "part": "body", "note": ""},
    ]


@pytest.mark.parametrize(
    ("head", "columns"),
    [
        ("Fabric\tPart\tQty\tWeight (g)", ("ware", "part", "pieces", "grams")),
        ("WARE\tpart\tSherds\tWt", ("ware", "part", "pieces", "grams")),
        ("Fabric code\tElement\tPieces\tRim EVE", ("ware", "part", "pieces", "rim")),
        ("Fabric\tShape\tQty\tMass", ("ware", "form", "pieces", "grams")),
        ("Fabric\tPart\tCount\tRemarks", ("ware", "part", "pieces", "note")),
    ],
)
def test_headings_are_known_by_the_spellings_that_tables_of_old_seasons_are_known_by(
    head: str, columns: tuple[str, ...]
) -> None:
    (row,) = texts(f"{head}\nQRS\trim\t11\t34\n")
    assert row == dict(zip(columns, ("QRS", "rim", "11", "34"), strict=True))


def test_a_row_is_not_taken_for_headings_for_a_ware_that_is_spelt_like_one() -> None:
    assert texts("G\trim\t11\t340")[0] == {"ware": "G", "part": "rim", "pieces": "11", "grams": "340"}


def test_a_cell_in_quotation_marks_may_hold_the_separator_and_a_decimal_comma_stays() -> None:
    assert texts('QRS;rim;11;"340,5"')[0]["grams"] == "340,5"
    assert texts('"Quay; red";rim;11;1')[0]["ware"] == "Quay; red"


@pytest.mark.parametrize(
    ("text", "code", "said"),
    [
        ("QRS\trim", "pasted_cells", "Row 1, 2 cells; 4 are wanted: Ware, Part, Count, Grams."),
        ("QRS\trim\t11\nQRS\trim", "pasted_cells", "Row 2, 2 cells; 3 are wanted: Ware, Part, Count."),
        ("QRS\trim\t11\t340\nQRS\trim\t11\t340\tkeep", "pasted_cells", "Row 2, 5 cells"),
        ("Colour\tFind\tHow many\nred\trim\t11", "pasted_heading", "“Colour”, “Find”, “How many”"),
        ("Fabric\tShape\tTotal\tMass\nQRS\tbowl\t11\t340", "pasted_heading", "No column is called “Total”"),
        ("Weight\tQty\tgrams\n1\t2\t3", "pasted_twice", "grams"),
        ("Fabric\tPart\tQty\tEVE\nQRS\trim\t11\t0.62", "pasted_circles", "“EVE”"),
        ("Fabric\tPart\tQty\tEVE\nQRS\trim\t11\t12\nQRS\trim\t3\t1,34", "pasted_circles", "1,34"),
        ("no.\tware\tpart\tweight\tfrom\nQRS\trim\t11\t340", "pasted_heading", "“no.”, “from”"),
        ("ware\tpart\tcolour\nQRS\trim\tred", "pasted_heading", "colour"),
        ("ware\tpart\tware\nQRS\trim\tred", "pasted_twice", "ware"),
        ("ware\tpart\tcount\nQRS\trim", "pasted_cells", "Row 2, 2 cells"),
        (" \n\t\n", "pasted_nothing", ""),
        ("QRS\trim\t1\t1\n" * 5001, "pasted_too_many", "5001"),
    ],
)
def test_what_cannot_be_matched_is_explained(text: str, code: str, said: str) -> None:
    with pytest.raises(Refusal) as caught:
        texts(text)
    assert caught.value.code == code
    assert said in caught.value.in_words()


@pytest.mark.parametrize(
    ("text", "rows"), [("QRS", False), ("340,5\n", False), ("QRS\trim", True), ("a\nb", True), ("a;b", True)]
)
def test_a_single_value_is_no_table(text: str, rows: bool) -> None:
    assert looks_like_rows(text) is rows
