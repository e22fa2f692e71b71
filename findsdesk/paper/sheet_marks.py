"""What stands on a sheet beside its labels: lines to cut along, the hole of a tag, the ruler, the frames of a proof.

A printer that fits the page to its margins prints bars of the wrong width; the ruler shows it before a sheet is spoilt.
"""

from __future__ import annotations

from datetime import datetime

from findsdesk.paper.face import CLEAR, Face
from findsdesk.paper.fonts import BOLD, PLAIN
from findsdesk.paper.pen import About, Pen
from findsdesk.paper.stocks import LabelStock, places
from findsdesk.words import N_, put

RULER = 100.0
RULER_MARGIN = 9.0  # least margin in mm that takes the ruler outside the part printers cannot reach
HOLE_RADIUS = 2.5
HOLE_FROM_EDGE = 9.0
MARK_HEIGHT = 9.0  # what the lines of the mark may take under the QR symbol
CUT_GREY = 0.6
FRAME = 0.1


def draw_cut_lines(pen: Pen, stock: LabelStock, right: float, down: float) -> None:
    """Draw the edges of every tag of a card that is cut by hand; ``right`` and ``down`` shift them (mm)."""
    for place in places(stock):
        left, top = place.left / 100 + right, place.top / 100 + down
        pen.box(left, top, stock.label_width / 100, stock.label_height / 100, FRAME, CUT_GREY)


def draw_hole(pen: Pen, face: Face, left: float, top: float) -> None:
    """Draw where a tag's hole is punched for its string, under the QR symbol where there is room for it."""
    middle = left + face.width - HOLE_FROM_EDGE
    down = top + face.copy.top - HOLE_RADIUS - CLEAR - 2.0
    if down - HOLE_RADIUS < top + face.under_square.top + MARK_HEIGHT:
        return
    pen.circle(middle, down, HOLE_RADIUS, 0.15, CUT_GREY)
    pen.rule(middle - 0.8, down, middle + 0.8, down, 0.1, CUT_GREY)
    pen.rule(middle, down - 0.8, middle, down + 0.8, 0.1, CUT_GREY)


def draw_ruler(pen: Pen, stock: LabelStock, language: str) -> None:
    """Draw a line of 100 mm in the lower margin, where the sheet has one wide enough."""
    lowest = (stock.top + (stock.rows - 1) * stock.down + stock.label_height) / 100
    margin = stock.page_height / 100 - lowest
    if margin < RULER_MARGIN or stock.page_width / 100 < RULER + 2 * CLEAR:
        return
    left = (stock.page_width / 100 - RULER) / 2
    _draw_line(pen, left, lowest + margin * 0.35, language)


def _draw_line(pen: Pen, left: float, down: float, language: str) -> None:
    pen.rule(left, down, left + RULER, down, 0.2)
    for tens in range(11):
        tick = 1.6 if tens in (0, 5, 10) else 0.8
        pen.rule(left + 10 * tens, down - tick, left + 10 * tens, down, 0.2)
    words = put(N_("This line must measure 100 mm; if not, print again at actual size."), None, None, language)
    pen.text(left + RULER / 2, down + 2.8, words, PLAIN, 6.5, "middle")


def proof_sheet(stock: LabelStock, *, moment: datetime, right: int = 0, down: int = 0, language: str = "en") -> bytes:
    """Return a page with the frame and number of every place, to print on plain paper and hold against the sheet.

    ``right`` and ``down`` shift it as the printer needs it, in hundredths of a millimetre.
    """
    title = stock.in_words(language)
    pen = Pen(stock.page_width / 100, stock.page_height / 100, About(title, language, moment))
    width, height = stock.label_width / 100, stock.label_height / 100
    for place in places(stock):
        left, top = (place.left + right) / 100, (place.top + down) / 100
        pen.box(left, top, width, height, FRAME)
        pen.text(left + width / 2, top + height / 2, str(place.number), BOLD, 16, "middle")
    pen.text((stock.left + right) / 100 + CLEAR, (stock.top + down) / 100 + CLEAR + 2, title, PLAIN, 5)
    draw_ruler(pen, stock, language)
    return pen.finish()
