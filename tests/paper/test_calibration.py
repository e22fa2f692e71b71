"""A printer is met: what its fault leaves on paper is measured on the finished page, pushed through that fault."""

import numpy
import pytest

from findsdesk.domain.refusals import Refusal
from findsdesk.paper.calibration import Calibration, Measured, calibrate, lines_to_measure
from findsdesk.paper.labels import lay_out
from findsdesk.paper.printer_page import print_test_page
from findsdesk.paper.sheet_marks import proof_sheet
from findsdesk.paper.stocks import places, plain_paper, stocks
from tests.printed import MOMENT, Sheet, bag

A4 = plain_paper()["a4-plain"]
DPI = 600
MM = 25.4 / DPI


class Printer:
    """Draws every point at scale · point + start (mm), in each direction."""

    def __init__(self, right=0.0, down=0.0, across=1.0, along=1.0):
        self.right, self.down, self.across, self.along = right, down, across, along

    def x(self, drawn):
        return drawn * self.across + self.right

    def y(self, drawn):
        return drawn * self.along + self.down


FAULTS = {
    "none": Printer(),
    "starts late": Printer(right=1.3, down=-0.8),
    "a little small": Printer(across=0.996, along=0.993),
    "a little large, starts early": Printer(-2.1, -3.4, 1.004, 1.007),
}


def upright_and_level(pdf, page=1):
    """Return where lines over the whole page stand, in mm from its left and top edge."""
    dark = Sheet(pdf, page).dark(DPI)
    return [middles(dark.mean(axis=axis) > 0.95) for axis in (0, 1)]


def middles(on):
    places = numpy.flatnonzero(on)
    return [
        float(group.mean() + 0.5) * MM for group in numpy.split(places, numpy.flatnonzero(numpy.diff(places) > 3) + 1)
    ]


def measured_on(printer, pdf):
    """Return what somebody with a steel rule reads off a printed test page: to a tenth of a millimetre."""
    (a, b), (c, d) = upright_and_level(pdf)
    return Measured(*(round(10 * length) for length in (printer.x(a), printer.x(b), printer.y(c), printer.y(d))))


@pytest.mark.parametrize("stock", [A4, plain_paper()["letter-plain"], stocks()["roll-57x32"]], ids=lambda one: one.name)
def test_a_test_page_has_its_lines_where_it_says(stock):
    lines = lines_to_measure(stock.page_width / 100, stock.page_height / 100)
    pdf = print_test_page(stock, "Office printer", moment=MOMENT)
    upright, level = upright_and_level(pdf)
    assert upright == pytest.approx([lines.a, lines.b], abs=0.05)
    assert level == pytest.approx([lines.c, lines.d], abs=0.05)
    assert set("ABCD") <= set(Sheet(pdf).text())


def test_a_test_page_says_what_to_measure_and_what_to_enter():
    pdf = print_test_page(A4, "Office printer", moment=MOMENT, calibration=Calibration(30, -50, 4, -2))
    text = " ".join(Sheet(pdf).text().split())
    assert text.count("measure here") == 4
    for said in (
        "Test page of Office printer",
        "with: 0.3 mm to the right, -0.5 mm down, +4 ‰ wide, -2 ‰ long",
        "actual size (100 %)",
        "from the left edge of the paper to A and B",
        "A 20.0 mm · B 190.0 mm · C 20.0 mm · D 270.0 mm",
    ):
        assert said in text


def test_no_line_to_measure_runs_through_the_words_of_a_test_page():
    sheet = Sheet(print_test_page(A4, "the laser printer in the store on the quay", moment=MOMENT))
    arrow = 210 * 0.8 + 0.5
    words = [box for box in sheet.boxes() if 40 < box.top < 130 and len(box.text) > 20]
    assert len(words) >= 5
    assert max(box.right for box in words) < arrow - 1


def test_a_test_page_has_rulers_of_true_millimetres_and_an_angle_in_each_corner():
    dark = Sheet(print_test_page(A4, "x", moment=MOMENT)).dark(DPI)
    ticks = middles(dark[round(20.6 / MM), round(20.5 / MM) : round(189.5 / MM)])
    assert numpy.diff(ticks) == pytest.approx(1.0, abs=0.06)
    assert len(ticks) == 169
    for x, y in ((10, 10), (200, 10), (10, 287), (200, 287)):
        assert dark[round(y / MM), round(x / MM)]
        assert dark[round(y / MM), round((x + (4 if x < 100 else -4)) / MM)]
        assert dark[round((y + (4 if y < 100 else -4)) / MM), round(x / MM)]


@pytest.mark.parametrize("printer", FAULTS.values(), ids=FAULTS)
def test_a_calibrated_proof_comes_out_where_the_sheet_has_its_labels(printer):
    page = print_test_page(A4, "x", moment=MOMENT)
    calibration = calibrate(210, 297, measured_on(printer, page))
    assert calibration.right % 10 == calibration.down % 10 == 0
    stock = stocks()["a4-3x7-63x38"]
    pdf = proof_sheet(stock, moment=MOMENT, calibration=calibration)
    dark = Sheet(pdf).dark(DPI)
    across, down = dark.mean(axis=0), dark.mean(axis=1)
    lefts = [printer.x(line) for line in middles(across > 0.6 * across.max())]
    tops = [printer.y(line) for line in middles(down > 0.6 * down.max())]
    assert lefts == pytest.approx([7.2, 70.7, 73.2, 136.7, 139.2, 202.7], abs=0.2)
    assert tops == pytest.approx([15.15 + 38.1 * row for row in range(8)], abs=0.2)


def test_a_second_test_page_shows_only_what_is_left():
    printer = FAULTS["a little large, starts early"]
    first = calibrate(210, 297, measured_on(printer, print_test_page(A4, "x", moment=MOMENT)))
    again = measured_on(printer, print_test_page(A4, "x", moment=MOMENT, calibration=first))
    assert list(again) == pytest.approx([200, 1900, 200, 2700], abs=2)
    second = calibrate(210, 297, again, first)
    assert abs(second.right - first.right) <= 20
    assert abs(second.along - first.along) <= 1


def test_every_page_is_met_and_symbols_keep_their_size():
    stock = stocks()["a4-3x8-70x37"]
    calibration = Calibration(right=120, down=-50, across=5, along=-7)
    plain = lay_out([bag(number) for number in range(49)], stock, moment=MOMENT, title="x")
    met = lay_out([bag(number) for number in range(49)], stock, moment=MOMENT, title="x", calibration=calibration)
    assert met.pages == 3
    for placed in met.placed[::23]:
        place = list(places(stock))[placed.place - 1]
        one, two = (box_of_label(made.pdf, placed.code, placed.page) for made in (plain, met))
        left, top = place.left / 100, place.top / 100
        assert two.left - one.left == pytest.approx(1.2 + 0.005 * left, abs=0.03)
        assert two.top - one.top == pytest.approx(-0.5 - 0.007 * top, abs=0.03)
        assert two.right - two.left == pytest.approx(one.right - one.left, abs=0.02)


def box_of_label(pdf, code, page):
    return next(box for box in Sheet(pdf, page).boxes() if box.text.strip() == code)


def test_cut_lines_and_ruler_are_met_with_the_labels():
    stock = stocks()["a4-2x4-97x67"]
    calibration = Calibration(right=100, down=100, across=10, along=10)
    pdf = lay_out([bag(1)], stock, moment=MOMENT, title="x", calibration=calibration).pdf
    page = Sheet(pdf)._page.render(scale=DPI / 72, grayscale=True).to_pil()
    inked = numpy.asarray(page) < 250  # cut lines are grey
    cuts = middles(inked[:, round(10 / MM) : round(200 / MM)].mean(axis=1) > 0.95)
    assert cuts == pytest.approx([(13.1 + 67.7 * row) * 1.01 + 1.0 for row in range(5)], abs=0.1)
    # The line that must measure 100 mm is 101 mm long in the file: on this printer's paper it comes out right.
    lowest = 283.9 * 1.01 + 1.0
    rows = inked[round((lowest + 1) / MM) : round((lowest + 6) / MM), : round(208 / MM)]
    ruler = numpy.flatnonzero(rows[rows.sum(axis=1).argmax()]) * MM
    assert ruler.max() - ruler.min() == pytest.approx(101.0, abs=0.3)


@pytest.mark.parametrize(
    "lengths",
    [(0, 0, 0, 0), (200, 1900, 200, 200), (1900, 200, 200, 2700), (350, 2050, 200, 2700), (200, 2100, 200, 2700)],
)
def test_lengths_that_no_printer_makes_are_refused(lengths):
    with pytest.raises(Refusal) as no:
        calibrate(210, 297, Measured(*lengths))
    assert no.value.code == "not_a_calibration"
    assert "20, 190, 20 and 270 mm" in no.value.in_words()
