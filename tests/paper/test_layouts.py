"""Layouts as data: those that ship, what cannot be one, and what a changed one does to the very page."""

from dataclasses import replace
from datetime import date

import pytest

from findsdesk.desk.box_kinds import box_rules
from findsdesk.domain.refusals import Refusal
from findsdesk.paper.label_fields import fields_of
from findsdesk.paper.label_kinds import BoxLabel, LabelKind, LoanLabel, PieceLabel, PlaceLabel, SlipLabel
from findsdesk.paper.labels import lay_out
from findsdesk.paper.layouts import Layout, LayoutLine, as_plain, check_layout, layout_from, shipped_layout
from findsdesk.paper.reading_back import read_back
from findsdesk.paper.stocks import stocks
from tests.printed import ALL_KINDS, DAY, MOMENT, TERMS, Sheet, bag, overlapping, tag

SHEET = stocks()["a4-3x8-70x37"]
LOW = stocks()["letter-3x10-67x25"]
CARD = stocks()["a4-2x4-97x67"]
BAG = shipped_layout(LabelKind.BAG)


def printed(label, layout=None, stock=SHEET):
    return lay_out([label], stock, moment=MOMENT, title="x", terms=TERMS, layout=layout).pdf


def text(label, layout=None, stock=SHEET):
    return Sheet(printed(label, layout, stock)).text()


@pytest.mark.parametrize("kind", LabelKind)
def test_a_layout_that_ships_comes_back_from_its_plain_values(kind):
    layout = shipped_layout(kind)
    assert layout_from(kind, as_plain(layout)) == layout
    assert all(name in fields_of(kind) for line in layout.lines for name in line.fields)


@pytest.mark.parametrize("kind", LabelKind)
@pytest.mark.parametrize("stock", stocks().values(), ids=stocks())
def test_every_kind_is_drawn_and_read_on_every_stock(stock, kind):
    label = ALL_KINDS[kind]
    pdf = printed(label, stock=stock)
    assert set(read_back(pdf)) == {(1, label.code)}
    assert not overlapping(Sheet(pdf).boxes())


def test_the_slip_says_what_the_bag_says():
    said = text(ALL_KINDS[LabelKind.SLIP])
    for part in ("2017", "306", "pottery, diagnostics", "38 pieces · 664.2 g", "B2 · 2026-07-14", "VE-26-014"):
        assert part in said
    assert len(read_back(printed(ALL_KINDS[LabelKind.SLIP]))) == 1


def _deposits(n: int) -> str:
    return f"{n} deposit" if n == 1 else f"{n} deposits"


def test_a_box_says_what_lies_in_it_and_how_much_is_left_out():
    box = ALL_KINDS[LabelKind.BOX]
    assert isinstance(box, BoxLabel)
    said = text(box, stock=CARD)
    for part in ("31", "weight, kg", "9.6", "pottery, diagnostics", "heavy: two lift it", "2017: 120, 130"):
        assert part in said
    few = replace(box, contents=("2017: 120, 130", "2018: 121"))
    assert "not named" not in text(few, stock=CARD)
    assert "Context: containers" in text(few, stock=CARD)
    assert "bags" not in text(few, stock=CARD)
    in_a_row = " ".join(said.split())
    shown = sum(line in in_a_row for line in box.contents)
    assert 2 <= shown < len(box.contents)
    assert f"{_deposits(len(box.contents) - shown)} not named, see its list" in in_a_row
    assert "Context: containers (bags)" in in_a_row, "what the figures in brackets are"
    low = " ".join(text(replace(box, contents=box.contents[:5]), stock=LOW).split())
    assert "5 deposits not named, see its list" in low, "no heading over nothing"


def test_a_place_and_a_loan_say_what_they_are():
    assert "yard store › rack 2 › shelf 3" in text(ALL_KINDS[LabelKind.PLACE])
    said = text(ALL_KINDS[LabelKind.LOAN])
    for part in ("Glass workshop", "drawing", "2026-07-14", "2026-08-30", "22 pieces", "due back"):
        assert part in said


def test_a_tag_on_a_card_has_a_counterfoil_with_its_number_and_its_code():
    found = [box.text.strip() for box in Sheet(printed(tag(), stock=CARD)).boxes()]
    assert found.count("131") == 2
    assert found.count("TQT000131X") == 2
    assert len(read_back(printed(tag(), stock=CARD))) == 3


def test_a_counterfoil_is_left_out_where_no_card_is_cut_and_where_nobody_wants_one():
    assert len(read_back(printed(tag()))) == 2
    without = replace(shipped_layout(LabelKind.TAG), counterfoil=())
    assert len(read_back(printed(tag(), without, CARD))) == 2


def test_fields_stand_in_the_order_and_the_size_that_are_chosen():
    lines = (
        LayoutLine(("container",), "numbers", 30.0),
        LayoutLine(("permit",), size=12.0, weight="bold"),
        LayoutLine(("day",), size=6.0),
    )
    boxes = Sheet(printed(bag(306), Layout(LabelKind.BAG, lines))).boxes()
    by_text = {box.text.strip(): box for box in boxes}
    assert by_text["306"].top < by_text["VE-26-014"].top < by_text["2026-07-14"].top
    tall = {name: by_text[name].bottom - by_text[name].top for name in ("306", "VE-26-014", "2026-07-14")}
    assert tall["306"] > tall["VE-26-014"] > 1.5 * tall["2026-07-14"]
    assert "2017" not in by_text


def test_a_layout_chooses_its_symbols():
    square_only = replace(BAG, bars=False)
    assert len(read_back(printed(bag(), square_only))) == 1
    for choice in ("qr", "data matrix"):
        assert set(read_back(printed(bag(), replace(BAG, square=choice)))) == {(1, bag().code)}


def test_a_symbol_that_does_not_fit_is_refused_by_the_label():
    small = replace(stocks()["roll-57x32"], label_width=4830, label_height=1270, page_width=4830, page_height=1270)
    printed(tag(), stock=small)
    with pytest.raises(Refusal) as no:
        printed(tag(), replace(shipped_layout(LabelKind.TAG), square="qr"), small)
    assert no.value.code == "label_too_small"
    assert "TQT000131X" in no.value.in_words()


LINE = {"fields": ["deposit"], "as": "words", "size": 8}


@pytest.mark.parametrize(
    ("said", "code", "named"),
    [
        ({}, "layout_empty", "field"),
        ({"line": [{"fields": []}]}, "layout_line_empty", "field"),
        ({"line": [{"fields": ["depositt"]}]}, "unknown_label_field", "depositt"),
        ({"line": [LINE], "under_symbol": ["tray"]}, "unknown_label_field", "tray"),
        ({"line": [LINE, LINE]}, "label_field_twice", "deposit"),
        ({"line": [LINE | {"size": 3}]}, "layout_size", "3"),
        ({"line": [LINE | {"size": 73}]}, "layout_size", "73"),
        ({"line": [LINE | {"as": "a sum"}]}, "layout_word", "a sum"),
        ({"line": [LINE | {"weight": "heavy"}]}, "layout_word", "heavy"),
        ({"line": [LINE], "square": "round"}, "layout_word", "round"),
        (
            {"line": [LINE | {"as": "numbers", "fields": ["deposit", "container", "day", "pieces"]}]},
            "too_many_on_a_line",
            "3",
        ),
        ({"line": [LINE | {"as": "boxes"}, LINE | {"as": "text", "fields": ["day"]}]}, "too_many_filling", "one"),
        ({"line": [LINE] * 13}, "too_many_lines", "13"),
    ],
)
def test_what_is_no_layout_is_refused_with_what_is_wrong(said, code, named):
    with pytest.raises(Refusal) as no:
        layout_from(LabelKind.BAG, said)
    assert no.value.code == code
    assert named in no.value.in_words()


def test_a_layout_that_cannot_fit_names_the_label():
    lines = tuple(
        LayoutLine((name,), "numbers", 60.0) for name in ("deposit", "container", "pieces", "weight", "permit", "day")
    )
    crowded = Layout(LabelKind.BAG, lines)
    check_layout(crowded)
    with pytest.raises(Refusal) as no:
        printed(bag(306), crowded, stocks()["letter-3x10-67x25"])
    assert no.value.code == "label_too_small"
    assert "TQB000306X" in no.value.in_words()


def test_a_mark_longer_than_the_label_is_refused_and_names_the_label():
    with pytest.raises(Refusal) as no:
        printed(bag(306, mark_lines=("VE-26-014-TANNERY-QUAY-" * 6,)), stock=stocks()["letter-3x10-67x25"])
    assert no.value.code in ("mark_longer_than_label", "text_does_not_fit")
    assert "TQB000306X" in no.value.in_words()


def test_a_million_labels_are_refused_before_one_is_drawn():
    with pytest.raises(Refusal) as no:
        lay_out([bag(1)] * 1_000_000, SHEET, moment=MOMENT, title="x")
    assert no.value.code == "too_many_labels"
    assert "1,000,000" in no.value.in_words()


def test_all_kinds_are_here():
    kinds = {type(label) for label in ALL_KINDS.values()}
    assert {SlipLabel, PieceLabel, BoxLabel, PlaceLabel, LoanLabel} <= kinds
    assert set(ALL_KINDS) == set(LabelKind)
    assert date(2026, 7, 14) == DAY


@pytest.mark.parametrize("stock", sorted(stocks()))
def test_how_a_box_is_handled_stands_on_its_label_whole(stock: str):
    """The shortest contents and the longest word of care that ships, on every stock, in letters that are read."""
    care = max((rule.on_label for rule in box_rules().values()), key=len)
    box = replace(ALL_KINDS[LabelKind.BOX], caution=care, contents=("2013: 75",))
    sheet = Sheet(lay_out([box], stocks()[stock], moment=MOMENT, title="x", terms=TERMS).pdf)
    said = " ".join(sheet.text().split())
    for part in (care, "Context: containers", "2013: 75"):
        assert part in said, part
    line = next(one for one in sheet.boxes() if care in one.text)
    assert line.bottom - line.top > 1.2, "letters of 5 points with their tails"


@pytest.mark.parametrize("stock", sorted(stocks()))
@pytest.mark.parametrize("copy", [1, 2])
def test_a_mark_stands_on_every_label_that_is_to_bear_it(stock: str, copy: int):
    """Under the symbol, or among the words where "copy 2" or a low label leaves it no room there; never left out."""
    for kind in (LabelKind.BAG, LabelKind.PIECE):
        label = replace(ALL_KINDS[kind], copy=copy, mark_lines=("VE-26-014", "TQ B2", "2017-131"))
        pdf = lay_out([label], stocks()[stock], moment=MOMENT, title="x", terms=TERMS).pdf
        said = " ".join(Sheet(pdf).text().split())
        name = ("131.7",) if kind is LabelKind.PIECE else ()
        for part in (*label.mark_lines, *name, *(("copy 2",) if copy > 1 else ())):
            assert part in said, (kind, part)
        assert not overlapping([box for box in Sheet(pdf).boxes() if "100 mm" not in box.text]), kind
