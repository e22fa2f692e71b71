"""The parts every label is made of: symbols with the code in letters, big captioned numbers, rows of words."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from findsdesk.domain.refusals import Refusal
from findsdesk.paper import symbols
from findsdesk.paper.face import Face, Room, code_height
from findsdesk.paper.fitting import (
    LEADING,
    Fitted,
    cut,
    fit_line,
    fit_or_cut,
    fit_parts,
    fit_size,
    fit_whole,
    fit_words,
    joined,
    wrap,
)
from findsdesk.paper.fonts import BOLD, CAPITAL, DESCENT, MONO, MONO_BOLD, NARROW, PLAIN, POINT_MM
from findsdesk.paper.label_words import LEAST, Wording
from findsdesk.paper.pen import Pen
from findsdesk.paper.shaping import width_mm
from findsdesk.words import N_

SMALLEST_WORDS = 5.5
ROUNDING = 1e-6
UNDER_LINE = 0.14  # how far a slash or comma reaches under the base line, as a part of the size


@dataclass(frozen=True, slots=True)
class Cell:
    """A number to be read at arm's length, with the small word that says what it counts."""

    caption: str
    value: str


@dataclass(frozen=True, slots=True)
class Row:
    """A line of parts with dots between. Where it is too long the ``cuttable`` part gives way, never a number."""

    parts: tuple[str, ...]
    font: str = PLAIN
    size: float = 8.0
    cuttable: int | None = None

    @property
    def empty(self) -> bool:
        """Tell whether there is nothing to write."""
        return not any(self.parts)


def draw_symbols(pen: Pen, face: Face, left: float, top: float, code: str, modules: str) -> None:
    """Draw the square, bars where they fit (``modules`` is the code in Code 128), and the code in letters."""
    symbols.draw_square(pen, face.square, code, left + face.square_left, top + face.square_top, face.square_module)
    bars = face.bars
    if bars is not None:
        symbols.draw_code128(pen, modules, left + bars.left, top + bars.top, bars.module, bars.height)
    room = face.code
    size = min(room.height / (CAPITAL * POINT_MM), fit_size(code, MONO_BOLD, 30, room.width))
    pen.text(left + room.left, top + room.top + code_height(size), code, MONO_BOLD, size)


def draw_copy(pen: Pen, face: Face, left: float, top: float, copy: int, wording: Wording) -> None:
    """Write “copy 2” in the label's lower right, where it is a reprint."""
    if copy < 2:
        return
    words = wording.say(N_("copy {n}"), n=copy)
    room = face.copy
    font, size = fit_line(words, BOLD, room.height / (CAPITAL * POINT_MM), room.width)
    pen.text(left + room.right, top + room.bottom, words, font, size, "right")


def cells_height(size: float) -> float:
    """Return the height in mm of captioned numbers of a size in points."""
    return code_height(size) + caption_size(size) * 1.3 * POINT_MM


def cells_width(cells: Sequence[Cell], size: float) -> float:
    """Return the width in mm of captioned numbers of a size in points, side by side."""
    gaps = 0.5 * size * POINT_MM * (len(cells) - 1)
    return sum(_cell_width(cell, size, caption_size(size)) for cell in cells) + gaps


def caption_size(size: float) -> float:
    """Return the size in points of the caption over a number of a size in points."""
    return min(11.0, max(5.5, size * 0.27))


def draw_cells(pen: Pen, room: Room, cells: Sequence[Cell], largest: float) -> None:
    """Write captioned numbers side by side, as large as the room lets them; one over the other where that is larger."""
    small = caption_size(largest)
    widths = [_cell_width(cell, largest, small) for cell in cells]
    gap = 0.5 * largest * POINT_MM
    share = min(1.0, room.width / (sum(widths) + gap * (len(cells) - 1)))
    if share < 0.55 and len(cells) > 1:
        _draw_stacked(pen, room, cells)
        return
    left, base = room.left, room.top + cells_height(largest)
    for cell, width in zip(cells, widths, strict=True):
        cap = small * min(1.0, max(share, 0.8))
        face, cap, caption = fit_or_cut(cell.caption, PLAIN, cap, min(LEAST, cap), width * share)
        pen.text(left, base - code_height(largest * share) - cap * 0.45 * POINT_MM, caption, face, cap)
        pen.text(left, base, cell.value, BOLD, fit_size(cell.value, BOLD, largest, width * share + ROUNDING))
        left += (width + gap) * share


def _cell_width(cell: Cell, size: float, small: float) -> float:
    return max(width_mm(cell.value, BOLD, size), width_mm(cell.caption, PLAIN, small))


def _draw_stacked(pen: Pen, room: Room, cells: Sequence[Cell]) -> None:
    step = room.height / len(cells)
    tallest = (step - 0.5) / ((CAPITAL + UNDER_LINE) * POINT_MM)
    largest = max(LEAST, min(7.0, tallest * 0.5))
    small = min(fit_or_cut(cell.caption, NARROW, largest, LEAST, room.width * 0.4)[1] for cell in cells)
    captions = [cut(cell.caption, NARROW, small, room.width * 0.4) for cell in cells]
    indent = max(width_mm(caption, NARROW, small) for caption in captions) + 1.2
    for place, (cell, caption) in enumerate(zip(cells, captions, strict=True)):
        size = fit_size(cell.value, BOLD, tallest, room.width - indent)
        base = room.top + step * (place + 1) - UNDER_LINE * size * POINT_MM
        pen.text(room.left, base, caption, NARROW, small)
        pen.text(room.left + indent, base, cell.value, BOLD, size)


def rows_height(points: float) -> float:
    """Return the height in mm of rows of words whose sizes sum up to so many points."""
    return points * LEADING * POINT_MM


def draw_rows(pen: Pen, room: Room, rows: Sequence[Row], scale: float = 1.0) -> None:
    """Write rows from the top of the room down."""
    top = room.top
    for row in rows:
        size = row.size * scale
        height = size * LEADING * POINT_MM
        _draw_row(pen, room.left, top, room.width, row, size)
        top += height


def _draw_row(pen: Pen, left: float, top: float, width: float, row: Row, size: float) -> None:
    height = size * LEADING * POINT_MM
    fitted = _fit_row(row, size, width, height)
    step = height / len(fitted.lines)
    tail = DESCENT * (size if len(fitted.lines) == 1 else fitted.size) * POINT_MM
    for place, line in enumerate(fitted.lines):
        pen.text(left, top + step * (place + 1) - tail, line, fitted.font, fitted.size)


def _fit_row(row: Row, size: float, width: float, height: float) -> Fitted:
    smallest = min(size, max(SMALLEST_WORDS, size * 0.62))
    if row.cuttable is None:
        text = joined(row.parts)
        return Fitted(*fit_line(text, row.font, size, width), (text,))
    if [part for part in row.parts if part] == [row.parts[row.cuttable]]:
        return fit_words(row.parts[row.cuttable], row.font, size, smallest, width, height)
    return fit_parts(row.parts, row.cuttable, row.font, size, smallest, width)


def draw_text(
    pen: Pen, room: Room, lines: Sequence[str], font: str, largest: float, left_out: Callable[[int], str]
) -> None:
    """Write lines of words into a room, smaller where they are many, then one behind the other with dots between.

    Those that even so find no room are counted at its end, in the words of ``left_out``.
    """
    size = _size_for(lines, font, largest, room)
    shown = [part for line in lines for part in wrap(line, font, size, room.width)]
    if len(shown) > _rows_in(room, size):
        size = _size_for([joined(lines)], font, largest, room)
        shown = _one_behind_the_other(lines, font, size, room, left_out)
    for place, line in enumerate(shown):
        base = room.top + rows_height(size) * (place + 1) - DESCENT * size * POINT_MM
        pen.text(room.left, base, cut(line, font, size, room.width), font, size)


def _size_for(lines: Sequence[str], font: str, largest: float, room: Room) -> float:
    """Return the size in points at which lines fit into a room, SMALLEST_WORDS where they do not."""
    size = largest
    while size > SMALLEST_WORDS and _wrapped_height(lines, font, size, room.width) > room.height:
        size = max(SMALLEST_WORDS, size - 0.25)
    return size


def _rows_in(room: Room, size: float) -> int:
    return max(1, int((room.height + ROUNDING) / rows_height(size)))


def _wrapped_height(lines: Sequence[str], font: str, size: float, width: float) -> float:
    return rows_height(size) * sum(len(wrap(line, font, size, width)) for line in lines)


def _one_behind_the_other(
    lines: Sequence[str], font: str, size: float, room: Room, left_out: Callable[[int], str]
) -> list[str]:
    """Return as many lines as fit, one behind the other, and how many are left over."""

    def broken(whole: int) -> list[str]:
        left = len(lines) - whole
        rest = [left_out(left)] if left else []
        return wrap(joined([*lines[:whole], *rest]), font, size, room.width)

    most, every = _rows_in(room, size), broken(len(lines))
    if len(every) <= most:
        return every
    too_many = bisect_left(range(len(lines)), True, key=lambda whole: len(broken(whole)) > most)
    return broken(max(0, too_many - 1))[:most]


def mark_has_room(room: Room, lines: Sequence[str]) -> bool:
    """Tell whether a room is high enough for the lines of a mark."""
    return room.height >= len(lines) * LEAST * LEADING * POINT_MM


def draw_mark(pen: Pen, room: Room, lines: Sequence[str], largest: float = 8.0) -> None:
    """Write the mark as it stands on the sherds, its lines under one another, where ``mark_has_room``.

    Refuses a mark longer than the label is wide there, even broken over lines of LEAST.
    """
    fitted = [fit_whole(line, MONO, largest, room.width, room.height) for line in lines]
    whole = [line for one in fitted for line in one.lines]
    size = min(min(one.size for one in fitted), room.height / (len(whole) * LEADING * POINT_MM))
    if size < LEAST - ROUNDING:
        raise Refusal(
            "mark_longer_than_label",
            N_("The mark “{mark}” does not fit beside the symbol. Shorten its pattern or choose a larger label."),
            mark=" / ".join(lines),
        )
    lines = whole
    for place, line in enumerate(lines):
        base = room.top + size * POINT_MM * (LEADING * place + CAPITAL)
        pen.text(room.left, base, line, MONO, size)
