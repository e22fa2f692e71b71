"""The test page of a printer: four lines to measure from the edge of the paper, rulers along them, what to enter."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from findsdesk.paper.calibration import NONE, Calibration, Lines, lines_to_measure
from findsdesk.paper.fitting import fit_or_cut, wrap
from findsdesk.paper.fonts import BOLD, PLAIN, POINT_MM
from findsdesk.paper.pen import About, Pen
from findsdesk.paper.stocks import LabelStock, millimetres
from findsdesk.words import N_, put

THIN = 0.1
ARROW_GREY = 0.6
ROOMY = 100.0  # mm; smaller pages have room for the lines and their letters only
CORNER = 8.0
TICKS = ((10, 3.0), (5, 2.0), (1, 1.2))
SIZE = 10.0
FAR_ARROW = 0.8  # of the width: where the arrow down to D runs

Place = Callable[[float], float]


def print_test_page(
    stock: LabelStock, printer: str, *, moment: datetime, calibration: Calibration = NONE, language: str = "en"
) -> bytes:
    """Return a test page for a printer on a stock's page size, printed with the calibration it has so far."""
    width, height = stock.page_width / 100, stock.page_height / 100
    title = put(N_("Test page of {printer}"), None, {"printer": printer}, language)
    pen = Pen(width, height, About(title, language, moment))
    lines = lines_to_measure(width, height)
    _draw_lines(pen, lines, calibration, width, height)
    if min(width, height) >= ROOMY:
        _draw_rulers(pen, lines, calibration)
        _draw_here(pen, lines, calibration, width, height, put(N_("measure here"), None, None, language))
        _draw_corners(pen, width, height, calibration)
        _draw_words(pen, lines, title, _said(stock, calibration, lines, moment, language))
    return pen.finish()


def _draw_lines(pen: Pen, lines: Lines, calibration: Calibration, width: float, height: float) -> None:
    """Draw the lines over the whole page: whoever measures begins at the edge of the paper."""
    for name, wanted in (("A", lines.a), ("B", lines.b)):
        at = calibration.left(wanted)
        pen.rule(at, 0, at, height, THIN)
        pen.text(at - 1.0, height * 0.62, name, BOLD, SIZE, "right")
    for name, wanted in (("C", lines.c), ("D", lines.d)):
        at = calibration.top(wanted)
        pen.rule(0, at, width, at, THIN)
        pen.text(width * 0.62, at - 1.0, name, BOLD, SIZE)


def _draw_rulers(pen: Pen, lines: Lines, calibration: Calibration) -> None:
    """Draw a tick for each millimetre along A and C, from line to line, with the tens in figures."""
    left, top = calibration.left(lines.a), calibration.top(lines.c)
    for step in range(int(lines.b - lines.a) + 1):
        at = calibration.left(lines.a + step)
        pen.rule(at, top, at, top + _tick(step), THIN)
        if step % 10 == 0 and 0 < step < lines.b - lines.a:
            pen.text(at, top + 6.0, str(step), PLAIN, 6, "middle")
    for step in range(int(lines.d - lines.c) + 1):
        at = calibration.top(lines.c + step)
        pen.rule(left, at, left + _tick(step), at, THIN)
        if step % 10 == 0 and 0 < step < lines.d - lines.c:
            pen.text(left + 4.0, at + 0.8, str(step), PLAIN, 6)


def _draw_here(pen: Pen, lines: Lines, calibration: Calibration, width: float, height: float, words: str) -> None:
    """Draw where the rule is laid: from the edge of the paper to each line."""
    for wanted, down in ((lines.a, height * 0.72), (lines.b, height * 0.78)):
        _draw_arrow(pen, calibration.left(wanted), down, 1.0, 0.0)
        pen.text(2.0, down - 1.0, words, PLAIN, 6)
    for wanted, right in ((lines.c, width * 0.72), (lines.d, width * FAR_ARROW + 0.5)):
        _draw_arrow(pen, right, calibration.top(wanted), 0.0, 1.0)
        pen.text(right + 1.0, 6.0, words, PLAIN, 6)


def _draw_arrow(pen: Pen, x: float, y: float, right: float, down: float) -> None:
    """Draw a line from the paper's left edge (``right`` is 1) or top edge (``down`` is 1) to a point, with its head."""
    pen.rule(x * (1 - right), y * (1 - down), x, y, THIN, ARROW_GREY)
    for side in (-1.0, 1.0):
        pen.rule(x - 2.0 * right - side * down, y - 2.0 * down - side * right, x, y, THIN, ARROW_GREY)


def _tick(step: int) -> float:
    return next(length for every, length in TICKS if step % every == 0)


def _draw_corners(pen: Pen, width: float, height: float, calibration: Calibration) -> None:
    """Draw an angle 10 mm inside each corner of the paper: where one is missing the printer does not reach."""
    for right in (False, True):
        for low in (False, True):
            x = calibration.left(width - 10.0 if right else 10.0)
            y = calibration.top(height - 10.0 if low else 10.0)
            pen.rule(x, y, x + (-CORNER if right else CORNER), y, 0.3)
            pen.rule(x, y, x, y + (-CORNER if low else CORNER), 0.3)


def _said(stock: LabelStock, calibration: Calibration, lines: Lines, moment: datetime, language: str) -> list[str]:
    facts = {
        "page": stock.page,
        "moment": f"{moment:%Y-%m-%d %H:%M}",
        "right": millimetres(calibration.right),
        "down": millimetres(calibration.down),
        "across": f"{calibration.across:+d}",
        "along": f"{calibration.along:+d}",
        **{name: f"{length:.1f}" for name, length in lines._asdict().items()},
    }
    texts = (
        N_("{page}, printed {moment} with: {right} mm to the right, {down} mm down, {across} ‰ wide, {along} ‰ long."),
        N_("1. Print at actual size (100 %), never “fit to page”."),
        N_("2. Measure with a steel rule: from the left edge of the paper to A and B, from its top edge to C and D."),
        N_("3. Enter the four lengths to a tenth of a millimetre. They should be:"),
        N_("A {a} mm · B {b} mm · C {c} mm · D {d} mm"),
        N_("4. Print this page again and measure: what is left should be no more than 0.2 mm."),
    )  # fmt: skip
    return [put(text, None, facts, language) for text in texts]


def _draw_words(pen: Pen, lines: Lines, title: str, said: list[str]) -> None:
    left = lines.a + 15.0
    room = min(lines.b - lines.a - 30.0, (lines.a + lines.b) * FAR_ARROW - 5.0 - left)  # short of the arrow to D
    down = lines.c + 24.0
    pen.words(left, down, fit_or_cut(title, BOLD, 16.0, SIZE, room))
    for text in said:
        for line in wrap(text, PLAIN, SIZE, room):
            down += SIZE * 1.5 * POINT_MM
            pen.text(left, down, line, PLAIN, SIZE)
        down += 2.0
    for name in ("A", "B", "C", "D"):
        down += 11.0
        pen.text(left, down, name, BOLD, SIZE)
        pen.rule(left + 8.0, down, left + 48.0, down, 0.2)
        pen.text(left + 50.0, down, "mm", PLAIN, SIZE)
