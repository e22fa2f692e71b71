"""Symbols on paper: Code 128, QR and Data Matrix drawn as vectors on the printer's dot grid.

Each is one string of operators. Lengths in millimetres from the page's left and top edge.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

import zxingcpp

from findsdesk.paper import code128
from findsdesk.paper.code128 import SymbolFault
from findsdesk.paper.dots import on_grid
from findsdesk.paper.pen import Pen

QR_LEVEL = "Q"  # recovers about a quarter of the symbol: mud and scratches


@dataclass(frozen=True, slots=True)
class Square:
    """A kind of square symbol of one size: its name, modules a side, modules of quiet zone, how it is written."""

    name: str
    side: int
    quiet: int
    kind: Any
    options: tuple[tuple[str, Any], ...]


# Version 1 holds 16 of our characters at level Q. Quiet zone: ISO/IEC 18004:2015 9.1, as cited in the source of an
# open bar code writer.
QR = Square("QR", 21, 4, zxingcpp.BarcodeFormat.QRCode, (("ec_level", QR_LEVEL),))
# 16 × 16 holds 16 of our characters too. Quiet zone: ISO/IEC 16022:2006 7.1 asks for one module (as cited there); two
# are kept, because the eye of a scanner does not see so small a square stand alone otherwise (common practice).
DATA_MATRIX = Square("Data Matrix", 16, 2, zxingcpp.BarcodeFormat.DataMatrix, (("version", 4), ("force_square", True)))

_DARK = re.compile("1+")
_DARK_BYTES = re.compile(rb"\x00+")


def square_rows(code: str, square: Square = QR) -> list[bytes]:
    """Return the rows of a square symbol, one byte a module, 0 for dark, without quiet zone; proved to say the code."""
    code128.check_code(code)
    symbol = zxingcpp.create_barcode(code, square.kind, **dict(square.options))
    picture = symbol.to_image(scale=1, add_quiet_zones=False)
    said = zxingcpp.read_barcode(
        picture,
        formats=square.kind,
        is_pure=True,
        try_rotate=False,
        try_downscale=False,
        try_invert=False,
        text_mode=zxingcpp.TextMode.Plain,
    )
    if said is None or said.text != code or said.ec_level != (QR_LEVEL if square is QR else said.ec_level):
        raise SymbolFault(f"the {square.name} symbol for {code} says {said.text if said else 'nothing'}")
    pixels = memoryview(picture)  # type: ignore[arg-type]  # it is a buffer; the library's types leave it out
    flat = bytes(pixels)
    side = square.side
    if len(flat) != side * side:
        raise SymbolFault(f"{code} is too long for a {square.name} symbol of {side} modules")
    return [flat[start : start + side] for start in range(0, len(flat), side)]


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
_SQUARES = {square.side: _Runs(side=square.side, rows=square.side) for square in (QR, DATA_MATRIX)}


def code128_operators(modules: str) -> str:
    """Return a module string as rectangles of height 1, in modules from its lower left corner."""
    return "\n".join([_BARS[run.span()] for run in _DARK.finditer(modules)])


def square_operators(rows: list[bytes]) -> str:
    """Return the dark runs of a square symbol as rectangles, in modules from its lower left corner."""
    runs = _SQUARES[len(rows)]
    return "\n".join([runs[run.span()] for run in _DARK_BYTES.finditer(b"|".join(rows))])


def draw_code128(pen: Pen, modules: str, left: float, top: float, module: float, height: float) -> None:
    """Draw a module string as bars; ``left``, moved onto the dot grid, is the first bar's edge (quiet zone outside)."""
    pen.draw_operators(code128_operators(modules), on_grid(left, pen.dot), top + height, module, height)


def draw_square(pen: Pen, square: Square, code: str, left: float, top: float, module: float) -> None:
    """Draw a code as a square; ``left`` and ``top`` are the first module's (the quiet zone lies outside)."""
    rows = square_rows(code, square)
    bottom = on_grid(top, pen.dot) + len(rows) * module
    pen.draw_operators(square_operators(rows), on_grid(left, pen.dot), bottom, module, module)
