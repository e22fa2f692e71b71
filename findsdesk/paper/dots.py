"""The dots of a printer: bars and squares are a whole number of them wide and begin on one.

A bar of a part of a dot comes out too thick or too thin to read. Lengths in millimetres.
"""

from __future__ import annotations

from math import ceil

COMMON_DPI = 203
LEAST_DOTS = 2
LEAST_BAR = 0.25  # narrower bars do not survive a worn print (own trials with rendered prints)
_COMMON_DOT = 0.125  # the common label printers, sold as 203 dpi, have 8 dots a millimetre
_EXACT = 1e-9


def dot_of(dpi: int) -> float:
    """Return the width of one dot of a printer with ``dpi`` dots an inch."""
    return _COMMON_DOT if dpi == COMMON_DPI else 25.4 / dpi


def whole_dots(length: float, dot: float) -> float:
    """Return the least whole number of dots, two or more, that is no shorter than a length."""
    return max(LEAST_DOTS, ceil(length / dot - _EXACT)) * dot


def on_grid(length: float, dot: float = _COMMON_DOT) -> float:
    """Return the nearest whole number of dots."""
    return round(length / dot) * dot
