import re
from dataclasses import replace
from datetime import date

import numpy
import pytest

from findsdesk.domain.refusals import Refusal
from findsdesk.paper.calibration import Calibration
from findsdesk.paper.labels import Placed, lay_out
from findsdesk.paper.reading_back import read_back
from findsdesk.paper.stocks import places, stocks
from tests.printed import MAKERS, MOMENT, TERMS, Sheet, bag, overlapping, symbols_on, tag, wash_tag

SHEET = stocks()["a4-3x8-70x37"]
LONG = {
    "deposit": "2017a/North",
    "container": "131.12b",
    "mark_lines": ("VE-26-014", "2017a/North-131.12b", "P 7"),
    "site": "Tannery Quay, the lower terrace by the old customs house",
    "permit": "VE-26-014/B, second extension",
    "material": "pottery with residue and worked stone",
    "what": "diagnostics with painted and inscribed sherds kept for mending",
    "pieces": 12345,
    "tenths": 1234567,
    "square": "C4 north extension",
    "collected_until": date(2026, 7, 16),
    "copy": 12,
}
OTHER_SCRIPTS = {
    "site": "Ταμπακαριό της Βέσμαρ",
    "material": "керамика",
    "what": "γάνωμα, χείλη και λαβές",
    "square": "Β2",
}


FROM_THE_RIGHT = {"site": "תל הבורסקאי", "material": "فخار", "what": "شقف مميزة", "square": "ב2"}


def printed(labels, stock=SHEET, **changes):
    return lay_out(labels, stock, moment=MOMENT, title="Bag labels TQ 2026", terms=TERMS, **changes)


@pytest.mark.parametrize("code", ["TQB0001X", "TQB000131X", "ABCB0001319Z", "ABCDEFGHIJKL"])
@pytest.mark.parametrize("kind", MAKERS)
@pytest.mark.parametrize("stock", stocks().values(), ids=stocks())
def test_every_label_reads_back_on_every_stock_by_both_symbols(stock, kind, code):
    made = printed([MAKERS[kind](code=code)], stock)
    assert read_back(made.pdf) == [(1, code)] * symbols_on(stock, kind)


@pytest.mark.parametrize(
    "changes", [{}, LONG, OTHER_SCRIPTS, FROM_THE_RIGHT], ids=["plain", "long", "other scripts", "from the right"]
)
@pytest.mark.parametrize("stock", stocks().values(), ids=stocks())
def test_nothing_on_a_bag_label_is_cut_off_or_over_something_else(stock, changes):
    labels = [bag(1000 + number, **changes) for number in range(stock.labels_a_page)]
    if changes is LONG and stock.name in ("roll-57x32", "letter-3x10-67x25"):
        return says_which_label_has_no_room(labels, stock)
    made = printed(labels, stock)
    sheet = Sheet(made.pdf)
    assert not ink_in_clear_zone(sheet, stock)
    assert not overlapping(sheet.boxes())
    text = sheet.text()
    for shown in (changes.get("deposit", "2017"), changes.get("container", "000")):
        assert shown in text


def says_which_label_has_no_room(labels, stock):
    with pytest.raises(Refusal) as no:
        printed(labels, stock)
    assert no.value.code in ("text_does_not_fit", "mark_longer_than_label")
    assert no.value.in_words().startswith(f"Label {labels[0].code}: ")


@pytest.mark.parametrize(
    "label",
    [
        tag(),
        tag(deposit="2017", square="B2", collected_on=date(2026, 7, 14), supervisor="Bryn Hallo", material="pottery"),
        tag(container="131.12b/2", deposit="2017a/North", supervisor="B. Hallo and the evening team", copy=2),
        wash_tag(),
        wash_tag(container="131.12b", deposit="2017a/North", pieces=12345, tray="East rack 14", copy=3),
        wash_tag(tray="", washed_on=None, material="", square="", site="", season=""),
    ],
)
@pytest.mark.parametrize("stock", stocks().values(), ids=stocks())
def test_nothing_on_a_tag_is_cut_off_or_over_something_else(stock, label):
    sheet = Sheet(printed([label], stock).pdf)
    assert not ink_in_clear_zone(sheet, stock)
    assert not overlapping(sheet.boxes())
    assert label.container in sheet.text()
    assert not re.search("(context|square|date|supervi\\w*|materi\\w*|bucket|pieces|tray)…", sheet.text())


def ink_in_clear_zone(sheet, stock, dpi=300):
    """Return the places with ink in the outer 2 mm (the cut lines themselves, a dot wide, left out)."""
    dark, dot = sheet.dark(dpi), 25.4 / dpi
    wrong = []
    for place in places(stock):
        rows = slice(round(place.top / 100 / dot), round((place.top + stock.label_height) / 100 / dot))
        columns = slice(round(place.left / 100 / dot), round((place.left + stock.label_width) / 100 / dot))
        label, edge, clear = dark[rows, columns].copy(), round(0.3 / dot), round(1.9 / dot)
        label[clear:-clear, clear:-clear] = False
        if label[edge:-edge, edge:-edge].any():
            wrong.append(place.number)
    return wrong


SMALL = [(3810, 2120), (3000, 3200), (2500, 2500), (4850, 2540)]


@pytest.mark.parametrize("kind", MAKERS)
@pytest.mark.parametrize("size", SMALL)
def test_a_label_too_small_for_bars_still_has_a_symbol_that_reads(size, kind):
    width, height = size
    stock = replace(
        stocks()["roll-57x32"], page_width=width, page_height=height, label_width=width, label_height=height
    )
    label = MAKERS[kind](131, copy=2)
    if kind == "bag" and size == (2500, 2500):
        return says_which_label_has_no_room([label], stock)
    made = printed([label], stock)
    assert set(read_back(made.pdf)) == {(1, label.code)}
    sheet = Sheet(made.pdf)
    assert not ink_in_clear_zone(sheet, stock)
    assert not overlapping(sheet.boxes())


def test_two_hundred_labels_keep_their_order_and_say_where_they_stand():
    made = printed([bag(number) for number in range(200)], first_place=6, used_places={8, 9})
    assert made.pages == 9
    assert made.placed[:4] == (
        Placed("TQB000000X", 1, 6),
        Placed("TQB000001X", 1, 7),
        Placed("TQB000002X", 1, 10),
        Placed("TQB000003X", 1, 11),
    )
    assert made.placed[17] == Placed("TQB000017X", 2, 1)
    assert made.placed[-1] == Placed("TQB000199X", 9, 15)
    assert {code for _page, code in read_back(made.pdf)} == {f"TQB{number:06d}X" for number in range(200)}


def test_a_label_stands_in_the_place_that_is_told():
    made = printed([bag(1)], first_place=11)
    ink = numpy.argwhere(Sheet(made.pdf).dark(203))
    top, left = ink.min(axis=0) * 25.4 / 203
    bottom, right = ink.max(axis=0) * 25.4 / 203
    # Place 11 of 3 × 8: fourth row, second column.
    assert 70 < left < right < 140
    assert 0.5 + 3 * 37 < top < bottom < 0.5 + 4 * 37


def test_a_sheet_with_no_free_label_left_is_not_printed_on():
    made = printed([bag(1)], used_places=set(range(1, 25)))
    assert made.placed == (Placed("TQB000001X", 1, 1),)
    assert made.pages == 1


def test_a_shift_moves_everything():
    still = numpy.argwhere(Sheet(printed([bag(1)]).pdf).dark(254)).min(axis=0)
    moved = numpy.argwhere(Sheet(printed([bag(1)], calibration=Calibration(right=100, down=50)).pdf).dark(254)).min(
        axis=0
    )
    assert list(moved - still) == [5, 10]


@pytest.mark.parametrize(("first", "used"), [(0, ()), (25, ()), (1, (25,)), (1, (0,))])
def test_a_place_that_is_not_on_the_sheet_is_refused(first, used):
    with pytest.raises(Refusal) as no:
        printed([bag(1)], first_place=first, used_places=used)
    assert no.value.code == "no_such_place"
    assert "24" in no.value.in_words()


def test_nothing_to_print_is_refused():
    with pytest.raises(Refusal) as no:
        printed([])
    assert no.value.code == "nothing_to_print"


def test_a_bag_label_says_what_it_must():
    text = Sheet(printed([bag(131, copy=2)]).pdf).text()
    for said in (
        "context",
        "bucket",
        "2017",
        "131",
        "pottery, diagnostics",
        "38 pieces · 664.2 g",
        "B2 · 2026-07-14",
        "TQ 2026 · VE-26-014",
        "TQB000131X",
        "2017-131",
        "copy 2",
    ):
        assert said in text


def test_deposit_and_container_are_the_largest_words_on_a_bag_label():
    for stock in stocks().values():
        boxes = Sheet(printed([bag(131)], stock).pdf).boxes()
        tallest = sorted(boxes, key=lambda box: box.top - box.bottom)[:2]
        assert {box.text.strip() for box in tallest} == {"2017", "131"}, stock.name


def test_a_first_print_says_nothing_of_copies_and_empty_fields_leave_nothing_behind():
    bare = bag(
        131, site="", season="", permit="", square="", collected_on=None, material="", what="", pieces=None, tenths=None
    )
    text = Sheet(printed([bare]).pdf).text()
    assert "copy" not in text
    assert "·" not in text
    assert "None" not in text


def test_words_too_long_for_their_row_end_in_an_ellipsis_but_numbers_never():
    sheet = Sheet(printed([bag(131, material="pottery " * 30, deposit="2017" * 6)], stocks()["a4-3x7-63x38"]).pdf)
    assert "…" in sheet.text()
    assert "2017" * 6 in sheet.text()


def test_a_field_tag_has_a_box_to_write_in_for_what_is_not_known():
    text = Sheet(printed([tag()], stocks()["a4-2x4-97x67"]).pdf).text()
    for said in ("bucket", "131", "context", "square", "date", "supervisor", "material", "VE-26-014"):
        assert said in text


def test_a_wash_tag_says_count_tray_and_day():
    for stock in stocks().values():
        text = Sheet(printed([wash_tag()], stock).pdf).text()
        for said in ("132", "14", "2017", "131", "2026-07-14"):
            assert said in text, stock.name


def test_the_same_labels_are_the_same_bytes_and_the_moment_is_in_the_file():
    first, again = printed([bag(1)]).pdf, printed([bag(1)]).pdf
    assert first == again
    assert b"D:20260714173248+00'00'" in re.sub(rb"\\(.)", rb"\1", first)
