"""The face of a label, drawn from its layout: symbols, lines, what stands under the square, hole and counterfoil."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from findsdesk.paper import code128
from findsdesk.paper.face import CLEAR, Face, Room, arrange
from findsdesk.paper.label_fields import fields_of
from findsdesk.paper.label_kinds import Label, kind_of
from findsdesk.paper.label_lines import draw_lines
from findsdesk.paper.label_parts import draw_copy, draw_mark, draw_symbols, mark_has_room
from findsdesk.paper.label_words import Wording
from findsdesk.paper.layouts import Layout, LayoutLine, shipped_layout
from findsdesk.paper.pen import Pen
from findsdesk.paper.sheet_marks import draw_hole, draw_tear_line
from findsdesk.paper.stocks import LabelStock
from findsdesk.paper.symbols import DATA_MATRIX, QR, Square

CARDS = ("tags", "cut")
"""Stocks that are cut by hand: only there a hole is punched and a part torn off."""
LEAST_TAG = 40.0  # mm of height that must be left of a tag when its counterfoil is torn off
COUNTERFOIL = 20.0
_SQUARES: dict[str, tuple[Square, ...]] = {"fitting": (QR, DATA_MATRIX), "qr": (QR,), "data matrix": (DATA_MATRIX,)}


def draw_label(
    pen: Pen, stock: LabelStock, left: float, top: float, label: Label, wording: Wording, layout: Layout | None = None
) -> None:
    """Draw one label of a stock with its upper left corner at a point of the page (mm), by the layout of its kind."""
    layout = layout or shipped_layout(kind_of(label))
    whole = Room(left, top, stock.label_width / 100, stock.label_height / 100)
    if not layout.counterfoil or stock.kind not in CARDS or whole.height - COUNTERFOIL < LEAST_TAG:
        _draw_face(pen, whole, label, layout, wording, hole=layout.hole and stock.kind in CARDS)
        return
    tag = Room(left, top, whole.width, whole.height - COUNTERFOIL)
    _draw_face(pen, tag, label, layout, wording, hole=layout.hole)
    draw_tear_line(pen, left + CLEAR, left + whole.width - CLEAR, tag.bottom)
    _draw_face(pen, Room(left, tag.bottom, whole.width, COUNTERFOIL), label, _torn_off(layout), wording, hole=False)


@cache
def _torn_off(layout: Layout) -> Layout:
    return layout.of_counterfoil()


def _draw_face(pen: Pen, area: Room, label: Label, layout: Layout, wording: Wording, *, hole: bool) -> None:
    modules = code128.modules_of(label.code)
    face = arrange(area.width, area.height, len(modules), pen.dot, _SQUARES[layout.square], layout.bars)
    left, top = area.left, area.top
    draw_symbols(pen, face, left, top, label.code, modules)
    draw_copy(pen, face, left, top, label.copy, wording)
    words = Room(face.words.left + left, face.words.top + top, face.words.width, face.words.height)
    under, under_room = _under_symbol(label, layout, wording), _mark_room(face, left, top, label.copy)
    if under and not mark_has_room(under_room, under):
        layout, under = _among_words(layout), []
    draw_lines(pen, face, words, layout, label, wording)
    if under:
        draw_mark(pen, under_room, under)
    if hole:
        draw_hole(pen, face, left, top)


def _under_symbol(label: Label, layout: Layout, wording: Wording) -> list[str]:
    fields = fields_of(layout.kind)
    return [line for name in layout.under_symbol for line in fields[name].says(label, wording).split("\n") if line]


@cache
def _among_words(layout: Layout) -> Layout:
    """Return a layout with what has no room under the symbol as a line of words: nothing is left out unsaid."""
    line = LayoutLine(layout.under_symbol, size=7.5)
    return replace(layout, lines=(*layout.lines, line), under_symbol=())


def _mark_room(face: Face, left: float, top: float, copy: int) -> Room:
    room = face.under_square
    in_the_way = copy > 1 and face.copy.right > room.left and face.copy.top < room.bottom
    bottom = face.copy.top - 0.6 if in_the_way else room.bottom
    return Room(room.left + left, room.top + top, room.width, bottom - room.top)
