from dataclasses import replace

import pytest

from findsdesk.domain.refusals import Refusal
from findsdesk.paper.measured_stocks import MeasuredSheet, faults, measured_roll, measured_sheet, paper_to_cut
from findsdesk.paper.stocks import millimetres, places, plain_paper, stocks

SHEET = stocks()["a4-3x7-63x38"]


@pytest.mark.parametrize("stock", [*stocks().values(), *plain_paper().values()], ids=lambda stock: stock.name)
def test_every_stock_that_ships_fits_its_page(stock):
    assert faults(stock) == []
    last = list(places(stock))[-1]
    assert last.number == stock.labels_a_page
    assert last.left + stock.label_width <= stock.page_width
    assert last.top + stock.label_height <= stock.page_height


def test_the_stock_the_yard_needs_is_there():
    assert {"a4-3x8-70x37", "a4-3x7-63x38", "a4-2x7-99x38", "letter-3x10-67x25", "roll-57x32", "a4-2x4-97x67"} == set(
        stocks()
    )
    assert set(plain_paper()) == {"a4-plain", "letter-plain"}


def test_places_run_row_by_row_from_the_top_left():
    first, second, *_rest = places(SHEET)
    fourth = list(places(SHEET))[3]
    assert first == (1, 720, 1515)
    assert second == (2, 720 + 6600, 1515)
    assert fourth == (4, 720, 1515 + 3810)


FAULTS = [
    ({"left": 2000}, "columns_wider_than_page", "reach to 215.5 mm, the page is 210 mm wide"),
    ({"rows": 8}, "rows_higher_than_page", "reach to 319.95 mm, the page is 297 mm high"),
    ({"across": 6000}, "columns_overlap", "from one to the next are 60 mm, a label is 63.5 mm wide"),
    ({"down": 3700}, "rows_overlap", "from one to the next are 37 mm, a label is 38.1 mm high"),
    ({"top": -1}, "stock_size_missing", "fill in every size"),
    ({"label_height": 0}, "stock_size_missing", "fill in every size"),
    ({"columns": 0}, "stock_size_missing", "fill in every size"),
    ({"corner": 690}, "stock_corner_too_round", "6.9 mm radius"),
    ({"page_height": 200_000}, "stock_too_large", "1200 mm and 1000 labels"),
    ({"columns": 40, "rows": 40}, "stock_too_large", "1200 mm and 1000 labels"),
    ({"name": ""}, "stock_without_name", "give it one"),
]


@pytest.mark.parametrize(("changes", "code", "said"), FAULTS)
def test_a_stock_that_cannot_be_is_found_out(changes, code, said):
    found = {fault.code: fault.in_words() for fault in faults(replace(SHEET, **changes))}
    assert said in found[code]


A4_3_7 = MeasuredSheet(21000, 29700, 3, 7, 6350, 3810, 720, 1515, 720 + 2 * 6600, 1515 + 6 * 3810)


def test_a_sheet_that_was_measured_is_the_sheet_that_ships():
    assert measured_sheet("a4-3x7-63x38", "A4", A4_3_7) == SHEET


def test_half_a_millimetre_wrong_at_the_last_label_is_a_twelfth_at_the_second():
    stock = measured_sheet("mine", "A4", replace(A4_3_7, last_top=A4_3_7.last_top + 50))
    second = list(places(stock))[3]
    assert second.top - list(places(SHEET))[3].top == pytest.approx(50 / 6, abs=0.5)


def test_one_column_and_one_row_need_no_last_label():
    stock = measured_sheet("mine", "A5", MeasuredSheet(14800, 21000, 1, 1, 10000, 15000, 2400, 3000))
    assert [*places(stock)] == [(1, 2400, 3000)]


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"page_width": 20000}, "columns_wider_than_page"),
        ({"last_left": 720}, "columns_overlap"),
        ({"last_top": 0}, "rows_overlap"),
        ({"label_width": 0}, "stock_size_missing"),
        ({"rows": -3}, "stock_size_missing"),
        ({"corner": 5000}, "stock_corner_too_round"),
    ],
)
def test_what_was_measured_wrong_is_refused_by_name(changes, code):
    with pytest.raises(Refusal) as no:
        measured_sheet("mine", "A4", replace(A4_3_7, **changes))
    assert no.value.code == code


def test_a_stock_without_a_name_is_refused():
    with pytest.raises(Refusal) as no:
        measured_sheet("  ", "A4", A4_3_7)
    assert no.value.code == "stock_without_name"


def test_a_roll_says_its_gap_and_every_label_is_a_page():
    roll = measured_roll("mine", 5400, 7000, 300)
    assert roll.in_words() == "Roll of single labels, 54 × 70 mm, 3 mm between them"
    assert (roll.labels_a_page, roll.page_width, roll.page_height, roll.gap) == (1, 5400, 7000, 300)
    assert measured_roll("mine", 5400, 7000, 0).in_words() == "Roll of single labels, 54 × 70 mm"
    with pytest.raises(Refusal) as no:
        measured_roll("mine", 5400, 7000, -1)
    assert no.value.code == "stock_size_missing"


def test_plain_paper_holds_as_many_labels_as_fit_in_its_middle():
    stock = paper_to_cut("slips", plain_paper()["a4-plain"], 6000, 3000)
    assert (stock.columns, stock.rows, stock.left, stock.top) == (3, 9, 1500, 1350)
    assert stock.in_words() == "A4 paper to cut, 3 × 9 of 60 × 30 mm"
    for size in ((20500, 3000), (3000, 29000)):
        with pytest.raises(Refusal) as no:
            paper_to_cut("slips", plain_paper()["a4-plain"], *size)
        assert no.value.code == "label_larger_than_page"
    with pytest.raises(Refusal) as no:
        paper_to_cut("slips", plain_paper()["a4-plain"], 0, 3000)
    assert no.value.code == "stock_size_missing"


def test_stock_is_named_by_its_size():
    assert SHEET.in_words() == "A4 sheet, 3 × 7 of 63.5 × 38.1 mm"
    assert stocks()["roll-57x32"].in_words() == "Roll of single labels, 57 × 32 mm, 3 mm between them"


@pytest.mark.parametrize(("hundredths", "said"), [(6350, "63.5"), (7000, "70"), (6668, "66.68"), (50, "0.5"), (0, "0")])
def test_lengths_are_said_without_idle_zeros(hundredths, said):
    assert millimetres(hundredths) == said
