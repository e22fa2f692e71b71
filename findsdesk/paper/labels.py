"""Sheets of labels of one kind laid out on a stock, as one PDF file.

The preview shows this very file, and each symbol in it was read back before it was drawn (paper/symbols.py).
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from findsdesk.domain.refusals import Refusal
from findsdesk.paper.calibration import NONE, Calibration
from findsdesk.paper.dots import COMMON_DPI
from findsdesk.paper.label_faces import draw_label
from findsdesk.paper.label_kinds import BagLabel, Label, TagLabel, WashTag
from findsdesk.paper.label_words import Wording
from findsdesk.paper.layouts import Layout
from findsdesk.paper.least_label import LeastSize, least_size
from findsdesk.paper.pen import About, Pen
from findsdesk.paper.sheet_marks import draw_cut_lines, draw_cut_marks, draw_ruler
from findsdesk.paper.stocks import LabelPlace, LabelStock, places
from findsdesk.words import N_, CountOf, Terms

MOST_AT_ONCE = 100_000
"""Labels of one file: more than a season needs, and a mistyped million is told at once."""

__all__ = ["BagLabel", "Label", "LaidOut", "Placed", "TagLabel", "WashTag", "lay_out"]


@dataclass(frozen=True, slots=True)
class Placed:
    """Where a label came to stand; pages and places count from 1."""

    code: str
    page: int
    place: int


@dataclass(frozen=True, slots=True)
class LaidOut:
    """The printed sheets and where each label stands on them."""

    pdf: bytes
    placed: tuple[Placed, ...]
    pages: int


def lay_out(
    labels: Sequence[Label],
    stock: LabelStock,
    *,
    moment: datetime,
    title: str,
    first_place: int = 1,
    used_places: Collection[int] = frozenset(),
    calibration: Calibration = NONE,
    language: str = "en",
    terms: Terms | None = None,
    dpi: int = COMMON_DPI,
    layout: Layout | None = None,
) -> LaidOut:
    """Return labels on as many pages as they need, in their order, row by row.

    On the first page ``first_place`` is the first free label and ``used_places`` are gone already; later pages are
    full. ``calibration`` meets the printer on every page; bars are whole dots of its ``dpi`` dots an inch.
    ``layout`` is the one of the labels' kind, or the one that ships.
    ``moment`` (with time zone) is when this is made, ``title`` what the file is called. Raises Refusal.
    """
    _check(labels, stock, first_place, used_places)
    wording = Wording(language, terms or Terms())
    pen = Pen(stock.page_width / 100, stock.page_height / 100, About(title, language, moment), dpi)
    free = _free_places(stock, first_place, used_places)
    placed: list[Placed] = []
    page = 1
    _draw_sheet(pen, stock, calibration, language)
    for label in labels:
        at, place = next(free)
        if at > page:
            pen.next_page()
            _draw_sheet(pen, stock, calibration, language)
            page = at
        left, top = calibration.left(place.left / 100), calibration.top(place.top / 100)
        _draw_named(pen, stock, left, top, label, wording, layout, dpi)
        placed.append(Placed(label.code, page, place.number))
    return LaidOut(pen.finish(), tuple(placed), page)


def _draw_named(
    pen: Pen,
    stock: LabelStock,
    left: float,
    top: float,
    label: Label,
    wording: Wording,
    layout: Layout | None,
    dpi: int,
) -> None:
    """Draw a label, or refuse it by its code: among 500 labels a text alone is not found."""
    try:
        draw_label(pen, stock, left, top, label, wording, layout)
    except Refusal as no:
        if no.code == "label_too_small":
            raise _too_small(stock, label, least_size(stock, label, wording, layout, dpi)) from no
        raise _with_label(no, label.code) from no


def _too_small(stock: LabelStock, label: Label, least: LeastSize | None) -> Refusal:
    """Return the no to a stock too small for a label, with the size that is enough."""
    size = {"label": label.code, "width": f"{stock.label_width / 100:g}", "height": f"{stock.label_height / 100:g}"}
    if least is None:
        text = N_("Label {label}: {width} × {height} mm are too small for its symbol and lines. Choose a larger one.")
        return Refusal("label_too_small", text, **size)
    text = N_(
        "Label {label}: {width} × {height} mm are too small for its symbol and lines. "
        "Choose a stock of {wide_enough} × {enough} mm or more."
    )
    enough = {"wide_enough": f"{least.width / 100:g}", "enough": f"{least.height / 100:g}"}
    return Refusal("label_too_small", text, **size, **enough)


def _with_label(no: Refusal, label: str) -> Refusal:
    if no.code == "text_does_not_fit":
        return Refusal(
            "text_does_not_fit",
            N_("Label {label}: “{text}” does not fit, not even in letters of {least} points. Choose a larger stock."),
            **no.facts,
            label=label,
        )
    if no.code == "letter_not_in_fonts":
        return Refusal(
            "letter_not_in_fonts",
            N_("Label {label}: “{letter}” ({number}) is in none of the fonts. Write “{text}” with other letters."),
            **no.facts,
            label=label,
        )
    if no.code == "mark_longer_than_label":
        text = N_("Label {label}: the mark “{mark}” does not fit. Shorten its pattern or choose a larger label.")
        return Refusal("mark_longer_than_label", text, **no.facts, label=label)
    return no


def _draw_sheet(pen: Pen, stock: LabelStock, calibration: Calibration, language: str) -> None:
    if stock.kind == "tags":
        draw_cut_lines(pen, stock, calibration)
    elif stock.kind == "cut":
        draw_cut_marks(pen, stock, calibration)
    draw_ruler(pen, stock, calibration, language)


def _check(labels: Sequence[Label], stock: LabelStock, first_place: int, used_places: Collection[int]) -> None:
    if not labels:
        raise Refusal("nothing_to_print", N_("There is nothing to print: choose at least one label."))
    if len(labels) > MOST_AT_ONCE:
        text = N_("{n} labels are too many for one file, {most} is the most. Print them in parts.")
        raise Refusal("too_many_labels", text, n=f"{len(labels):,}", most=f"{MOST_AT_ONCE:,}")
    wrong = [place for place in (first_place, *used_places) if not 1 <= place <= stock.labels_a_page]
    if wrong:
        raise Refusal(
            "no_such_place",
            N_("There is no label {place} on this sheet: it has {labels}, counted row by row."),
            place=wrong[0],
            labels=CountOf("{n} label", "{n} labels", stock.labels_a_page),
        )


def _free_places(stock: LabelStock, first_place: int, used: Collection[int]) -> Iterator[tuple[int, LabelPlace]]:
    """Yield page and place of each free label, without end; a first page without a free one is not begun."""
    every = list(places(stock))
    first = [place for place in every if place.number >= first_place and place.number not in used]
    for place in first:
        yield 1, place
    page = 2 if first else 1
    while True:
        for place in every:
            yield page, place
        page += 1
