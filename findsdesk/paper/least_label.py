"""How large a label has to be for what stands on it: found by drawing it, where a smaller one was refused."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from typing import NamedTuple

from findsdesk.domain.refusals import Refusal
from findsdesk.paper.label_faces import draw_label
from findsdesk.paper.label_kinds import Label
from findsdesk.paper.label_words import Wording
from findsdesk.paper.layouts import Layout
from findsdesk.paper.pen import About, Pen
from findsdesk.paper.stocks import LabelStock

_HIGHER, _WIDER = 50, 500
"""Steps in hundredths of a millimetre: labels are sold in half millimetres of height; width is seldom what lacks."""
_HIGHEST, _WIDEST = 6_000, 10_000
_NO_DAY = datetime(2000, 1, 1, tzinfo=UTC)


class LeastSize(NamedTuple):
    """A size of label in hundredths of a millimetre."""

    width: int
    height: int


def least_size(stock: LabelStock, label: Label, wording: Wording, layout: Layout | None, dpi: int) -> LeastSize | None:
    """Return the lowest label of the stock's width that holds this one, or else the narrowest wider one.

    None where none of up to 100 × 60 mm does.
    """

    def holds(width: int, height: int) -> bool:
        pen = Pen(width / 100, height / 100, About("", "en", _NO_DAY), dpi)
        tried = replace(stock, label_width=width, label_height=height)
        try:
            draw_label(pen, tried, 0.0, 0.0, label, wording, layout)
        except Refusal:
            return False
        return True

    highest = max(_HIGHEST, stock.label_height)
    for width in (stock.label_width, *_steps(stock.label_width, _WIDER, _WIDEST)):
        if holds(width, highest):
            heights = (stock.label_height, *_steps(stock.label_height, _HIGHER, highest))
            return LeastSize(width, next((height for height in heights if holds(width, height)), highest))
    return None


def _steps(begin: int, step: int, end: int) -> Iterator[int]:
    """Yield the whole steps after a length, as far as the end."""
    yield from range(begin - begin % step + step, end + 1, step)
