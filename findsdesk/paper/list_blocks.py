"""The blocks a list is built of: each is measured once, stands whole on a page and is drawn where there is room."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from findsdesk.paper.direction import runs_left
from findsdesk.paper.fitting import Fitted, cut, fit_line, fit_or_cut, wrap
from findsdesk.paper.fonts import BOLD, DESCENT, PLAIN, POINT_MM
from findsdesk.paper.list_kinds import CautionSlip, Column, Picture, Section, Signature
from findsdesk.paper.pen import Align, Pen
from findsdesk.paper.shaping import width_mm
from findsdesk.words import N_, put

SIZE = 8.5
SMALL = 7.0
SMALLEST = 5.5
LINE = 1.25  # from one base line to the next, as a part of the size
PAD = 0.9  # over and under the words of a row, mm
BETWEEN_COLUMNS = 3.0
OCHRE = (0.498, 0.337, 0.0)
SLIP = (0.984, 0.941, 0.863)
BAND = (0.945, 0.925, 0.886)
SIGN_LINE = 70.0
UNDER = 1.2  # mm under a paragraph


@dataclass(frozen=True)
class Block:
    """A part of a list that is not broken: its height in mm, and how it is drawn from a left and top edge.

    ``leads`` says that the next block must stand on the same page, ``follows`` that the one before must; ``untitled``
    that a page which begins with it needs no column titles; ``outline`` is its entry in the file's outline, ``level``
    how deep that lies (0: a chapter). ``listed`` is its line in the table of contents.
    """

    height: float
    draw: Callable[[Pen, float, float], None]
    leads: bool = False
    follows: bool = False
    untitled: bool = False
    outline: str = ""
    level: int = 0
    listed: str = ""


@dataclass(frozen=True, slots=True)
class Grid:
    """The columns of a list with their left edges and widths in mm."""

    columns: tuple[Column, ...]
    lefts: tuple[float, ...]
    widths: tuple[float, ...]
    width: float


def grid_of(columns: Sequence[Column], width: float) -> Grid:
    """Return the columns laid over a width, by their shares."""
    free = width - BETWEEN_COLUMNS * (len(columns) - 1)
    shares = sum(column.share for column in columns)
    widths = tuple(free * column.share / shares for column in columns)
    lefts = tuple(sum(widths[:place]) + BETWEEN_COLUMNS * place for place in range(len(columns)))
    return Grid(tuple(columns), lefts, widths, width)


def row_block(
    grid: Grid, cells: Sequence[str], tallest: float, font: str = PLAIN, least: float = 0.0, *, ruled: bool = False
) -> Block:
    """Return a row; cells wrap, and what would be taller than a page is cut with an ellipsis.

    ``least`` mm is the room left to write in by hand; ``ruled`` draws lines between the cells too.
    """
    most = max(1, int((tallest - 2 * PAD) / (SIZE * LINE * POINT_MM)))
    lines = [_cell(text, font, width, most) for text, width in zip(cells, grid.widths, strict=True)]
    height = max(least, max(len(cell.lines) for cell in lines) * SIZE * LINE * POINT_MM + 2 * PAD)

    def draw(pen: Pen, left: float, top: float) -> None:
        _draw_cells(pen, grid, lines, left, top + PAD, SIZE)
        if ruled:
            _draw_ruling(pen, grid, left, top, height)
        else:
            pen.rule(left, top + height, left + grid.width, top + height, 0.1, 0.75)

    return Block(height, draw)


def _draw_ruling(pen: Pen, grid: Grid, left: float, top: float, height: float) -> None:
    """Draw the lines of a form around the cells of a row, dark enough to be copied."""
    pen.rule(left, top + height, left + grid.width, top + height, 0.2, 0.3)
    for start in grid.lefts[1:]:
        middle = left + start - BETWEEN_COLUMNS / 2
        pen.rule(middle, top, middle, top + height, 0.1, 0.45)


def _cell(text: str, font: str, width: float, most: int, size: float = SIZE) -> Fitted:
    """Return a cell on its lines; a word wider than its column is set narrower and smaller before it is broken."""
    lines = wrap(text, font, size, width)
    if len(lines) > 1 and sum(len(line.split()) for line in lines) > len(text.split()):
        longest = max(text.split(), key=lambda word: width_mm(word, font, size))
        font, size, _cut = fit_or_cut(longest, font, size, SMALLEST, width)
        lines = wrap(text, font, size, width)
    if len(lines) > most:
        lines = [*lines[: most - 1], cut(lines[most - 1] + " " + lines[most], font, size, width)]
    return Fitted(font, size, tuple(lines))


def _draw_cells(pen: Pen, grid: Grid, cells: Sequence[Fitted], left: float, top: float, size: float) -> None:
    """Draw cells; lines stand under one another as ``size`` asks, whatever a cell's own is."""
    step = size * LINE * POINT_MM
    for column, start, width, cell in zip(grid.columns, grid.lefts, grid.widths, cells, strict=True):
        align = reading_align(cell.lines, column.align, mirrored=pen.mirrored)
        edge = left + start + {"left": 0.0, "middle": width / 2, "right": width}[align]
        for place, line in enumerate(cell.lines):
            if line:
                pen.text(edge, top + step * (place + 1) - DESCENT * size * POINT_MM, line, cell.font, cell.size, align)


def reading_align(lines: Sequence[str], align: Align = "left", *, mirrored: bool) -> Align:
    """Return where lines are set: words that run to the left begin at the right.

    On a mirrored page all begin there; figures too, whose units stand under one another at the right of their column.
    """
    if mirrored:
        return "middle" if align == "middle" else "left"
    return "right" if align == "left" and any(map(runs_left, lines)) else align


def head_block(grid: Grid) -> Block:
    """Return the line of column titles that stands at the top of every page."""
    fitted = [_cell(one.title, BOLD, width, 9, SMALL) for one, width in zip(grid.columns, grid.widths, strict=True)]
    deepest = max(len(cell.lines) for cell in fitted)
    cells = [Fitted(one.font, one.size, (*[""] * (deepest - len(one.lines)), *one.lines)) for one in fitted]
    height = deepest * SMALL * LINE * POINT_MM + 2 * PAD

    def draw(pen: Pen, left: float, top: float) -> None:
        _draw_cells(pen, grid, cells, left, top + PAD, SMALL)
        pen.rule(left, top + height, left + grid.width, top + height, 0.3)

    return Block(height, draw, leads=True)


def totals_block(grid: Grid, totals: Sequence[str], tallest: float) -> Block:
    """Return the row of totals under the last row."""
    row = row_block(grid, totals, tallest, BOLD)

    def draw(pen: Pen, left: float, top: float) -> None:
        pen.rule(left, top + 0.5, left + grid.width, top + 0.5, 0.3)
        row.draw(pen, left, top + 0.5)
        pen.rule(left, top + 0.5 + row.height, left + grid.width, top + 0.5 + row.height, 0.3)

    return Block(row.height + 0.5, draw, follows=True)


def section_block(grid: Grid, section: Section) -> Block:
    """Return the line that heads a section, on a quiet band; it never stands last on a page."""
    size = 9.5
    height = size * LINE * POINT_MM + 2.4

    def draw(pen: Pen, left: float, top: float) -> None:
        pen.fill(left, top + 1.2, grid.width, height - 1.2, BAND)
        base = top + height - 0.8 - DESCENT * size * POINT_MM
        figures = min(width_mm(section.figures, PLAIN, SIZE), grid.width * 0.6)
        pen.words(left + 1.0, base, fit_or_cut(section.title, BOLD, size, SMALL, grid.width - figures - 5.0))
        if section.figures:
            pen.text(
                left + grid.width - 1.0,
                base,
                section.figures,
                *fit_line(section.figures, PLAIN, SIZE, figures),
                "right",
            )

    return Block(height, draw, leads=True, outline=section.title, level=section.level)


def text_block(text: str, width: float, size: float = 9.5, *, untitled: bool = False) -> Block:
    """Return a paragraph; ``untitled``: it is no part of a table."""
    return _lines_block(wrap(text, PLAIN, size, width), width, size, untitled=untitled)


def text_blocks(text: str, width: float, room: float, size: float = 9.5) -> list[Block]:
    """Return a paragraph that is no part of a table, in as many parts as pages with ``room`` mm ask for."""
    lines = wrap(text, PLAIN, size, width)
    most = lines_in(room, size)
    parts = [lines[first : first + most] for first in range(0, len(lines), most)]
    return [_lines_block(part, width, size, untitled=True) for part in parts]


def lines_in(room: float, size: float) -> int:
    """Return how many lines of a size in points stand in a room, at least one; heights in mm."""
    return max(1, int((room - UNDER) / (size * LINE * POINT_MM)))


def _lines_block(lines: Sequence[str], width: float, size: float, *, untitled: bool) -> Block:
    step = size * LINE * POINT_MM

    def draw(pen: Pen, left: float, top: float) -> None:
        align = reading_align(lines, mirrored=pen.mirrored)
        begins = width if align == "right" else 0.0
        for place, line in enumerate(lines):
            pen.text(left + begins, top + step * (place + 1) - DESCENT * size * POINT_MM, line, PLAIN, size, align)

    return Block(len(lines) * step + UNDER, draw, untitled=untitled)


def caution_block(caution: CautionSlip, width: float) -> Block:
    """Return a caution as a slip with an edge of ochre, its first sentence bold."""
    first = wrap(caution.first, BOLD, 9.5, width - 8)
    rest = wrap(caution.rest, PLAIN, 9.0, width - 8)
    step = 9.5 * LINE * POINT_MM
    height = (len(first) + len(rest)) * step + 3.6

    def draw(pen: Pen, left: float, top: float) -> None:
        pen.fill(left, top, width, height, SLIP)
        pen.fill(left, top, 1.4, height, OCHRE)
        for place, line in enumerate([*first, *rest]):
            font, size = (BOLD, 9.5) if place < len(first) else (PLAIN, 9.0)
            pen.text(left + 4, top + 1.5 + step * (place + 1) - 0.9, line, font, size)

    return Block(height + 2.5, draw, untitled=True)


def picture_block(picture: Picture) -> Block:
    """Return a picture at its size."""

    def draw(pen: Pen, left: float, top: float) -> None:
        pen.picture(left, top, picture.width, picture.height, picture.png)

    return Block(picture.height + 2.5, draw, untitled=True)


def signature_block(signature: Signature, width: float, language: str) -> Block:
    """Return a line to sign on, 70 mm, with room for name, date and time."""
    height = 19.0
    asked = put(N_("signature"), None, None, language), put(N_("name"), None, None, language)
    when = put(N_("date and time"), None, None, language)

    def draw(pen: Pen, left: float, top: float) -> None:
        base = top + 14.0
        rest = (width - SIGN_LINE - 8.0) / 2
        edges = ((left, SIGN_LINE), (left + SIGN_LINE + 4, rest), (left + SIGN_LINE + 8 + rest, rest))
        for (start, long), caption in zip(edges, (asked[0], asked[1], when), strict=True):
            pen.rule(start, base, start + long, base, 0.2)
            pen.text(start, base + 3.0, caption, PLAIN, SMALL)
        pen.words(left, top + 6.0, fit_or_cut(signature.role, BOLD, 9.0, SMALL, SIGN_LINE))
        for said, start in ((signature.name, SIGN_LINE + 4), (signature.when, SIGN_LINE + 8 + rest)):
            if said:
                pen.words(left + start, base - 1.2, fit_or_cut(said, PLAIN, 9.0, SMALL, rest))

    return Block(height, draw, untitled=True)
