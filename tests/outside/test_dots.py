"""Bars and squares on the dots of a printer, measured and read at 203, 300 and 600 dpi, one bit a dot.

Narrow bar: a whole number of dots, 2 or more, 0.25 mm or more (own trials with rendered prints; GS1's least for general
use is the same, FROM MEMORY). Good widths: 203 dpi 0.250 (2 dots) and 0.375 (3), 300 dpi 0.254 (3), 600 dpi 0.254 (6):
DERIVED. Quiet zones: 10 X, 4 modules, 1 module (see docs/sources.md). Reader: zxing-cpp, which drew no bar here.
"""

from dataclasses import replace

import numpy
import pytest

from findsdesk.domain.refusals import Refusal
from findsdesk.paper import least_label
from findsdesk.paper.calibration import NONE, Calibration
from findsdesk.paper.code128 import modules_of
from findsdesk.paper.dots import dot_of, on_grid, whole_dots
from findsdesk.paper.face import Room, arrange
from findsdesk.paper.labels import WashTag, lay_out
from findsdesk.paper.reading_back import read_back
from findsdesk.paper.stocks import stocks
from findsdesk.paper.symbols import DATA_MATRIX, QR
from tests.printed import MOMENT, Sheet, bag, overlapping, tag, wash_tag

EVERY_DPI = (203, 300, 600)
ROLL = stocks()["roll-57x32"]
# width × height of labels of rolls (identifiers of many makers) and of the smallest sheets, in mm
SMALL = [(54.0, 25.0), (38.1, 21.2), (48.3, 16.9), (44.4, 12.7), (51.0, 19.0), (51.0, 14.0), (36.0, 89.0), (28.0, 89.0)]


def roll(width, height):
    size = {"label_width": round(width * 100), "label_height": round(height * 100)}
    page = {"page_width": round(width * 100), "page_height": round(height * 100)}
    return replace(ROLL, name="x", **size, **page)


def printed(labels, stock, dpi, **more):
    return lay_out(labels, stock, moment=MOMENT, title="Labels", dpi=dpi, **more).pdf


def dots_of(pdf, dpi):
    """Return a page set dot for dot; the common label printer has 8 dots a millimetre, a little over 203 an inch."""
    return Sheet(pdf).dark(25.4 / dot_of(dpi))


@pytest.mark.parametrize(
    ("dpi", "narrow", "wide"),
    [(203, (2, 0.25), (3, 0.375)), (300, (3, 0.254), (5, 0.4233)), (600, (6, 0.254), (9, 0.381))],
)
def test_widths_are_whole_dots_and_never_under_a_quarter_of_a_millimetre(dpi, narrow, wide):
    dot = dot_of(dpi)
    for least, (number, width) in ((0.25, narrow), (0.375, wide)):
        module = whole_dots(least, dot)
        assert round(module / dot, 9) == number
        assert module == pytest.approx(width, abs=1e-4)
        assert module >= 0.25
    assert whole_dots(0.01, dot) == 2 * dot
    assert on_grid(1.03 * dot, dot) == dot


@pytest.mark.parametrize("shift", [NONE, Calibration(right=37, down=13)])
@pytest.mark.parametrize("dpi", EVERY_DPI)
@pytest.mark.parametrize("stock", stocks().values(), ids=stocks())
def test_every_bar_is_the_same_whole_number_of_dots_a_module(stock, dpi, shift):
    dark = dots_of(printed([bag(131)], stock, dpi, calibration=shift), dpi)
    dot = dot_of(dpi)
    left = round((stock.left + shift.right) / 100 / dot)
    top = round((stock.top + shift.down) / 100 / dot)
    label = dark[top : top + int(stock.label_height / 100 / dot), left : left + int(stock.label_width / 100 / dot)]
    face = arrange(stock.label_width / 100, stock.label_height / 100, len(modules_of("TQB000131X")), dot)
    module = round(face.bars.module / dot)
    assert module * dot == pytest.approx(face.bars.module)
    assert module >= 2
    assert module * dot >= 0.25
    row = label[round((face.bars.top + face.bars.height / 2) / dot)]
    edges = numpy.flatnonzero(numpy.diff(numpy.concatenate(([0], row.astype(int)))))
    first = int(edges[0])
    inside = edges[edges <= first + len(modules_of("TQB000131X")) * module]
    runs = numpy.diff(inside)
    wanted = modules_of("TQB000131X").replace("10", "1 0").replace("01", "0 1").split()
    assert list(runs) == [len(run) * module for run in wanted]
    assert first >= 10 * module - 1
    assert not row[inside[-1] : inside[-1] + 10 * module].any()


@pytest.mark.parametrize("dpi", EVERY_DPI)
@pytest.mark.parametrize("stock", stocks().values(), ids=stocks())
def test_a_sheet_made_for_a_printer_reads_back_at_its_dots(stock, dpi):
    labels = [bag(990 + number) for number in range(stock.labels_a_page)]
    read = read_back(printed(labels, stock, dpi), dpi)
    assert sorted(read) == sorted((1, label.code) for label in labels for _symbol in ("bars", "square"))


@pytest.mark.parametrize("dpi", EVERY_DPI)
@pytest.mark.parametrize("size", SMALL, ids=str)
def test_a_small_label_keeps_a_square_that_reads_with_its_quiet_zone(size, dpi):
    stock, dot = roll(*size), dot_of(dpi)
    for label in (tag(131), wash_tag(131)):
        if isinstance(label, WashTag) and size[1] < 15.5:  # two rows of numbers, and words of 5 points
            with pytest.raises(Refusal, match="too small") as no:
                printed([label], stock, dpi)
            enough = float(str(no.value.facts["enough"]))
            assert 13 < enough <= 15.5
            assert f"Choose a stock of {size[0]:g} × {enough:g} mm or more" in no.value.in_words()
            assert label.code in [code for _page, code in read_back(printed([label], roll(size[0], enough), dpi), dpi)]
            with pytest.raises(Refusal, match="too small"):
                printed([label], roll(size[0], enough - 0.5), dpi)
            continue
        pdf = printed([label], stock, dpi)
        assert not overlapping(Sheet(pdf).boxes())
        assert label.code in [code for _page, code in read_back(pdf, dpi)]
        face = arrange(*size, len(modules_of(label.code)), dot)
        dark, quiet = dots_of(pdf, dpi), round(face.square.quiet * face.square_module / dot) - 1
        side = round(face.square.side * face.square_module / dot)
        left, top = round(face.square_left / dot), round(face.square_top / dot)
        if face.bars:
            bars = Room(face.bars.left, face.bars.top, face.bars.length, face.bars.height)
            assert not [
                box
                for box in Sheet(pdf).boxes()
                if box.bottom > bars.top and box.top < bars.bottom and box.left < bars.right
            ]
        around = dark[max(0, top - quiet) : top + side + quiet, max(0, left - quiet) : left + side + quiet].copy()
        inner_top, inner_left = min(top, quiet), min(left, quiet)
        around[inner_top - 1 : inner_top + side + 1, inner_left - 1 : inner_left + side + 1] = False
        assert not around.any()


def test_a_label_too_narrow_is_told_how_wide_it_must_be(monkeypatch):
    with pytest.raises(Refusal, match="too small") as no:
        printed([wash_tag(131)], roll(15.0, 40.0), 203)
    assert "Choose a stock of 25 × 40 mm or more." in no.value.in_words()
    printed([wash_tag(131)], roll(25.0, 40.0), 203)
    monkeypatch.setattr(least_label, "_WIDEST", 0)
    with pytest.raises(Refusal, match="too small") as no:
        printed([wash_tag(131)], roll(15.0, 40.0), 203)
    assert "Choose a larger one." in no.value.in_words(), "none is known that would do"


@pytest.mark.parametrize(
    ("size", "square"),
    [
        ((70.0, 37.0), QR),
        ((57.0, 32.0), QR),
        ((48.5, 25.4), QR),
        ((38.1, 21.2), DATA_MATRIX),
        ((48.3, 16.9), DATA_MATRIX),
    ],
)
def test_the_square_is_chosen_by_the_room_there_is(size, square):
    assert arrange(*size, 134).square is square


@pytest.mark.parametrize("size", [(12.0, 40.0), (40.0, 9.0), (5.0, 5.0)])
def test_a_label_with_no_room_for_any_symbol_is_refused(size):
    with pytest.raises(Refusal) as no:
        printed([tag(1)], roll(*size), 203)
    assert no.value.code == "label_too_small"
    assert f"{size[0]:g} × {size[1]:g} mm" in no.value.in_words()
