"""The contents of a report: its chapters, then its tables and figures, each with its page, which a click leads to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from findsdesk.paper.fitting import fit_or_cut
from findsdesk.paper.flow import Item
from findsdesk.paper.fonts import BOLD, PLAIN
from findsdesk.paper.list_blocks import SMALL, Block
from findsdesk.paper.page_frame import PageHead
from findsdesk.paper.pen import Pen
from findsdesk.paper.report_blocks import heading_block
from findsdesk.paper.report_kinds import Heading
from findsdesk.paper.shaping import width_mm
from findsdesk.words import N_

DOTS = 2.0  # mm from one dot to the next


@dataclass(frozen=True, slots=True)
class Entry:
    """A line of the contents: its words, its page, and the number of its entry in the file's outline (0: none)."""

    words: str
    page: int
    place: int


def contents_blocks(entries: Sequence[Entry], width: float, head: PageHead) -> Iterator[Item]:
    """Yield the contents; chapters lead to their pages, tables and figures stand smaller under a heading."""
    chapters = [entry for entry in entries if entry.place]
    others = [entry for entry in entries if not entry.place]
    yield Item(_title(head.say(N_("Contents")), width, level=0))
    for entry in chapters:
        yield Item(_line(entry, width, 10.5, 7.2))
    if others:
        yield Item(_title(head.say(N_("Tables and figures")), width, level=1))
    for entry in others:
        yield Item(_line(entry, width, 8.5, 5.0))


def _title(words: str, width: float, *, level: int) -> Block:
    """Return a heading that is no place of the file's outline."""
    return replace(heading_block(Heading(words, level), width), outline="", listed="")


def _line(entry: Entry, width: float, size: float, height: float) -> Block:
    page = str(entry.page)
    room = width - 14.0
    font, fitted, words = fit_or_cut(entry.words, BOLD if entry.place else PLAIN, size, SMALL, room)
    wide = width_mm(words, font, fitted)

    def draw(pen: Pen, left: float, top: float) -> None:
        base = top + height - 1.8
        pen.words(left, base, (font, fitted, words))
        pen.text(left + width, base, page, PLAIN, size, "right")
        _draw_dots(pen, left + wide + 2.0, left + width - width_mm(page, PLAIN, size) - 2.0, base)
        if entry.place:
            pen.lead_to(entry.place, left, top, width, height)

    return Block(height, draw, untitled=True)


def _draw_dots(pen: Pen, start: float, end: float, base: float) -> None:
    """Draw the dots that lead the eye to the page, on the same raster in every line."""
    first, last = int(start / DOTS) + 1, int(end / DOTS)
    for place in range(first, last + 1):
        pen.fill(place * DOTS, base - 0.3, 0.3, 0.3, (0.5, 0.5, 0.5))
