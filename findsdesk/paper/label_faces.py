"""The faces of bag labels, field tags and wash tags: which parts, in which order, how large."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from findsdesk.paper import code128
from findsdesk.paper.face import CLEAR, Face, Room, arrange, too_small
from findsdesk.paper.field_boxes import Field, draw_boxes
from findsdesk.paper.fonts import BOLD, PLAIN
from findsdesk.paper.label_kinds import BagLabel, Label, TagLabel, WashTag
from findsdesk.paper.label_parts import (
    ROUNDING,
    Cell,
    Row,
    Wording,
    cells_height,
    cells_width,
    days,
    draw_cells,
    draw_copy,
    draw_mark,
    draw_rows,
    draw_symbols,
    grams,
    rows_height,
)
from findsdesk.paper.pen import Pen
from findsdesk.paper.sheet_marks import draw_hole
from findsdesk.paper.stocks import LabelStock
from findsdesk.words import N_

NUMBER = 24.0  # points, on a label of 70 × 37 mm: figures 6 mm high
AFTER_NUMBERS = 1.0
LARGEST_SCALE = 1.9
SMALLEST_SCALE = 0.3
READABLE_SCALE = 0.85
SITE_WIDTH = 9.0  # mm beside a field tag's number, below which site and permit are left out

Cells = Sequence[Cell]
Rows = Sequence[Row]


def draw_label(pen: Pen, stock: LabelStock, left: float, top: float, label: Label, wording: Wording) -> None:
    """Draw one label of a stock with its upper left corner at a point of the page (mm)."""
    modules = code128.modules_of(label.code)
    face = arrange(stock.label_width / 100, stock.label_height / 100, len(modules), pen.dot)
    draw_symbols(pen, face, left, top, label.code, modules)
    draw_copy(pen, face, left, top, label.copy, wording)
    words = Room(face.words.left + left, face.words.top + top, face.words.width, face.words.height)
    if isinstance(label, BagLabel):
        _draw_bag(pen, face, words, label, wording)
    elif isinstance(label, WashTag):
        _draw_wash_tag(pen, face, words, label, wording)
    else:
        _draw_field_tag(pen, words, label, wording)
    draw_mark(pen, _mark_room(face, left, top, label.copy), _under_square(label, wording))
    if stock.kind == "tags":
        draw_hole(pen, face, left, top)


def _mark_room(face: Face, left: float, top: float, copy: int) -> Room:
    room = face.under_square
    in_the_way = copy > 1 and face.copy.right > room.left and face.copy.top < room.bottom
    bottom = face.copy.top - 0.6 if in_the_way else room.bottom
    return Room(room.left + left, room.top + top, room.width, bottom - room.top)


@cache
def _scale(height: float, cell_rows: int, points: float) -> float:
    """Return how much larger or smaller than nominal a block of numbers and rows (their sizes summed) must be."""
    scale = LARGEST_SCALE
    while scale > SMALLEST_SCALE and block_height(scale, cell_rows, points) > height:
        scale -= 0.02
    return scale


def block_height(scale: float, cell_rows: int, points: float) -> float:
    """Return the height in mm of rows of numbers over rows of words whose sizes sum up to so many points."""
    return cell_rows * (cells_height(NUMBER * scale) + AFTER_NUMBERS * scale) + rows_height(points * scale)


def _draw_block(pen: Pen, label: Face, room: Room, cell_rows: Sequence[Cells], choices: Sequence[Rows]) -> None:
    """Write big numbers over rows of words, with the first choice of rows that leaves all of it readable."""
    for choice in choices:
        rows = [row for row in choice if not row.empty]
        scale = _scale(room.height, len(cell_rows), sum(row.size for row in rows))
        if scale >= READABLE_SCALE:
            break
    if block_height(scale, len(cell_rows), sum(row.size for row in rows)) > room.height + ROUNDING:
        raise too_small(label.width, label.height)
    top, height = room.top, cells_height(NUMBER * scale)
    for cells in cell_rows:
        draw_cells(pen, Room(room.left, top, room.width, height), cells, NUMBER * scale)
        top += height + AFTER_NUMBERS * scale
    draw_rows(pen, Room(room.left, top, room.width, room.bottom - top), rows, scale)


def _draw_bag(pen: Pen, face: Face, room: Room, label: BagLabel, wording: Wording) -> None:
    pieces = "" if label.pieces is None else wording.pieces(label.pieces)
    weight = "" if label.tenths is None else grams(label.tenths)
    day = days(label.collected_on, label.collected_until)
    what = ", ".join(part for part in (label.material, label.what) if part)
    site, permit, square = f"{label.site} {label.season}".strip(), label.permit, label.square
    four = (
        Row((what,), BOLD, 8.5, cuttable=0),
        Row((pieces, weight), PLAIN, 8.5),
        Row((square, day), PLAIN, 8.0, cuttable=0),
        Row((site, permit), PLAIN, 7.5, cuttable=0),
    )
    three = (
        four[0],
        Row((pieces, weight, square), PLAIN, 8.0, cuttable=2),
        Row((day, site, permit), PLAIN, 7.0, cuttable=1),
    )
    two = (
        Row((what, pieces, weight), BOLD, 7.0, cuttable=0),
        Row((square, day, site, permit), PLAIN, 6.5, cuttable=2),
    )
    _draw_block(pen, face, room, [_numbers(wording, label.deposit, label.container)], (four, three, two))


def _numbers(wording: Wording, deposit: str, container: str) -> Cells:
    return (Cell(wording.terms.deposit, deposit), Cell(wording.terms.container, container))


def _draw_wash_tag(pen: Pen, face: Face, room: Room, tag: WashTag, wording: Wording) -> None:
    counted = [Cell(wording.say(N_("pieces washed")), str(tag.pieces))]
    if tag.tray:
        counted.append(Cell(wording.say(N_("tray")), tag.tray))
    site = f"{tag.site} {tag.season}".strip()
    two = (Row((tag.material, tag.square), PLAIN, 8.0, cuttable=0), Row((site,), PLAIN, 7.5, cuttable=0))
    one = (Row((tag.material, tag.square, site), PLAIN, 7.5, cuttable=0),)
    _draw_block(pen, face, room, [_numbers(wording, tag.deposit, tag.container), counted], (two, one, ()))


def _under_square(label: Label, wording: Wording) -> Sequence[str]:
    """Return the lines for the column under the QR symbol: the mark of a bag, the day of the washing."""
    if isinstance(label, BagLabel):
        return label.mark_lines
    if isinstance(label, WashTag) and label.washed_on:
        return (wording.say(N_("washed")), label.washed_on.isoformat())
    return ()


def _draw_field_tag(pen: Pen, room: Room, tag: TagLabel, wording: Wording) -> None:
    cell = Cell(wording.terms.container, tag.container)
    site = (Row((f"{tag.site} {tag.season}".strip(),), PLAIN, 8.0, cuttable=0), Row((tag.permit,), PLAIN, 8.0))
    fields = (
        Field(wording.terms.deposit, tag.deposit),
        Field(wording.terms.square, tag.square),
        Field(wording.say(N_("date")), days(tag.collected_on)),
        Field(wording.say(N_("supervisor")), tag.supervisor, words=True),
        Field(wording.say(N_("material")), tag.material, words=True),
    )
    number = min(48.0, max(18.0, room.height * 1.1))
    height = cells_height(number)
    width = min(room.width * 0.7, cells_width([cell], number))
    draw_cells(pen, Room(room.left, room.top, width, height), [cell], number)
    left = room.left + width + 2.5
    scale = min(1.25, (height - CLEAR) / rows_height(sum(row.size for row in site)))
    if room.right - left >= SITE_WIDTH:
        rows = [row for row in site if not row.empty]
        draw_rows(pen, Room(left, room.top + 0.3, room.right - left, height), rows, scale)
    top = room.top + height + 1.2
    draw_boxes(pen, Room(room.left, top, room.width, room.bottom - top), fields)
