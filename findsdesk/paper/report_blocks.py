"""The blocks of a report beside its tables: headings, short facts, captions, bars, entries of a catalogue."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import zip_longest

from findsdesk.paper.fitting import fit_or_cut, wrap
from findsdesk.paper.fonts import BOLD, DESCENT, MONO, PLAIN, POINT_MM
from findsdesk.paper.list_blocks import BAND, LINE, SIZE, SMALL, Block, lines_in, reading_align, text_blocks
from findsdesk.paper.pen import Pen
from findsdesk.paper.report_kinds import Bar, Bars, CatalogueEntry, Colour, Facts, Figure, Heading, Words
from findsdesk.paper.shaping import width_mm

CHAPTER, PART = 17.0, 11.0  # sizes of headings, in points
BETWEEN = 5.0  # mm between columns of facts
NAME_SHARE = 0.36  # of a fact's width, for its name
MOST_NAME = 34.0  # mm
PHOTO = 42.0  # mm, the longer side of a photograph in a catalogue
ABOVE = 0.8  # mm over a paragraph
BAR, BAR_STEP = 3.4, 5.4  # mm
MOST_TOGETHER = 36
"""Bars that stand on one page; a longer chart is broken."""
PALETTE: tuple[Colour, ...] = ((0.0, 0.447, 0.698), (0.902, 0.624, 0.0), (0.337, 0.706, 0.914), (0.6, 0.6, 0.6))
"""Of Okabe and Ito's set, in the order of the legend; each part has its own grey as well when it is copied."""


def heading_block(heading: Heading, width: float) -> Block:
    """Return a heading; what comes after it stands on the same page."""
    chapter = heading.level == 0
    size = CHAPTER if chapter else PART
    lines = wrap(heading.text, BOLD, size, width)
    step = size * LINE * POINT_MM
    above, below = (5.0 if heading.after else 1.0, 5.0) if chapter else (4.5, 1.0)

    def draw(pen: Pen, left: float, top: float) -> None:
        _draw_lines(pen, lines, left, top + above, width, BOLD, size)

    return Block(
        above + len(lines) * step + below,
        draw,
        leads=True,
        untitled=True,
        outline=heading.text,
        level=heading.level,
        listed=heading.text if chapter else "",
    )


def _draw_lines(pen: Pen, lines: Sequence[str], left: float, top: float, width: float, font: str, size: float) -> float:
    """Draw lines under one another from their own side; returns the lower edge."""
    step = size * LINE * POINT_MM
    align = reading_align(lines, mirrored=pen.mirrored)
    for place, line in enumerate(lines):
        base = top + step * (place + 1) - DESCENT * size * POINT_MM
        pen.text(left + (width if align == "right" else 0.0), base, line, font, size, align)
    return top + step * len(lines)


def facts_blocks(facts: Facts, width: float) -> list[Block]:
    """Return rows of facts with their names; the facts run down the columns."""
    across = (width - BETWEEN * (facts.columns - 1)) / facts.columns
    deep = -(-len(facts.pairs) // facts.columns)
    columns = [facts.pairs[first : first + deep] for first in range(0, len(facts.pairs), max(deep, 1))]
    rows = list(zip_longest(*columns))
    return [_facts_row(row, across, last=place == len(rows) - 1) for place, row in enumerate(rows)]


def _facts_row(row: Sequence[tuple[str, str] | None], across: float, *, last: bool) -> Block:
    name_room = min(across * NAME_SHARE, MOST_NAME)
    cells = [
        (wrap(pair[0], PLAIN, SMALL, name_room - 2), wrap(pair[1], PLAIN, SIZE, across - name_room)) if pair else None
        for pair in row
    ]
    step = SIZE * LINE * POINT_MM
    height = max(max(map(len, cell)) for cell in cells if cell) * step + 1.2

    def draw(pen: Pen, left: float, top: float) -> None:
        for place, cell in enumerate(cells):
            if cell is None:
                continue
            start = left + place * (across + BETWEEN)
            for number, line in enumerate(cell[0]):
                pen.text(start, top + step * (number + 1) - 0.8, line, PLAIN, SMALL)
            _draw_lines(pen, cell[1], start + name_room, top, across - name_room, PLAIN, SIZE)
            pen.rule(start, top + height - 0.4, start + across, top + height - 0.4, 0.1, 0.75)

    return Block(height + (2.5 if last else 0.0), draw, untitled=True)


def caption_block(words: str, width: float, *, over: bool) -> Block:
    """Return a caption over a table, or under a figure."""
    lines = wrap(words, BOLD, 8.5, width)
    above, below = (2.5, 0.6) if over else (0.8, 3.5)
    height = above + len(lines) * 8.5 * LINE * POINT_MM + below

    def draw(pen: Pen, left: float, top: float) -> None:
        _draw_lines(pen, lines, left, top + above, width, BOLD, 8.5)

    return Block(height, draw, leads=over, follows=not over, untitled=True, listed=words)


def words_blocks(words: Words, width: float, room: float) -> list[Block]:
    """Return a paragraph with a little room over it, in several parts where it is longer than a page of ``room`` mm."""
    first, *rest = text_blocks(words.text, width, room - ABOVE, 8.0 if words.quiet else 9.5)

    def draw(pen: Pen, left: float, top: float) -> None:
        first.draw(pen, left, top + ABOVE)

    blocks = [Block(first.height + ABOVE, draw, follows=words.follows, untitled=True), *rest]
    return [*blocks[:-1], replace(blocks[-1], leads=words.leads)]


def figure_block(figure: Figure, width: float) -> Block:
    """Return a picture no wider than the text."""
    share = min(1.0, width / figure.width)

    def draw(pen: Pen, left: float, top: float) -> None:
        pen.picture(left, top, figure.width * share, figure.height * share, figure.load())

    return Block(figure.height * share, draw, leads=True, untitled=True)


def bars_blocks(chart: Bars, width: float) -> list[Block]:
    """Return a chart of bars: its legend, then each bar with its name before and its figure after it."""
    names = min(max((width_mm(bar.name, PLAIN, SIZE) for bar in chart.bars), default=0.0) + 2.0, width * 0.35)
    figures = max((width_mm(bar.figure, PLAIN, SIZE) for bar in chart.bars), default=0.0) + 2.0
    longest = max((sum(bar.parts) for bar in chart.bars), default=0.0) or 1.0
    unit = (width - names - figures - 2.0) / longest
    together = len(chart.bars) <= MOST_TOGETHER
    return [_legend(chart.legend, names), *(_bar(bar, names, unit, leads=together) for bar in chart.bars)]


def _legend(legend: Sequence[str], names: float) -> Block:
    def draw(pen: Pen, left: float, top: float) -> None:
        start = left + names
        for words, colour in zip(legend, PALETTE, strict=False):
            pen.fill(start, top + 1.2, 3.0, 2.6, colour)
            pen.text(start + 4.0, top + 3.6, words, PLAIN, SMALL)
            start += 9.0 + width_mm(words, PLAIN, SMALL)

    return Block(5.6, draw, leads=True, untitled=True)


def _bar(bar: Bar, names: float, unit: float, *, leads: bool) -> Block:
    name = fit_or_cut(bar.name, PLAIN, SIZE, SMALL, names - 2.0)

    def draw(pen: Pen, left: float, top: float) -> None:
        base = top + BAR_STEP - 1.6
        pen.words(left, base, name)
        start = left + names
        for part, colour in zip(bar.parts, PALETTE, strict=False):
            if part > 0:
                pen.fill(start, top + 0.8, part * unit, BAR, colour)
                start += part * unit
        pen.rule(left + names, top, left + names, top + BAR_STEP, 0.2)
        pen.text(start + 1.5, base, bar.figure, PLAIN, SIZE)

    return Block(BAR_STEP, draw, leads=leads, untitled=True)


def entry_blocks(entry: CatalogueEntry, width: float, room: float) -> list[Block]:
    """Return an entry of a catalogue; of its note what is longer than half a page of ``room`` mm goes on below it."""
    aside = PHOTO + BETWEEN if entry.load else 0.0
    note = wrap(entry.note, PLAIN, SIZE, width - aside) if entry.note else []
    most = lines_in(room / 2, SIZE)
    rest = " ".join(note[most:])
    below = text_blocks(rest, width, room, SIZE) if rest else []
    return [_entry_block(entry, note[:most], width), *below]


def _entry_block(entry: CatalogueEntry, note: Sequence[str], width: float) -> Block:
    """Return an entry with the lines of its note: a photograph at the left where there is one, the words beside it."""
    across, down = _photo_size(entry)
    aside = PHOTO + BETWEEN if entry.load else 0.0
    room = width - aside
    step = SIZE * LINE * POINT_MM
    names = max((width_mm(name, PLAIN, SMALL) for name, _fact in entry.facts), default=0.0) + 3.0
    facts = [(name, wrap(fact, PLAIN, SIZE, room - names)) for name, fact in entry.facts]
    swatches = _swatch_rows(entry, room)
    deep = 7.5 + sum(len(lines) for _name, lines in facts) * step + len(swatches) * 5.6 + len(note) * step
    height = max(deep, down + 2.0 if entry.load else 0.0) + 5.0
    code = width_mm(entry.code, MONO, SIZE)

    def draw(pen: Pen, left: float, top: float) -> None:
        if entry.load:
            _draw_photo(pen, entry, left + (PHOTO - across) / 2, top + 2.0, (across, down))
        start = left + aside
        pen.fill(start, top + 1.2, room, 5.2, BAND)
        pen.words(start + 1.0, top + 5.0, fit_or_cut(entry.title, BOLD, 9.5, SMALL, room - code - 5.0))
        pen.text(start + room - 1.0, top + 5.0, entry.code, MONO, SIZE, "right")
        at = top + 7.5
        for name, lines in facts:
            pen.text(start, at + step - 0.8, name, PLAIN, SMALL)
            at = _draw_lines(pen, lines, start + names, at, room - names, PLAIN, SIZE)
        for row in swatches:
            for offset, words, colour in row:
                pen.fill(start + offset, at + 1.0, 7.0, 3.8, colour)
                pen.box(start + offset, at + 1.0, 7.0, 3.8, 0.1, 0.4)
                pen.text(start + offset + 8.5, at + 3.9, words, PLAIN, SIZE)
            at += 5.6
        _draw_lines(pen, note, start, at, room, PLAIN, SIZE)

    return Block(height, draw, untitled=True, outline=entry.title, level=1)


def _draw_photo(pen: Pen, entry: CatalogueEntry, left: float, top: float, size: tuple[float, float]) -> None:
    """Draw a photograph, or an empty frame that says that its file is gone."""
    picture = entry.load() if entry.load else None
    if picture is not None:
        pen.picture(left, top, *size, picture)
        return
    pen.box(left, top, *size, 0.2, 0.4)
    _draw_lines(pen, wrap(entry.gone, PLAIN, SMALL, size[0] - 3.0), left + 1.5, top + 1.5, size[0] - 3.0, PLAIN, SMALL)


def _photo_size(entry: CatalogueEntry) -> tuple[float, float]:
    """Return width and height in mm of a photograph within its square."""
    across, down = entry.shape
    longer = max(across, down, 1)
    return PHOTO * across / longer, PHOTO * down / longer


def _swatch_rows(entry: CatalogueEntry, room: float) -> list[list[tuple[float, str, Colour]]]:
    """Return the colours of an entry on lines: the offset from the left in mm, the words, the colour."""
    rows: list[list[tuple[float, str, Colour]]] = []
    offset = room
    for swatch in entry.swatches:
        wide = 8.5 + width_mm(swatch.words, PLAIN, SIZE)
        if offset + wide > room or not rows:
            rows.append([])
            offset = 0.0
        rows[-1].append((offset, swatch.words, swatch.colour))
        offset += wide + BETWEEN
    return rows
