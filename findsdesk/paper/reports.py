"""A paper of several parts: a season's report with cover and contents, a deposit's sheet, a catalogue, a list.

The parts are gone through twice: once to find the pages, once to draw them. What is kept meanwhile are the lines of
the contents and each finished page as its packed operators.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from itertools import chain, count

from findsdesk.paper.flow import Item, Placed, lay_out
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
from findsdesk.paper.list_kinds import CautionSlip, ListRow, Picture, Section, Signature
from findsdesk.paper.page_frame import PageFrame, PageHead
from findsdesk.paper.pen import About, Pen, reads_from_right
from findsdesk.paper.report_blocks import (
    bars_blocks,
    caption_block,
    entry_blocks,
    facts_blocks,
    figure_block,
    heading_block,
    words_blocks,
)
from findsdesk.paper.report_contents import Entry, contents_blocks
from findsdesk.paper.report_cover import draw_cover
from findsdesk.paper.report_kinds import Bars, CatalogueEntry, Facts, Figure, Heading, Part, Report, Table, Words
from findsdesk.paper.stocks import LabelStock
from findsdesk.words import N_

Progress = Callable[[int, int], None]
"""Is told each page and the number of pages before it is drawn, and page 0 with the pages found so far before that."""
TALLEST = 0.4  # of a page, for a row of a table


def print_report(report: Report, paper: LabelStock, progress: Progress | None = None) -> bytes:
    """Return a paper as PDF on plain paper (one of ``stocks.plain_paper()``); what ``progress`` raises stops it."""
    tell = progress or _tell_nobody
    frame = PageFrame(report.head, paper, turned=report.turned)
    own, entries = _measured(report, frame, tell)
    contents, ahead = _contents(report, frame, entries)
    head = report.head
    about = About(head.title, head.language, head.moment, head.person)
    pen = Pen(frame.page_width, frame.page_height, about, mirrored=reads_from_right(head.language))
    pages = ahead + own
    if report.cover is not None:
        tell(1, pages)
        draw_cover(pen, frame, report.cover, pages)
        pen.next_page()
        _draw_pages(pen, frame, contents, 1, pages, tell)
        pen.next_page()
    _draw_pages(pen, frame, lay_out(_items(report, frame), frame.room), ahead, pages, tell)
    return pen.finish()


def _tell_nobody(_page: int, _pages: int) -> None:
    """Stand in for whoever follows the work."""


def _measured(report: Report, frame: PageFrame, tell: Progress) -> tuple[int, list[Entry]]:
    """Return how many pages the parts fill, and the lines of the contents with their page among those."""
    page, places = 1, 0
    entries: list[Entry] = []
    for placed in lay_out(_items(report, frame), frame.room):
        if placed.page > page:
            page = placed.page
            tell(0, page)
        places += 1 if placed.block.outline else 0
        if placed.block.listed:
            chapter = placed.block.outline != ""
            entries.append(Entry(placed.block.listed, page, places if chapter else 0))
    return page, entries


def _contents(report: Report, frame: PageFrame, entries: list[Entry]) -> tuple[list[Placed], int]:
    """Return the contents with the pages as they are in the whole paper, and how many pages stand before the parts."""
    if report.cover is None:
        return [], 0

    def laid(ahead: int) -> list[Placed]:
        moved = [replace(entry, page=entry.page + ahead) for entry in entries]
        return list(lay_out(contents_blocks(moved, frame.width, report.head), frame.room))

    ahead = 1 + laid(0)[-1].page
    return laid(ahead), ahead


def _draw_pages(pen: Pen, frame: PageFrame, placed: Iterable[Placed], ahead: int, pages: int, tell: Progress) -> None:
    """Draw blocks at their places, and round each page what stands on all."""
    shown, chapter = 0, ""
    for page, top, block in placed:
        if block.listed and block.outline:
            chapter = block.outline
        if page > shown:
            tell(ahead + page, pages)
            if shown:
                pen.next_page()
            frame.draw(pen, ahead + page, pages, chapter)
            shown = page
        if block.outline:
            pen.outline(block.outline, frame.first_line + top, block.level)
        block.draw(pen, frame.left, frame.first_line + top)


def _items(report: Report, frame: PageFrame) -> Iterator[Item]:
    """Yield the blocks of all parts; captions are numbered as they come."""
    makers = _Makers(frame, report.head)
    return chain.from_iterable(map(makers.items, report.parts()))


class _Makers:
    """Makes the blocks of each kind of part, with the numbers of tables and figures."""

    def __init__(self, frame: PageFrame, head: PageHead) -> None:
        self.width, self.room, self.head = frame.width, frame.room, head
        self.tallest = frame.room * TALLEST
        self._tables, self._figures = count(1), count(1)

    def items(self, part: Part) -> Iterator[Item]:
        if isinstance(part, Table):
            return self._table(part)
        if isinstance(part, Heading):
            return iter((Item(heading_block(part, self.width), fresh=part.after if part.fresh else None),))
        return map(Item, self._blocks(part))

    def _blocks(self, part: Part) -> Iterable[Block]:
        if isinstance(part, Words):
            return words_blocks(part, self.width, self.room)
        if isinstance(part, Facts):
            return facts_blocks(part, self.width)
        if isinstance(part, CatalogueEntry):
            return entry_blocks(part, self.width, self.room)
        if isinstance(part, Figure):
            return (figure_block(part, self.width), self._under(part.caption))
        if isinstance(part, Bars):
            return (*bars_blocks(part, self.width), self._under(part.caption))
        return (self._simple(part),)

    def _simple(self, part: Part) -> Block:
        if isinstance(part, CautionSlip):
            return caution_block(part, self.width)
        if isinstance(part, Signature):
            return replace(signature_block(part, self.width, self.head.language), follows=True)
        assert isinstance(part, Picture)
        return picture_block(part)

    def _under(self, caption: str) -> Block:
        words = self.head.say(N_("Figure {n}. {caption}"), n=next(self._figures), caption=caption)
        return caption_block(words, self.width, over=False)

    def _goes_on(self, grid: Grid, section: Section) -> Block:
        """Return the head of a section as it stands again on its next page."""
        words = self.head.say(N_("{section}, continued"), section=section.title)
        return replace(section_block(grid, replace(section, title=words)), outline="")

    def _table(self, table: Table) -> Iterator[Item]:
        grid = grid_of(table.columns, self.width)
        titles = head_block(grid)
        if table.caption:
            words = self.head.say(N_("Table {n}. {caption}"), n=next(self._tables), caption=table.caption)
            yield Item(caption_block(words, self.width, over=True))

        def block(row: ListRow) -> Block:
            if isinstance(row, Section):
                return section_block(grid, row)
            made = row_block(grid, row, self.tallest, least=table.least, ruled=table.ruled)
            return replace(made, leads=True) if table.together else made

        empty, section = True, None
        for row, made in _kept_together((row, block(row)) for row in table.rows()):
            empty = False
            heads = isinstance(row, Section)
            yield Item(made, titles, again=None if heads else section)
            if isinstance(row, Section):
                section = self._goes_on(grid, row)
        if empty:
            words = table.when_empty or self.head.say(N_("Nothing stands on this list."))
            yield Item(text_block(words, self.width, untitled=True))
        elif table.totals:
            yield Item(totals_block(grid, table.totals, self.tallest), titles)


Made = tuple[ListRow, Block]


def _kept_together(rows: Iterable[Made]) -> Iterator[Made]:
    """Yield rows with their blocks, of which the first and the last never stand alone on a page."""
    before: Made | None = None
    last = 0
    for last, made in enumerate(rows):
        if before is not None:
            yield (before[0], replace(before[1], leads=True)) if last == 1 else before
        before = made
    if before is not None:
        yield (before[0], replace(before[1], follows=True)) if last else before
