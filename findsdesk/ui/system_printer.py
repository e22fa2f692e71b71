"""Paper out to a printer of the machine, at 100 %: the pages as dots of the printer's own, none of them smoothed.

No printer language is spoken here: the driver gets one picture of black and white dots a page, for a label printer and
for one of sheets alike. Nothing is scaled on the way, so that a bar is as wide as it was drawn.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from findsdesk.desk.laying_out import Sheets, dots_of_page
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter

FINEST = 600
"""Dots an inch: finer pages would fill the memory and be no easier to read."""


def printers_of_the_machine() -> tuple[str, ...]:
    """Return the names of the printers that are set up on this machine; asking a slow network may take a while."""
    from PySide6.QtPrintSupport import QPrinterInfo

    return tuple(QPrinterInfo.availablePrinterNames())


def make_ready(printer: QPrinter, sheets: Sheets) -> None:
    """Set the page of the labels, no margins, and the dots an inch they were drawn for, where the printer has them."""
    from PySide6.QtCore import QMarginsF, QSizeF
    from PySide6.QtGui import QPageLayout, QPageSize
    from PySide6.QtPrintSupport import QPrinter

    width, height = sheets.page_mm
    page = QPageSize(QSizeF(width, height), QPageSize.Unit.Millimeter, "", QPageSize.SizeMatchPolicy.FuzzyMatch)
    printer.setFullPage(True)
    printer.setPageLayout(QPageLayout(page, QPageLayout.Orientation.Portrait, QMarginsF(0, 0, 0, 0)))
    printer.setColorMode(QPrinter.ColorMode.GrayScale)
    if sheets.dpi in printer.supportedResolutions() or printer.outputFormat() is QPrinter.OutputFormat.PdfFormat:
        printer.setResolution(sheets.dpi)


def print_sheets(printer: QPrinter, sheets: Sheets, called_off: Callable[[], bool] = lambda: False) -> int:
    """Paint every page dot for dot and return how many left. Refuses ``printer_gone``."""
    from PySide6.QtGui import QImage, QPainter

    dpi = min(FINEST, printer.resolution())
    if dpi != printer.resolution():
        printer.setResolution(dpi)
    painter = QPainter()
    if not painter.begin(printer):
        raise _gone(printer)
    try:
        for page in range(1, sheets.pages + 1):
            if called_off():
                return page - 1
            if page > 1 and not printer.newPage():
                raise _gone(printer)
            painter.drawImage(0, 0, QImage.fromData(dots_of_page(sheets, page, dpi)))
    finally:
        painter.end()
    return sheets.pages


def _gone(printer: QPrinter) -> Refusal:
    return Refusal(
        "printer_gone",
        N_("{printer} takes nothing. Look whether it is on and has paper, or save the PDF and print it elsewhere."),
        printer=printer.printerName() or printer.outputFileName() or "–",
    )
