from dataclasses import replace

import pytest

from findsdesk.paper.stocks import faults, millimetres, places, plain_paper, stocks

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


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"left": 2000}, "the columns are wider than the page"),
        ({"rows": 8}, "the rows are higher than the page"),
        ({"across": 6000}, "the columns overlap"),
        ({"down": 3700}, "the rows overlap"),
        ({"top": -1}, "a size is missing or negative"),
        ({"label_height": 0}, "a size is missing or negative"),
    ],
)
def test_a_stock_that_cannot_be_is_found_out(changes, said):
    assert said in faults(replace(SHEET, **changes))


def test_stock_is_named_by_its_size():
    assert SHEET.in_words() == "A4 sheet, 3 × 7 of 63.5 × 38.1 mm"
    assert stocks()["roll-57x32"].in_words() == "Roll of single labels, 57 × 32 mm"


@pytest.mark.parametrize(("hundredths", "said"), [(6350, "63.5"), (7000, "70"), (6668, "66.68"), (50, "0.5"), (0, "0")])
def test_lengths_are_said_without_idle_zeros(hundredths, said):
    assert millimetres(hundredths) == said
