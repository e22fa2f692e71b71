"""The command card: Code 128 symbols with their words, far enough apart that a scanner meets one at a time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from findsdesk.paper import code128
from findsdesk.paper.dots import on_grid
from findsdesk.paper.fitting import fit_or_cut
from findsdesk.paper.fonts import BOLD, MONO, PLAIN
from findsdesk.paper.pen import About, Pen
from findsdesk.paper.symbols import draw_code128
from findsdesk.words import N_, put

PAGE_WIDTH, PAGE_HEIGHT = 210.0, 297.0
MARGIN = 10.0
COLUMNS, ROWS = 3, 10
HEAD, FOOT = 20.0, 9.0
MODULE = 0.375  # three printer dots: read from further away than a label
BAR_HEIGHT = 9.0
SMALLEST = 5.5
_CELL_WIDTH = (PAGE_WIDTH - 2 * MARGIN) / COLUMNS
_CELL_HEIGHT = (PAGE_HEIGHT - 2 * MARGIN - HEAD - FOOT) / ROWS


@dataclass(frozen=True, slots=True)
class CardSymbol:
    """One code on the card and what it does, in words."""

    words: str
    code: str
    large: bool = False


@dataclass(frozen=True, slots=True)
class CardHead:
    """What the card says of itself; all texts in words."""

    title: str
    excavation: str
    note: str
    person: str
    moment: datetime
    store: str
    language: str = "en"


def print_card(head: CardHead, symbols: Sequence[CardSymbol]) -> bytes:
    """Return the card as PDF, on as many A4 pages as it needs, printed at actual size."""
    pen = Pen(PAGE_WIDTH, PAGE_HEIGHT, About(head.title, head.language, head.moment))
    a_page = COLUMNS * ROWS
    pages = max(1, -(-len(symbols) // a_page))
    for page in range(pages):
        if page:
            pen.next_page()
        _draw_frame(pen, head, page + 1, pages)
        for place, symbol in enumerate(symbols[page * a_page : (page + 1) * a_page]):
            row, column = divmod(place, COLUMNS)
            _draw_symbol(pen, MARGIN + column * _CELL_WIDTH, MARGIN + HEAD + row * _CELL_HEIGHT, symbol)
    return pen.finish()


def _draw_frame(pen: Pen, head: CardHead, page: int, pages: int) -> None:
    right = PAGE_WIDTH - MARGIN
    pen.text(MARGIN, MARGIN + 5.5, head.title, BOLD, 15)
    pen.text(right, MARGIN + 5.5, head.excavation, PLAIN, 9, "right")
    pen.words(MARGIN, MARGIN + 12.0, fit_or_cut(head.note, PLAIN, 9.0, SMALLEST, right - MARGIN))
    pen.rule(MARGIN, MARGIN + 15.0, right, MARGIN + 15.0, 0.3)
    foot = put(
        N_("printed {moment} by {person} · store {store} · page {page} of {pages}"),
        None,
        {
            "moment": f"{head.moment:%Y-%m-%d %H:%M} {head.moment:%z}",
            "person": head.person,
            "store": head.store,
            "page": page,
            "pages": pages,
        },
        head.language,
    )
    pen.words(MARGIN, PAGE_HEIGHT - MARGIN, fit_or_cut(foot, PLAIN, 7.0, SMALLEST, right - MARGIN))


def _draw_symbol(pen: Pen, left: float, top: float, symbol: CardSymbol) -> None:
    modules = code128.modules_of(symbol.code)
    words = fit_or_cut(symbol.words, BOLD, 15.0 if symbol.large else 11.0, SMALLEST, _CELL_WIDTH - 4.0)
    pen.words(left + _CELL_WIDTH / 2, top + 5.5, words, "middle")
    bars = on_grid(left + (_CELL_WIDTH - len(modules) * MODULE) / 2)
    draw_code128(pen, modules, bars, top + 7.5, MODULE, BAR_HEIGHT)
    pen.text(left + _CELL_WIDTH / 2, top + 7.5 + BAR_HEIGHT + 2.6, symbol.code, MONO, 6.5, "middle")
