"""A label by a layout that is being made: drawn on its stock, and cut out of the page that would be printed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from findsdesk.desk.desk import Desk
from findsdesk.desk.label_layouts import Layout, sample_label
from findsdesk.desk.laying_out import stock_named
from findsdesk.desk.printers import printer_named
from findsdesk.paper import reading_back
from findsdesk.paper.label_fields import fields_of
from findsdesk.paper.label_kinds import Label
from findsdesk.paper.label_words import Wording
from findsdesk.paper.labels import lay_out
from findsdesk.paper.layouts import check_layout


@dataclass(frozen=True, slots=True)
class DrawnField:
    """How a field came to stand: in which size in points, and which of the texts on the label, counted from 0."""

    points: float
    text: int


@dataclass(frozen=True, slots=True)
class LookedAt:
    """A label as it prints (a PNG), and how its fields came to stand, by their names; those without words are left out.

    ``invented`` tells that nothing of the kind waited, so that the label is a sample.
    """

    picture: bytes
    fields: Mapping[str, DrawnField]
    invented: bool


def look_at_layout(
    desk: Desk, layout: Layout, *, stock: str, label: Label | None = None, printer: str = "", width: int = 900
) -> LookedAt:
    """Return a label drawn ``width`` pixels wide: the one given, or an invented one. Writes nothing.

    Refusals: those of the layout, the stock, the printer and of drawing the label.
    """
    check_layout(layout)
    its_stock, its_printer = stock_named(stock), printer_named(printer)
    shown = label or sample_label(desk, layout.kind)
    language = desk.facts.settings.paper_language
    drawn = lay_out(
        [shown],
        its_stock,
        moment=desk.now(),
        title="",
        language=language,
        terms=desk.facts.terms,
        dpi=its_printer.dpi,
        layout=layout,
    )
    area = (its_stock.left, its_stock.top, its_stock.label_width, its_stock.label_height)
    left, top, across, down = (length / 100 for length in area)
    picture = reading_back.part_image(drawn.pdf, (left, top, across, down), width)
    return LookedAt(picture, _drawn(drawn.pdf, layout, shown, Wording(language, desk.facts.terms)), label is None)


def _drawn(pdf: bytes, layout: Layout, label: Label, wording: Wording) -> dict[str, DrawnField]:
    """Return how the fields of a layout's numbers and words came to stand, read from the page itself."""
    texts, fields = reading_back.texts_of(pdf), fields_of(layout.kind)
    found: dict[str, DrawnField] = {}
    for line in layout.lines:
        for name in line.fields:
            said, alone = fields[name].says(label, wording), line.style == "numbers"
            words = said if alone else fields[name].in_a_line(said)
            # A counterfoil says the same, smaller: the label itself is meant.
            there = [n for n, (text, _points) in enumerate(texts) if _is_in(words, text, alone=alone)]
            place = max(there, key=lambda n: texts[n][1], default=None)
            if place is not None:
                found[name] = DrawnField(texts[place][1], place)
    return found


def _is_in(words: str, text: str, *, alone: bool) -> bool:
    return bool(words) and (text.strip() == words if alone else words in text)
