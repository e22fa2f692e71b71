"""Printed lists: missing containers, the evening sheet, concordances, registers, discard lists.

Every page says which excavation, what, which choice of rows, when with zone, who, the store's head and which page of
how many. Rows are never broken over pages; the column titles stand on each.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime
from itertools import chain, islice

from findsdesk import __version__
from findsdesk.paper.fitting import fit_or_cut, joined
from findsdesk.paper.fonts import BOLD, PLAIN
from findsdesk.paper.list_blocks import (
    Block,
    Grid,
    caution_block,
    grid_of,
    head_block,
    picture_block,
    row_block,
    section_block,
    signature_block,
    text_block,
    totals_block,
)
from findsdesk.paper.list_kinds import CautionSlip, Column, ListRow, ListSheet, Section, Signature
from findsdesk.paper.list_pages import Progress, page_starts
from findsdesk.paper.pen import About, Pen
from findsdesk.paper.shaping import width_mm
from findsdesk.paper.stocks import LabelStock
from findsdesk.words import N_, put

__all__ = ["CautionSlip", "Column", "ListRow", "ListSheet", "Section", "Signature", "print_list"]

HEAD_HEIGHT = 15.0
FOOT_HEIGHT = 8.0
TITLE = 15.0
SMALL = 7.0
SMALLEST = 5.5
HEAD_SHOWN = 12


class _Frame:
    """The page of a list: its size, the text area inside the margins, and what stands above and below it."""

    def __init__(self, sheet: ListSheet, paper: LabelStock) -> None:
        across, down = paper.page_width / 100, paper.page_height / 100
        left, top = paper.left / 100, paper.top / 100
        width, height = paper.label_width / 100, paper.label_height / 100
        if sheet.turned:
            across, down, left, top, width, height = down, across, top, left, height, width
        self.sheet, self.page_width, self.page_height = sheet, across, down
        self.left, self.top, self.width, self.bottom = left, top, width, top + height
        self.first_line, self.last_line = top + HEAD_HEIGHT, top + height - FOOT_HEIGHT

    def draw(self, pen: Pen, page: int, pages: int) -> None:
        """Draw head and foot of one page."""
        sheet, right = self.sheet, self.left + self.width
        whose = joined([sheet.excavation, sheet.permit])
        room = min(width_mm(whose, PLAIN, 9.0), self.width * 0.45)
        pen.words(right, self.top + 5.2, fit_or_cut(whose, PLAIN, 9.0, SMALL, room), "right")
        title = fit_or_cut(sheet.title, BOLD, TITLE, SMALL, self.width - room - 6.0)
        pen.words(self.left, self.top + 5.2, title)
        if sheet.filter_words:
            pen.words(self.left, self.top + 10.2, fit_or_cut(sheet.filter_words, PLAIN, 9.0, SMALL, self.width))
        pen.rule(self.left, self.top + 12.2, right, self.top + 12.2, 0.3)
        pen.rule(self.left, self.bottom - 4.6, right, self.bottom - 4.6, 0.15, 0.5)
        count = self._say(N_("page {page} of {pages}"), page=page, pages=pages)
        pen.text(right, self.bottom - 0.8, count, PLAIN, SMALL, "right")
        foot = joined([self._printed(), self._say(N_("store {head}"), head=sheet.head[:HEAD_SHOWN]), self._version()])
        pen.words(self.left, self.bottom - 0.8, fit_or_cut(foot, PLAIN, SMALL, SMALLEST, self.width - 25.0))

    def _printed(self) -> str:
        return self._say(
            N_("printed {moment} by {person}"), moment=_with_zone(self.sheet.moment), person=self.sheet.person
        )

    def _version(self) -> str:
        return self._say(N_("FindsDesk {version}"), version=__version__)

    def _say(self, text: str, **facts: object) -> str:
        return put(text, self.sheet.terms, facts, self.sheet.language)


def _with_zone(moment: datetime) -> str:
    """Return day, time and zone: 2026-07-14 17:32 +03:00."""
    zone = moment.strftime("%z")
    return f"{moment:%Y-%m-%d %H:%M} {zone[:3]}:{zone[3:5]}"


def print_list(sheet: ListSheet, paper: LabelStock, progress: Progress | None = None) -> bytes:
    """Return a list as PDF on plain paper (one of ``stocks.plain_paper()``).

    ``progress`` is told each page and the number of pages before it is drawn, and page 0 with the pages found so far
    while the list is measured; what it raises stops the work. Blocks are made twice, to be measured and to be drawn,
    rather than kept: a list may have hundreds of thousands of rows.
    """
    frame = _Frame(sheet, paper)
    grid = grid_of(sheet.columns, frame.width)
    before, titles = _before(sheet, frame), head_block(grid)
    tell = progress or _tell_nobody
    starts = page_starts(_blocks(sheet, frame, grid), before, titles, frame.last_line - frame.first_line, tell)
    blocks = _blocks(sheet, frame, grid)
    pen = Pen(frame.page_width, frame.page_height, About(sheet.title, sheet.language, sheet.moment, sheet.person))
    ends = [*(start.block for start in starts[1:]), None]
    for number, (start, end) in enumerate(zip(starts, ends, strict=True), 1):
        tell(number, len(starts))
        if number > 1:
            pen.next_page()
        frame.draw(pen, number, len(starts))
        at_the_top = [*(before if number == 1 else []), *([titles] if start.titled else [])]
        own = islice(blocks, None if end is None else end - start.block)
        _draw_blocks(pen, frame, chain(at_the_top, own))
    return pen.finish()


def _tell_nobody(_page: int, _pages: int) -> None:
    """Stand in for whoever follows the work."""


def _draw_blocks(pen: Pen, frame: _Frame, blocks: Iterable[Block]) -> None:
    top = frame.first_line
    for block in blocks:
        if block.outline:
            pen.outline(block.outline, top)
        block.draw(pen, frame.left, top)
        top += block.height


def _before(sheet: ListSheet, frame: _Frame) -> list[Block]:
    """Return what stands before the table."""
    before = [caution_block(sheet.caution, frame.width)] if sheet.caution else []
    before += [text_block(text, frame.width) for text in sheet.intro]
    return before + ([picture_block(sheet.picture)] if sheet.picture else [])


def _blocks(sheet: ListSheet, frame: _Frame, grid: Grid) -> Iterator[Block]:
    """Yield the rows of the table and what stands after it."""
    tallest = (frame.last_line - frame.first_line) * 0.6
    for row in sheet.rows:
        yield section_block(grid, row) if isinstance(row, Section) else row_block(grid, row, tallest)
    if not sheet.rows:
        empty = sheet.when_empty or put(N_("Nothing stands on this list."), sheet.terms, None, sheet.language)
        yield text_block(empty, frame.width)
    if sheet.totals:
        yield totals_block(grid, sheet.totals, tallest)
    for signature in sheet.signatures:
        yield signature_block(signature, frame.width, sheet.language)
