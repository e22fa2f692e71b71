"""What stands around a page: whose paper it is, what, which choice, when with zone, who, the store's head, the page."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from findsdesk import __version__
from findsdesk.paper.fitting import fit_or_cut, joined
from findsdesk.paper.fonts import BOLD, PLAIN
from findsdesk.paper.pen import Pen
from findsdesk.paper.shaping import width_mm
from findsdesk.paper.stocks import LabelStock
from findsdesk.words import N_, Terms, put

HEAD_HEIGHT = 15.0
FOOT_HEIGHT = 8.0
TITLE = 15.0
SMALL = 7.0
SMALLEST = 5.5
HEAD_SHOWN = 12


@dataclass(frozen=True, slots=True)
class PageHead:
    """What every page of a paper says; ``head`` is the store's head, of which 12 characters are shown."""

    title: str
    excavation: str
    permit: str
    person: str
    moment: datetime
    head: str
    filter_words: str = ""
    language: str = "en"
    terms: Terms | None = None

    def say(self, text: str, **facts: object) -> str:
        """Return a marked text in the words of the paper."""
        return put(text, self.terms, facts, self.language)


class PageFrame:
    """The page of a paper: its size, the text area inside the margins, and what stands above and below it."""

    def __init__(self, head: PageHead, paper: LabelStock, *, turned: bool = False) -> None:
        across, down = paper.page_width / 100, paper.page_height / 100
        left, top = paper.left / 100, paper.top / 100
        width, height = paper.label_width / 100, paper.label_height / 100
        if turned:
            across, down, left, top, width, height = down, across, top, left, height, width
        self.said, self.page_width, self.page_height = head, across, down
        self.left, self.top, self.width, self.bottom = left, top, width, top + height
        self.first_line, self.last_line = top + HEAD_HEIGHT, top + height - FOOT_HEIGHT

    @property
    def room(self) -> float:
        """Return the height of what stands between head and foot, in mm."""
        return self.last_line - self.first_line

    def draw(self, pen: Pen, page: int, pages: int, chapter: str = "") -> None:
        """Draw head and foot of one page; the name of a chapter stands before the choice of rows."""
        said, right = self.said, self.left + self.width
        whose = joined([said.excavation, said.permit])
        room = min(width_mm(whose, PLAIN, 9.0), self.width * 0.45)
        pen.words(right, self.top + 5.2, fit_or_cut(whose, PLAIN, 9.0, SMALL, room), "right")
        pen.words(self.left, self.top + 5.2, fit_or_cut(said.title, BOLD, TITLE, SMALL, self.width - room - 6.0))
        second = joined([chapter, said.filter_words])
        if second:
            pen.words(self.left, self.top + 10.2, fit_or_cut(second, PLAIN, 9.0, SMALL, self.width))
        pen.rule(self.left, self.top + 12.2, right, self.top + 12.2, 0.3)
        self.draw_foot(pen, page, pages)

    def draw_foot(self, pen: Pen, page: int, pages: int) -> None:
        """Draw when and by whom it was printed, from which state of the store, and which page of how many it is."""
        said, right = self.said, self.left + self.width
        pen.rule(self.left, self.bottom - 4.6, right, self.bottom - 4.6, 0.15, 0.5)
        count = said.say(N_("page {page} of {pages}"), page=page, pages=pages)
        pen.text(right, self.bottom - 0.8, count, PLAIN, SMALL, "right")
        printed = said.say(N_("printed {moment} by {person}"), moment=with_zone(said.moment), person=said.person)
        store = said.say(N_("store {head}"), head=said.head[:HEAD_SHOWN])
        foot = joined([printed, store, said.say(N_("FindsDesk {version}"), version=__version__)])
        pen.words(self.left, self.bottom - 0.8, fit_or_cut(foot, PLAIN, SMALL, SMALLEST, self.width - 25.0))


def with_zone(moment: datetime) -> str:
    """Return day, time and zone: 2026-07-14 17:32 +03:00."""
    zone = moment.strftime("%z")
    return f"{moment:%Y-%m-%d %H:%M} {zone[:3]}:{zone[3:5]}"
