"""The face of a label: where symbols and words stand on a stock, worked out once for a size and a code's length.

All in millimetres from the label's left and top edge. Nothing but quiet zones reaches into the outer 2 mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from findsdesk.paper.code128 import QUIET_MODULES
from findsdesk.paper.fonts import CAPITAL, DESCENT, POINT_MM
from findsdesk.paper.symbols import QR_QUIET_MODULES, QR_SIDE

CLEAR = 2.0
GAP = 1.0
OVER_CODE = 0.7
COPY_WIDTH = 7.0  # least room in which “copy 2” is still read
BAR_MODULES = (0.375, 0.25)  # 3 and 2 printer dots; what survives a worn 203 dpi print
QR_MODULES = (0.75, 0.625, 0.5, 0.375)
BAR_HEIGHT = 6.35
BAR_SHARE = 0.15  # of the symbol's length; with BAR_HEIGHT the rule of printer manuals
LOW = 30.0  # below this height the bars stand beside the QR symbol, not under it


@dataclass(frozen=True, slots=True)
class Bars:
    """Where the Code 128 symbol stands; ``left`` is its first bar's edge, ``length`` from first to last bar."""

    left: float
    top: float
    module: float
    length: float
    height: float

    @property
    def quiet(self) -> float:
        """Return the width of the quiet zone on each side."""
        return QUIET_MODULES * self.module


@dataclass(frozen=True, slots=True)
class Room:
    """A rectangle for words."""

    left: float
    top: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Return the right edge."""
        return self.left + self.width

    @property
    def bottom(self) -> float:
        """Return the lower edge."""
        return self.top + self.height


@dataclass(frozen=True, slots=True)
class Face:
    """One arrangement: the QR symbol, the bars where they fit, and the rooms left for words."""

    width: float
    height: float
    qr_left: float
    qr_top: float
    qr_module: float
    bars: Bars | None
    words: Room
    under_qr: Room
    code: Room
    copy: Room


def code_height(size: float) -> float:
    """Return the height in mm of capitals and figures at a size in points."""
    return size * CAPITAL * POINT_MM


@cache
def arrange(width: float, height: float, modules: int) -> Face:
    """Return the arrangement for a label of a size and a Code 128 symbol of so many modules."""
    qr_module = _qr_module(width, height)
    if height >= LOW:
        bars = _bars_under(width, height, modules)
        if bars is not None:
            return _with_bars_under(width, height, qr_module, bars)
    return _beside(width, height, qr_module, modules)


def _qr_module(width: float, height: float) -> float:
    for module in QR_MODULES:
        if QR_SIDE * module <= min(0.42 * height, 0.2 * width):
            return module
    return QR_MODULES[-1]


def _code_size(height: float) -> float:
    return min(11.0, max(7.5, height * 0.2))


def _code_base(height: float) -> float:
    """Return the base line of the code in letters, high enough that the tail of a Q or y stays out of the edge."""
    return height - CLEAR - DESCENT * _code_size(height) * POINT_MM


def _bars_under(width: float, height: float, modules: int) -> Bars | None:
    above_code = _code_base(height) - code_height(_code_size(height)) - OVER_CODE
    for module in BAR_MODULES:
        length = modules * module
        side = max(QUIET_MODULES * module, CLEAR)
        tall = max(BAR_HEIGHT, BAR_SHARE * length, 0.16 * height)
        if length + 2 * side <= width and tall <= 0.25 * height:
            return Bars(side, above_code - tall, module, length, tall)
    return None


def _with_bars_under(width: float, height: float, qr_module: float, bars: Bars) -> Face:
    qr_side, quiet = QR_SIDE * qr_module, QR_QUIET_MODULES * qr_module
    inset = max(CLEAR, quiet, 0.036 * width)
    qr_left, qr_top = width - inset - qr_side, max(CLEAR, quiet)
    under_top = qr_top + qr_side + quiet
    beside_bars = bars.left + bars.length + bars.quiet <= qr_left
    under_bottom = height - CLEAR if beside_bars else bars.top - GAP
    code_top = bars.top + bars.height + OVER_CODE
    code_tall = _code_base(height) - code_top
    copy_left = bars.left + bars.length * 0.7 + GAP
    return Face(
        width=width,
        height=height,
        qr_left=qr_left,
        qr_top=qr_top,
        qr_module=qr_module,
        bars=bars,
        words=Room(bars.left, CLEAR, qr_left - quiet - bars.left, bars.top - GAP - CLEAR),
        under_qr=Room(qr_left, under_top, width - CLEAR - qr_left, max(0.0, under_bottom - under_top)),
        code=Room(bars.left, code_top, bars.length * 0.7, code_tall),
        copy=Room(copy_left, code_top, width - CLEAR - copy_left, code_tall),
    )


def _beside(width: float, height: float, qr_module: float, modules: int) -> Face:
    """Arrange a low or narrow label: QR at the right over the code in letters; bars at the left where they fit."""
    qr_side, quiet = QR_SIDE * qr_module, QR_QUIET_MODULES * qr_module
    qr_top = max(CLEAR, quiet)
    qr_left = width - max(CLEAR, quiet) - qr_side
    module = BAR_MODULES[-1]
    length, side = modules * module, max(QUIET_MODULES * module, CLEAR)
    tall = max(BAR_SHARE * length, min(BAR_HEIGHT, 0.27 * height))
    fits = side + length + side <= qr_left and tall <= 0.4 * height
    bars = Bars(side, height - CLEAR - tall, module, length, tall) if fits else None
    words_bottom = bars.top - GAP if bars else height - CLEAR
    code = Room(qr_left - quiet / 2, qr_top + qr_side + quiet, 0, code_height(7.5))
    code = Room(code.left, code.top, width - CLEAR - code.left, code.height)
    under_top = code.bottom + GAP
    copy_height = code_height(8.0)
    copy = Room(code.left, _code_base(height) - copy_height, code.width, copy_height)
    copy_left = side + length + side
    if bars and code.left - GAP - copy_left >= COPY_WIDTH:
        copy = Room(copy_left, copy.top, code.left - GAP - copy_left, copy_height)
    return Face(
        width=width,
        height=height,
        qr_left=qr_left,
        qr_top=qr_top,
        qr_module=qr_module,
        bars=bars,
        words=Room(side, CLEAR, qr_left - quiet - side, words_bottom - CLEAR),
        under_qr=Room(code.left, under_top, code.width, max(0.0, height - CLEAR - under_top)),
        code=code,
        copy=copy,
    )
