"""A stock of one's own: from what was measured on a sheet or a roll, and what cannot be right about it.

Whoever measures a sheet measures from the edge of the paper to the first label and to the last one: the steps between
come out of the two, and no error adds up over the rows.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import sqrt

from findsdesk.domain.refusals import Refusal
from findsdesk.paper.face import CLEAR
from findsdesk.paper.stocks import Kind, LabelStock, millimetres
from findsdesk.words import N_

LARGEST_PAGE = 120_000  # hundredths of a mm: a roll is no page longer than this
MOST_LABELS = 1_000
ROUNDEST = round(100 * CLEAR / (1 - sqrt(0.5)))  # radius whose arc still leaves the corner of the printed part whole
LEAST_MARGIN = 500  # what printers leave white at the edges, hundredths of a mm; common practice


@dataclass(frozen=True, slots=True)
class MeasuredSheet:
    """What was measured on a sheet, in hundredths of a millimetre.

    ``left`` and ``top`` reach from the edge of the paper to the first label, ``last_left`` and ``last_top`` to the left
    edge of the last column and the top edge of the last row (not asked for where there is only one).
    """

    page_width: int
    page_height: int
    columns: int
    rows: int
    label_width: int
    label_height: int
    left: int
    top: int
    last_left: int = 0
    last_top: int = 0
    corner: int = 0


def measured_sheet(name: str, page: str, measured: MeasuredSheet, kind: Kind = "sheet") -> LabelStock:
    """Return the stock that was measured; ``page`` is what its size is called. Refuses the first of its faults."""
    across = _step(measured.left, measured.last_left, measured.columns, measured.label_width)
    down = _step(measured.top, measured.last_top, measured.rows, measured.label_height)
    return _sound(
        LabelStock(
            name=name.strip(),
            page=page,
            page_width=measured.page_width,
            page_height=measured.page_height,
            columns=measured.columns,
            rows=measured.rows,
            label_width=measured.label_width,
            label_height=measured.label_height,
            left=measured.left,
            top=measured.top,
            across=across,
            down=down,
            kind=kind,
            corner=measured.corner,
        )
    )


def _step(first: int, last: int, number: int, size: int) -> int:
    return round((last - first) / (number - 1)) if number > 1 else size


def measured_roll(name: str, width: int, height: int, gap: int, corner: int = 0) -> LabelStock:
    """Return a roll whose every label is a page of its own; ``gap`` is the backing between two of them.

    All in hundredths of a millimetre. Refuses the first of its faults.
    """
    page = f"{millimetres(width)} × {millimetres(height)} mm"
    return _sound(
        LabelStock(name.strip(), page, width, height, 1, 1, width, height, 0, 0, width, height, "roll", gap, corner)
    )


def paper_to_cut(name: str, paper: LabelStock, width: int, height: int) -> LabelStock:
    """Return as many labels of a size as plain paper holds, edge to edge in its middle, to be cut at marks.

    Sizes in hundredths of a millimetre. Refuses a label larger than the paper inside its margins.
    """
    columns = (paper.page_width - 2 * LEAST_MARGIN) // max(1, width)
    rows = (paper.page_height - 2 * LEAST_MARGIN) // max(1, height)
    if min(columns, rows) < 1:
        raise Refusal(
            "label_larger_than_page",
            N_("A label of {width} × {height} mm does not go on {page} inside its margins: choose a smaller one."),
            width=millimetres(width),
            height=millimetres(height),
            page=paper.page,
        )
    left, top = (paper.page_width - columns * width) // 2, (paper.page_height - rows * height) // 2
    size = (columns, rows, width, height, left, top, width, height)
    return _sound(LabelStock(name.strip(), paper.page, paper.page_width, paper.page_height, *size, "cut"))


def _sound(stock: LabelStock) -> LabelStock:
    for fault in faults(stock):
        raise fault
    return stock


def faults(stock: LabelStock) -> list[Refusal]:
    """Return what cannot be right about a stock, each as the no it is refused with."""
    return [*_of_sizes(stock), *_of_width(stock), *_of_height(stock)]


def _of_sizes(stock: LabelStock) -> Iterator[Refusal]:
    if not stock.name:
        yield Refusal("stock_without_name", N_("A stock needs a name to be found by: give it one."))
    counts = stock.columns, stock.rows
    sizes = stock.page_width, stock.page_height, stock.label_width, stock.label_height
    if min(*counts, *sizes) < 1 or min(stock.left, stock.top, stock.gap, stock.corner) < 0:
        yield Refusal("stock_size_missing", N_("A number is missing or below zero: fill in every size of the stock."))
    if max(stock.page_width, stock.page_height) > LARGEST_PAGE or stock.labels_a_page > MOST_LABELS:
        yield Refusal(
            "stock_too_large",
            N_("A page has at most {page} mm and {labels} labels: measure in millimetres and count again."),
            page=millimetres(LARGEST_PAGE),
            labels=MOST_LABELS,
        )
    if stock.corner > ROUNDEST:
        yield Refusal(
            "stock_corner_too_round",
            N_("Corners of {corner} mm radius would cut into the print, {most} mm is the most: measure again."),
            corner=millimetres(stock.corner),
            most=millimetres(ROUNDEST),
        )


def _of_width(stock: LabelStock) -> Iterator[Refusal]:
    needed = stock.left + (stock.columns - 1) * stock.across + stock.label_width
    if needed > stock.page_width:
        yield Refusal(
            "columns_wider_than_page",
            N_("The columns reach to {needed} mm, the page is {page} mm wide: measure again."),
            needed=millimetres(needed),
            page=millimetres(stock.page_width),
        )
    if stock.columns > 1 and stock.across < stock.label_width:
        yield Refusal(
            "columns_overlap",
            N_("The columns overlap: from one to the next are {step} mm, a label is {size} mm wide. Measure again."),
            step=millimetres(stock.across),
            size=millimetres(stock.label_width),
        )


def _of_height(stock: LabelStock) -> Iterator[Refusal]:
    needed = stock.top + (stock.rows - 1) * stock.down + stock.label_height
    if needed > stock.page_height:
        yield Refusal(
            "rows_higher_than_page",
            N_("The rows reach to {needed} mm, the page is {page} mm high: measure again."),
            needed=millimetres(needed),
            page=millimetres(stock.page_height),
        )
    if stock.rows > 1 and stock.down < stock.label_height:
        yield Refusal(
            "rows_overlap",
            N_("The rows overlap: from one to the next are {step} mm, a label is {size} mm high. Measure again."),
            step=millimetres(stock.down),
            size=millimetres(stock.label_height),
        )
