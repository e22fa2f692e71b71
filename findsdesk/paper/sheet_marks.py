"""What stands on a sheet beside its labels: lines to cut along, the hole of a tag, the ruler, the frames of a proof.

A printer that fits the page to its margins prints bars of the wrong width; the ruler shows it before a sheet is spoilt.
"""

from __future__ import annotations

from datetime import datetime

from findsdesk.paper.calibration import NONE, Calibration
from findsdesk.paper.face import CLEAR, Face
from findsdesk.paper.fitting import fit_or_cut
from findsdesk.paper.fonts import BOLD, PLAIN
from findsdesk.paper.label_words import LEAST
from findsdesk.paper.pen import About, Pen
from findsdesk.paper.stocks import LabelPlace, LabelStock, places
from findsdesk.words import N_, put

RULER = 100.0
RULER_MARGIN = 9.0  # least margin in mm that takes the ruler outside the part printers cannot reach
HOLE_RADIUS = 2.5
HOLE_FROM_EDGE = 9.0
MARK_HEIGHT = 9.0  # what the lines of the mark may take under the QR symbol
CUT_GREY = 0.6
FRAME = 0.1
MARK = 4.0  # length of a cut mark in the margin, from the edge of the labels outwards
CROSS = 1.0
DASH = 1.5


def draw_cut_lines(pen: Pen, stock: LabelStock, calibration: Calibration) -> None:
    """Draw the edges of every tag of a card that is cut by hand."""
    for place in places(stock):
        _draw_frame(pen, stock, place, calibration, CUT_GREY)


def _draw_frame(pen: Pen, stock: LabelStock, place: LabelPlace, calibration: Calibration, grey: float = 0.0) -> None:
    left, top = calibration.left(place.left / 100), calibration.top(place.top / 100)
    right = calibration.left((place.left + stock.label_width) / 100)
    bottom = calibration.top((place.top + stock.label_height) / 100)
    pen.box(left, top, right - left, bottom - top, FRAME, grey)


def draw_cut_marks(pen: Pen, stock: LabelStock, calibration: Calibration) -> None:
    """Draw where paper is cut: a line in the margin at each edge, and a small cross where four labels meet."""
    upright, level = _edges(stock)
    for x in upright:
        at = calibration.left(x)
        for inner, outer in ((level[0], level[0] - MARK), (level[-1], level[-1] + MARK)):
            pen.rule(at, calibration.top(inner), at, calibration.top(outer), FRAME)
    for y in level:
        at = calibration.top(y)
        for inner, outer in ((upright[0], upright[0] - MARK), (upright[-1], upright[-1] + MARK)):
            pen.rule(calibration.left(inner), at, calibration.left(outer), at, FRAME)
    for x in upright[1:-1]:
        for y in level[1:-1]:
            _draw_cross(pen, calibration.left(x), calibration.top(y))


def _edges(stock: LabelStock) -> tuple[list[float], list[float]]:
    """Return where a sheet is cut, in mm from its left and its top edge."""
    upright = {
        left for column in range(stock.columns) for left in _both(stock.left + column * stock.across, stock.label_width)
    }
    level = {top for row in range(stock.rows) for top in _both(stock.top + row * stock.down, stock.label_height)}
    return [edge / 100 for edge in sorted(upright)], [edge / 100 for edge in sorted(level)]


def _both(start: int, size: int) -> tuple[int, int]:
    return start, start + size


def _draw_cross(pen: Pen, x: float, y: float) -> None:
    pen.rule(x - CROSS, y, x + CROSS, y, FRAME, CUT_GREY)
    pen.rule(x, y - CROSS, x, y + CROSS, FRAME, CUT_GREY)


def draw_tear_line(pen: Pen, left: float, right: float, down: float) -> None:
    """Draw a line of dashes along which a counterfoil is torn off."""
    at = left
    while at + DASH <= right:
        pen.rule(at, down, at + DASH, down, FRAME, CUT_GREY)
        at += 2 * DASH


def draw_hole(pen: Pen, face: Face, left: float, top: float) -> None:
    """Draw where a tag's hole is punched for its string, under the QR symbol where there is room for it."""
    middle = left + face.width - HOLE_FROM_EDGE
    down = top + face.copy.top - HOLE_RADIUS - CLEAR - 2.0
    if down - HOLE_RADIUS < top + face.under_square.top + MARK_HEIGHT:
        return
    pen.circle(middle, down, HOLE_RADIUS, 0.15, CUT_GREY)
    pen.rule(middle - 0.8, down, middle + 0.8, down, 0.1, CUT_GREY)
    pen.rule(middle, down - 0.8, middle, down + 0.8, 0.1, CUT_GREY)


def draw_ruler(pen: Pen, stock: LabelStock, calibration: Calibration, language: str) -> None:
    """Draw a line of 100 mm in the lower margin, where the sheet has one wide enough."""
    lowest = (stock.top + (stock.rows - 1) * stock.down + stock.label_height) / 100
    margin = stock.page_height / 100 - lowest
    if margin < RULER_MARGIN or stock.page_width / 100 < RULER + 2 * CLEAR:
        return
    left = (stock.page_width / 100 - RULER) / 2
    _draw_line(pen, left, calibration.top(lowest + margin * 0.35), calibration, language)


def _draw_line(pen: Pen, left: float, down: float, calibration: Calibration, language: str) -> None:
    pen.rule(calibration.left(left), down, calibration.left(left + RULER), down, 0.2)
    for tens in range(11):
        tick, at = (1.6 if tens in (0, 5, 10) else 0.8), calibration.left(left + 10 * tens)
        pen.rule(at, down - tick, at, down, 0.2)
    words = put(N_("This line must measure 100 mm; if not, print again at actual size."), None, None, language)
    pen.text(calibration.left(left + RULER / 2), down + 2.8, words, PLAIN, 6.5, "middle")


def proof_sheet(stock: LabelStock, *, moment: datetime, calibration: Calibration = NONE, language: str = "en") -> bytes:
    """Return a page with the frame and number of every place, to print on plain paper and hold against the sheet."""
    title = stock.in_words(language)
    pen = Pen(stock.page_width / 100, stock.page_height / 100, About(title, language, moment))
    width, height = stock.label_width / 100, stock.label_height / 100
    for place in places(stock):
        _draw_frame(pen, stock, place, calibration)
        middle, down = place.left / 100 + width / 2, place.top / 100 + height / 2
        pen.text(calibration.left(middle), calibration.top(down), str(place.number), BOLD, 16, "middle")
    left, top = calibration.left(stock.left / 100 + CLEAR), calibration.top(stock.top / 100 + CLEAR + 2)
    pen.words(left, top, fit_or_cut(title, PLAIN, 5, LEAST, width - 2 * CLEAR))
    draw_ruler(pen, stock, calibration, language)
    return pen.finish()
