"""The face of a label: where symbols and words stand on a stock, worked out once for a size and a code's length.

All in millimetres from the label's left and top edge. Nothing but quiet zones reaches into the outer 2 mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from findsdesk.domain.refusals import Refusal
from findsdesk.paper.code128 import QUIET_MODULES
from findsdesk.paper.dots import LEAST_BAR, dot_of, whole_dots
from findsdesk.paper.fonts import CAPITAL, DESCENT, POINT_MM
from findsdesk.paper.symbols import DATA_MATRIX, QR, Square
from findsdesk.words import N_

CLEAR = 2.0
GAP = 1.0
OVER_CODE = 0.7
COPY_WIDTH = 7.0  # least room in which “copy 2” is still read
BAR_MODULES = (0.375, LEAST_BAR)  # or the next whole dot: 3 and 2 dots of the common label printer
SQUARE_MODULES = (0.75, 0.625, 0.5, 0.33)  # the last is 3 dots at 203 dpi, the least that survives a worn print
CODE_WIDTH = 10.4  # the longest code, 12 characters, in the least letters that are read
WORDS_HEIGHT = 9.5  # least room over the bars of a low label: two rows of captioned numbers
BAR_HEIGHT = 6.35
BAR_SHARE = 0.15  # of the symbol's length; with BAR_HEIGHT the rule of printer manuals
_COMMON_DOT = dot_of(203)
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
    """One arrangement: the square symbol, the bars where they fit, and the rooms left for words."""

    width: float
    height: float
    square: Square
    square_left: float
    square_top: float
    square_module: float
    bars: Bars | None
    words: Room
    under_square: Room
    code: Room
    copy: Room


def code_height(size: float) -> float:
    """Return the height in mm of capitals and figures at a size in points."""
    return size * CAPITAL * POINT_MM


@cache
def arrange(
    width: float,
    height: float,
    modules: int,
    dot: float = _COMMON_DOT,
    squares: tuple[Square, ...] = (QR, DATA_MATRIX),
    with_bars: bool = True,
) -> Face:
    """Return the arrangement for a label of a size, a Code 128 symbol of so many modules and a printer's dot.

    The square is the first of ``squares`` that does not take too much of the label. Refuses a label too small for the
    last of them. Bars stand there where there is room and ``with_bars`` asks for them.
    """
    square, module = _square(width, height, dot, squares)
    if height >= LOW and with_bars:
        bars = _bars_under(width, height, modules, dot)
        if bars is not None:
            return _with_bars_under(width, height, square, module, bars)
    return _beside(width, height, square, module, modules if with_bars else None, dot)


def _square(width: float, height: float, dot: float, squares: tuple[Square, ...]) -> tuple[Square, float]:
    """Return the larger kind of square, with the widest module, that leaves the label to its words."""
    for square in squares:
        for least in SQUARE_MODULES:
            module = whole_dots(least, dot)
            if square.side * module <= min(0.42 * height, 0.2 * width):
                return square, module
    needed = square.side * module + 2 * max(CLEAR, square.quiet * module)
    if needed + code_height(_code_size(height)) + OVER_CODE > height or needed + CODE_WIDTH > width:
        raise too_small(width, height)
    return square, module


def too_small(width: float, height: float) -> Refusal:
    """Return the no to a label of a size in mm that does not hold what every label must."""
    return Refusal(
        "label_too_small",
        N_("A label of {width} × {height} mm is too small for its symbol and numbers: choose a larger one."),
        width=f"{width:g}",
        height=f"{height:g}",
    )


def _code_size(height: float) -> float:
    return min(11.0, max(7.5, height * 0.2))


def _code_base(height: float) -> float:
    """Return the base line of the code in letters, high enough that the tail of a Q or y stays out of the edge."""
    return height - CLEAR - DESCENT * _code_size(height) * POINT_MM


def _bars_under(width: float, height: float, modules: int, dot: float) -> Bars | None:
    above_code = _code_base(height) - code_height(_code_size(height)) - OVER_CODE
    for least in BAR_MODULES:
        module = whole_dots(least, dot)
        length = modules * module
        side = max(QUIET_MODULES * module, CLEAR)
        tall = max(BAR_HEIGHT, BAR_SHARE * length, 0.16 * height)
        if length + 2 * side <= width and tall <= 0.25 * height:
            return Bars(side, above_code - tall, module, length, tall)
    return None


def _with_bars_under(width: float, height: float, square: Square, module: float, bars: Bars) -> Face:
    side, quiet = square.side * module, square.quiet * module
    inset = max(CLEAR, quiet, 0.036 * width)
    square_left, square_top = width - inset - side, max(CLEAR, quiet)
    under_top = square_top + side + quiet
    beside_bars = bars.left + bars.length + bars.quiet <= square_left
    under_bottom = height - CLEAR if beside_bars else bars.top - GAP
    code_top = bars.top + bars.height + OVER_CODE
    code_tall = _code_base(height) - code_top
    copy_left = bars.left + bars.length * 0.7 + GAP
    return Face(
        width=width,
        height=height,
        square=square,
        square_left=square_left,
        square_top=square_top,
        square_module=module,
        bars=bars,
        words=Room(bars.left, CLEAR, square_left - quiet - bars.left, bars.top - GAP - CLEAR),
        under_square=Room(square_left, under_top, width - CLEAR - square_left, max(0.0, under_bottom - under_top)),
        code=Room(bars.left, code_top, bars.length * 0.7, code_tall),
        copy=Room(copy_left, code_top, width - CLEAR - copy_left, code_tall),
    )


def _beside(width: float, height: float, square: Square, square_module: float, modules: int | None, dot: float) -> Face:
    """Arrange a low or narrow label: the square at the right over the code in letters; bars at the left if they fit."""
    square_side, quiet = square.side * square_module, square.quiet * square_module
    column = max(square_side, CODE_WIDTH - quiet / 2)
    square_top = max(CLEAR, quiet)
    column_left = width - max(CLEAR, quiet) - column
    bars, side = (None, CLEAR) if modules is None else _bars_beside(column_left, height, modules, dot)
    code = Room(column_left - quiet / 2, square_top + square_side + quiet, 0, code_height(7.5))
    code = Room(code.left, code.top, width - CLEAR - code.left, code.height)
    under_top = code.bottom + GAP
    copy_height = code_height(8.0)
    copy = Room(code.left, _code_base(height) - copy_height, code.width, copy_height)
    copy_left = side + (bars.length if bars else 0.0) + side
    if bars and code.left - GAP - copy_left >= COPY_WIDTH:
        copy = Room(copy_left, copy.top, code.left - GAP - copy_left, copy_height)
    words_bottom = bars.top - GAP if bars else height - CLEAR
    return Face(
        width=width,
        height=height,
        square=square,
        square_left=column_left + column - square_side,
        square_top=square_top,
        square_module=square_module,
        bars=bars,
        words=Room(side, CLEAR, column_left - quiet - side, words_bottom - CLEAR),
        under_square=Room(code.left, under_top, code.width, max(0.0, height - CLEAR - under_top)),
        code=code,
        copy=copy,
    )


def _bars_beside(free: float, height: float, modules: int, dot: float) -> tuple[Bars | None, float]:
    """Return the bars where they fit left of ``free``, and how far all words stand from the label's left edge."""
    module = whole_dots(BAR_MODULES[-1], dot)
    length, side = modules * module, max(QUIET_MODULES * module, CLEAR)
    tall = max(BAR_SHARE * length, min(BAR_HEIGHT, 0.27 * height))
    over_bars = height - CLEAR - tall - GAP - CLEAR
    if side + length + side <= free and tall <= 0.4 * height and over_bars >= WORDS_HEIGHT:
        return Bars(side, height - CLEAR - tall, module, length, tall), side
    return None, side
