"""A label by a layout that is being made: drawn on its stock, and cut out of the page that would be printed."""

from __future__ import annotations

from findsdesk.desk.desk import Desk
from findsdesk.desk.label_layouts import Layout, sample_label
from findsdesk.desk.laying_out import stock_named
from findsdesk.desk.printers import printer_named
from findsdesk.paper import reading_back
from findsdesk.paper.label_kinds import Label
from findsdesk.paper.labels import lay_out
from findsdesk.paper.layouts import check_layout


def look_at_layout(
    desk: Desk, layout: Layout, *, stock: str, label: Label | None = None, printer: str = "", width: int = 900
) -> bytes:
    """Return a label as a PNG ``width`` pixels wide: the one given, or an invented one. Writes nothing.

    Refusals: those of the layout, the stock, the printer and of drawing the label.
    """
    check_layout(layout)
    its_stock, its_printer = stock_named(stock), printer_named(printer)
    drawn = lay_out(
        [label or sample_label(desk, layout.kind)],
        its_stock,
        moment=desk.now(),
        title="",
        language=desk.facts.settings.paper_language,
        terms=desk.facts.terms,
        dpi=its_printer.dpi,
        layout=layout,
    )
    area = (its_stock.left, its_stock.top, its_stock.label_width, its_stock.label_height)
    left, top, across, down = (length / 100 for length in area)
    return reading_back.part_image(drawn.pdf, (left, top, across, down), width)
