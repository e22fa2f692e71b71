"""Reading paper back: the pages of a PDF as pictures, and the symbols on them read by a decoder that drew none of them.

The decoder (zxing-cpp) shares nothing with the Code 128 encoder; the squares it reads were drawn by our own hand.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from ctypes import byref, c_float, c_ushort
from io import BytesIO
from threading import Lock

import pypdfium2
import pypdfium2.raw as raw
import zxingcpp
from PIL import Image

from findsdesk.paper.dots import dot_of

PRINTER_DPI = 203
POINTS = 72 / 25.4
_FORMATS = zxingcpp.BarcodeFormats(
    [zxingcpp.BarcodeFormat.Code128, zxingcpp.BarcodeFormat.QRCode, zxingcpp.BarcodeFormat.DataMatrix]
)


# The renderer must not be entered by two threads at once; previews and reading back run in the window's pool.
_ONE_AT_A_TIME = Lock()


@contextmanager
def _opened(pdf: bytes) -> Iterator[pypdfium2.PdfDocument]:
    with _ONE_AT_A_TIME:
        document = pypdfium2.PdfDocument(pdf)
        try:
            yield document
        finally:
            document.close()


def read_back(pdf: bytes, dpi: int = PRINTER_DPI) -> list[tuple[int, str]]:
    """Return page (from 1) and text of every symbol on every page, set in black and white at ``dpi`` dots an inch.

    A label with bars and a square symbol is there twice; order on a page is the decoder's.
    """
    with _opened(pdf) as document:
        count = len(document)
    found = []
    for place in range(count):
        with _opened(pdf) as document:
            dots = _dots(document[place], dpi)
        found += [(place + 1, text) for text in symbols_in(dots)]
    return found


def symbols_in(picture: Image.Image) -> list[str]:
    """Return the text of every Code 128, QR and Data Matrix symbol in a picture."""
    found = zxingcpp.read_barcodes(picture, formats=_FORMATS, text_mode=zxingcpp.TextMode.Plain, try_invert=False)
    return [symbol.text for symbol in found]


def _dots(page: pypdfium2.PdfPage, dpi: float) -> Image.Image:
    """Return a page as a printer sets it: each dot black or white, none in between."""
    picture: Image.Image = page.render(scale=dpi / 72, grayscale=True).to_pil()
    return picture.point(lambda light: 255 if light > 127 else 0)


def page_dots(pdf: bytes, page: int, dpi: int) -> bytes:
    """Return a page (from 1) as a printer of ``dpi`` dots an inch sets it: a PNG of one bit a dot."""
    with _opened(pdf) as document:
        picture = _dots(document[page - 1], 25.4 / dot_of(dpi)).copy()
    out = BytesIO()
    picture.convert("1").save(out, "PNG", dpi=(dpi, dpi))
    return out.getvalue()


def page_image(pdf: bytes, page: int, width: int) -> bytes:
    """Return a page (from 1) as a PNG picture ``width`` pixels wide: the preview is the file that is printed."""
    with _opened(pdf) as document:
        sheet = document[page - 1]
        picture = sheet.render(scale=width / sheet.get_width()).to_pil().copy()  # out of the renderer's memory
    out = BytesIO()
    picture.save(out, "PNG")
    return out.getvalue()


def part_image(pdf: bytes, area: tuple[float, float, float, float], width: int) -> bytes:
    """Return a part of the first page (left, top, width, height in mm) as a PNG ``width`` pixels wide."""
    left, top, across, down = area
    dots = width / across
    with _opened(pdf) as document:
        page = document[0]
        right, bottom = page.get_width() / POINTS - left - across, page.get_height() / POINTS - top - down
        around = tuple(max(0.0, edge * POINTS) for edge in (left, bottom, right, top))
        picture = page.render(scale=dots / POINTS, crop=around).to_pil().copy()
    out = BytesIO()
    picture.save(out, "PNG")
    return out.getvalue()


def texts_of(pdf: bytes) -> list[tuple[str, float]]:
    """Return each text of the first page as it was set, in the order it was drawn, with its size in points."""
    with _opened(pdf) as document:
        page = document[0]
        words = page.get_textpage()
        objects = page.get_objects(filter=(raw.FPDF_PAGEOBJ_TEXT,))
        return [(_text_of(one, words), _size_of(one)) for one in objects]


def _size_of(text: pypdfium2.PdfObject) -> float:
    size = c_float()
    raw.FPDFTextObj_GetFontSize(text.raw, byref(size))
    return float(size.value)


def _text_of(text: pypdfium2.PdfObject, words: pypdfium2.PdfTextPage) -> str:
    length = raw.FPDFTextObj_GetText(text.raw, words.raw, None, 0)  # in bytes of UTF-16, with a zero at the end
    said = (c_ushort * (length // 2 + 1))()
    raw.FPDFTextObj_GetText(text.raw, words.raw, said, length)
    return bytes(said)[: max(0, length - 2)].decode("utf-16-le", "replace")


def page_count(pdf: bytes) -> int:
    """Return how many pages a PDF has."""
    with _opened(pdf) as document:
        return len(document)
