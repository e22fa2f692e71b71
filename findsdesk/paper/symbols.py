"""Symbols on paper: Code 128 and QR drawn as vectors on the printer's dot grid, one string of operators each.

Lengths in millimetres from the page's left and top edge. A module is a whole number of dots of 1/8 mm, the dot of the
common label printers (sold as 203 dpi): bars of a part of a dot come out too thick or too thin to read.
"""

from __future__ import annotations

import re

import zxingcpp

from findsdesk.paper import code128
from findsdesk.paper.code128 import SymbolFault
from findsdesk.paper.pen import Pen

DOT = 0.125
QR_QUIET_MODULES = 4  # ISO/IEC 18004:2015 9.1, as cited in the source of an open bar code writer
QR_SIDE = 21  # modules of version 1, which holds 16 of our characters at level Q
QR_LEVEL = "Q"  # recovers about a quarter of the symbol: mud and scratches

_QR_ONLY = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
_DARK = re.compile("1+")
_DARK_BYTES = re.compile(rb"\x00+")


def on_grid(length: float) -> float:
    """Return the nearest whole number of printer dots, in millimetres."""
    return round(length / DOT) * DOT


def qr_rows(code: str) -> list[bytes]:
    """Return the rows of a QR symbol, one byte a module, 0 for dark; proved to say that code; without quiet zone."""
    code128.check_code(code)
    symbol = zxingcpp.create_barcode(code, zxingcpp.BarcodeFormat.QRCode, ec_level=QR_LEVEL)
    picture = symbol.to_image(scale=1, add_quiet_zones=False)
    said = zxingcpp.read_barcode(
        picture,
        formats=_QR_ONLY,
        is_pure=True,
        try_rotate=False,
        try_downscale=False,
        try_invert=False,
        text_mode=zxingcpp.TextMode.Plain,
    )
    if said is None or said.text != code or said.ec_level != QR_LEVEL:
        raise SymbolFault(f"the QR symbol for {code} says {said.text if said else 'nothing'}")
    pixels = memoryview(picture)  # type: ignore[arg-type]  # it is a buffer; the library's types leave it out
    flat = bytes(pixels)
    if len(flat) != QR_SIDE * QR_SIDE:
        raise SymbolFault(f"{code} is too long for a QR symbol of {QR_SIDE} modules")
    return [flat[start : start + QR_SIDE] for start in range(0, len(flat), QR_SIDE)]


class _Runs(dict[tuple[int, int], str]):
    """The rectangle of each run of dark modules, by where it starts and ends in its module string; written once."""

    def __init__(self, side: int, rows: int) -> None:
        """Keep runs of a symbol with ``rows`` rows of ``side`` modules, one character between the rows."""
        super().__init__()
        self._stride, self._last = side + 1, rows - 1

    def __missing__(self, run: tuple[int, int]) -> str:
        start, end = run
        row, column = divmod(start, self._stride)
        operator = self[run] = f"{column} {self._last - row} {end - start} 1 re"
        return operator


_BARS = _Runs(side=10_000, rows=1)
_QR = _Runs(side=QR_SIDE, rows=QR_SIDE)


def code128_operators(modules: str) -> str:
    """Return a module string as rectangles of height 1, in modules from its lower left corner."""
    return "\n".join([_BARS[run.span()] for run in _DARK.finditer(modules)])


def qr_operators(rows: list[bytes]) -> str:
    """Return the dark runs of a QR symbol as rectangles, in modules from its lower left corner."""
    return "\n".join([_QR[run.span()] for run in _DARK_BYTES.finditer(b"|".join(rows))])


def draw_code128(pen: Pen, modules: str, left: float, top: float, module: float, height: float) -> None:
    """Draw a module string as bars; ``left``, moved onto the dot grid, is the first bar's edge (quiet zone outside)."""
    pen.draw_operators(code128_operators(modules), on_grid(left), top + height, module, height)


def draw_qr(pen: Pen, code: str, left: float, top: float, module: float) -> None:
    """Draw a code as QR; ``left`` and ``top`` are the first dark module's (the quiet zone lies outside)."""
    rows = qr_rows(code)
    pen.draw_operators(qr_operators(rows), on_grid(left), on_grid(top) + len(rows) * module, module, module)
