"""The cover of a report: whose excavation, what, the season's facts, and its largest figures."""

from __future__ import annotations

from findsdesk.paper.fitting import fit_or_cut, wrap
from findsdesk.paper.fonts import BOLD, PLAIN, POINT_MM
from findsdesk.paper.list_blocks import LINE, OCHRE, SIZE, SMALL
from findsdesk.paper.page_frame import PageFrame
from findsdesk.paper.pen import Pen
from findsdesk.paper.report_kinds import Cover

TITLE = 30.0
FIGURE = 20.0
ACROSS = 3
"""Figures side by side."""


def draw_cover(pen: Pen, frame: PageFrame, cover: Cover, pages: int) -> None:
    """Draw the first page."""
    left, width = frame.left, frame.width
    down = frame.top + (frame.bottom - frame.top) * 0.2
    pen.fill(left, down - 9.0, 26.0, 1.6, OCHRE)
    down = _draw_words(pen, cover.over, left, down, width, 13.0, PLAIN)
    down = _draw_words(pen, frame.said.title, left, down + 3.0, width, TITLE, BOLD)
    down = _draw_words(pen, cover.under, left, down + 4.0, width, 13.0, PLAIN)
    down = _draw_facts(pen, cover, left, down + 12.0, width)
    _draw_figures(pen, cover, left, down + 14.0, width)
    if cover.note:
        lines = wrap(cover.note, PLAIN, SIZE, width)
        top = frame.bottom - 8.0 - len(lines) * SIZE * LINE * POINT_MM
        for line in lines:
            top += SIZE * LINE * POINT_MM
            pen.text(left, top, line, PLAIN, SIZE)
    frame.draw_foot(pen, 1, pages)


def _draw_words(pen: Pen, words: str, left: float, top: float, width: float, size: float, font: str) -> float:
    for line in wrap(words, font, size, width) if words else []:
        top += size * LINE * POINT_MM
        pen.text(left, top, line, font, size)
    return top


def _draw_facts(pen: Pen, cover: Cover, left: float, top: float, width: float) -> float:
    for name, fact in cover.facts:
        top += 6.4
        pen.text(left, top, name, PLAIN, SIZE)
        pen.words(left + 42.0, top, fit_or_cut(fact, PLAIN, 10.0, SMALL, width - 42.0))
    return top


def _draw_figures(pen: Pen, cover: Cover, left: float, top: float, width: float) -> None:
    across = width / ACROSS
    for place, (figure, what) in enumerate(cover.figures):
        start, down = left + place % ACROSS * across, top + place // ACROSS * 21.0
        pen.rule(start, down, start + across - 6.0, down, 0.3)
        pen.words(start, down + 9.0, fit_or_cut(figure, BOLD, FIGURE, SIZE, across - 6.0))
        pen.words(start, down + 13.8, fit_or_cut(what, PLAIN, SIZE, SMALL, across - 6.0))
