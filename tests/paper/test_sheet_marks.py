import numpy
import pytest

from findsdesk.paper.calibration import Calibration
from findsdesk.paper.labels import lay_out
from findsdesk.paper.measured_stocks import paper_to_cut
from findsdesk.paper.reading_back import read_back
from findsdesk.paper.sheet_marks import proof_sheet
from findsdesk.paper.stocks import plain_paper, stocks
from tests.printed import MOMENT, Sheet, bag, tag

WITH_MARGIN = ["a4-3x7-63x38", "a4-2x7-99x38", "letter-3x10-67x25", "a4-2x4-97x67"]


@pytest.mark.parametrize("name", WITH_MARGIN)
def test_a_sheet_with_a_margin_carries_a_line_of_a_hundred_millimetres(name):
    stock = stocks()[name]
    sheet = Sheet(lay_out([bag(1)], stock, moment=MOMENT, title="x").pdf)
    assert "This line must measure 100 mm" in sheet.text()
    margin = sheet.dark(600)[round((sheet.height - 9) * 600 / 25.4) - 40 :]
    lengths = numpy.ptp([numpy.flatnonzero(row)[[0, -1]] for row in margin if row.sum() > 2000], axis=1) * 25.4 / 600
    assert len(lengths) > 0
    assert lengths == pytest.approx(100, abs=0.25)


@pytest.mark.parametrize("name", sorted(set(stocks()) - set(WITH_MARGIN)))
def test_a_sheet_without_a_margin_carries_none(name):
    assert "100 mm" not in Sheet(lay_out([bag(1)], stocks()[name], moment=MOMENT, title="x").pdf).text()


def test_tags_have_lines_to_cut_along_and_a_hole_to_punch():
    stock = stocks()["a4-2x4-97x67"]
    one = Sheet(lay_out([tag()], stock, moment=MOMENT, title="x").pdf)._page
    kinds = [each.type for each in one.get_objects()]
    labels_only = Sheet(lay_out([bag(1)], stocks()["a4-2x7-99x38"], moment=MOMENT, title="x").pdf)._page
    assert len(kinds) > len([each.type for each in labels_only.get_objects()])


def test_a_proof_has_the_number_of_every_place():
    for stock in stocks().values():
        text = Sheet(proof_sheet(stock, moment=MOMENT)).text().split()
        for number in range(1, stock.labels_a_page + 1):
            assert str(number) in text


def test_a_proof_moves_as_the_printer_needs_it():
    stock = stocks()["a4-3x7-63x38"]
    still, moved = (
        numpy.argwhere(
            Sheet(proof_sheet(stock, moment=MOMENT, calibration=Calibration(right, down))).dark(254)[:, :500]
        ).min(axis=0)
        for right, down in ((0, 0), (40, -20))
    )
    assert list(moved - still) == [-2, 4]


def test_paper_to_cut_has_a_mark_in_the_margin_at_each_edge_and_no_line_through_a_label():
    stock = paper_to_cut("slips", plain_paper()["a4-plain"], 6000, 3000)
    pdf = lay_out([tag(number) for number in range(27)], stock, moment=MOMENT, title="x").pdf
    dark, mm = Sheet(pdf).dark(600), 25.4 / 600
    above = numpy.flatnonzero(dark[round(11.0 / mm)]) * mm
    assert sorted({round(at) for at in above}) == [15, 75, 135, 195]
    beside = numpy.flatnonzero(dark[: round(284 / mm), round(13.0 / mm)]) * mm
    assert sorted({round(at - 0.5) for at in beside}) == [13 + 30 * row for row in range(10)]
    middle = dark[round(13.8 / mm) : round(15.2 / mm), round(15.5 / mm) : round(194.5 / mm)]
    assert not middle.any()
    assert {code for _page, code in read_back(pdf)} == {f"TQT{number:06d}X" for number in range(27)}
