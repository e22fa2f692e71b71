"""The faces of bag labels, field tags and wash tags: which parts, in which order, how large."""

from __future__ import annotations

from collections.abc import Sequence

from findsdesk.paper.face import CLEAR, Face, Room
from findsdesk.paper.fitting import fit_size
from findsdesk.paper.fonts import BOLD, CAPITAL, PLAIN, POINT_MM, width_mm
from findsdesk.paper.label_kinds import BagLabel, Label, TagLabel, WashTag
from findsdesk.paper.label_parts import (
    Cell,
    Row,
    Wording,
    cells_height,
    days,
    draw_cells,
    draw_copy,
    draw_mark,
    draw_rows,
    draw_symbols,
    grams,
    joined,
    rows_height,
)
from findsdesk.paper.pen import Pen
from findsdesk.words import N_

NUMBER = 24.0  # points, on a label of 70 × 37 mm: figures 6 mm high
AFTER_NUMBERS = 1.0
LARGEST_SCALE = 1.9
HOLE = 2.5  # radius of the punched hole of a tag to hang, mm


def draw_label(pen: Pen, face: Face, left: float, top: float, label: Label, wording: Wording) -> None:
    """Draw one label with its upper left corner at a point of the page (mm)."""
    draw_symbols(pen, face, left, top, label.code)
    draw_copy(pen, face, left, top, label.copy, wording)
    words = _moved(face.words, left, top)
    if isinstance(label, BagLabel):
        _draw_bag(pen, words, label, wording)
        draw_mark(pen, _mark_room(face, left, top, label.copy), label.mark_lines)
    elif isinstance(label, WashTag):
        _draw_wash_tag(pen, words, label, wording)
    else:
        _draw_field_tag(pen, words, label, wording)


def _moved(room: Room, left: float, top: float) -> Room:
    return Room(room.left + left, room.top + top, room.width, room.height)


def _mark_room(face: Face, left: float, top: float, copy: int) -> Room:
    room = face.under_qr
    reaches_corner = room.bottom > face.height - CLEAR - 3.0
    height = room.height - (3.2 if copy > 1 and reaches_corner else 0.0)
    return Room(room.left + left, room.top + top, room.width, height)


def _draw_block(pen: Pen, room: Room, cells: Sequence[Cell], choices: Sequence[Sequence[Row]]) -> None:
    """Write big numbers over rows, with the first choice of rows that stays readable."""
    for rows in choices:
        needed = cells_height(NUMBER) + AFTER_NUMBERS + rows_height(rows)
        scale = min(LARGEST_SCALE, room.height / needed)
        if scale >= 0.8:
            break
    height = cells_height(NUMBER * scale)
    draw_cells(pen, Room(room.left, room.top, room.width, height), cells, NUMBER * scale)
    under = room.top + height + AFTER_NUMBERS * scale
    draw_rows(pen, Room(room.left, under, room.width, room.bottom - under), rows, scale)


def _draw_bag(pen: Pen, room: Room, label: BagLabel, wording: Wording) -> None:
    cells = (Cell(wording.terms.deposit, label.deposit), Cell(wording.terms.container, label.container))
    pieces = "" if label.pieces is None else wording.pieces(label.pieces)
    weight = "" if label.tenths is None else grams(label.tenths)
    day = days(label.collected_on, label.collected_until)
    what = ", ".join(part for part in (label.material, label.what) if part)
    site = joined(f"{label.site} {label.season}".strip(), label.permit)
    full = [
        Row(what, BOLD, 8.5, numbers=False),
        Row(joined(pieces, weight), PLAIN, 8.5),
        Row(joined(label.square, day), PLAIN, 8.0),
        Row(site, PLAIN, 7.5),
    ]
    short = [Row(joined(what, pieces, weight), BOLD, 7.0), Row(joined(label.square, day, site), PLAIN, 6.5)]
    _draw_block(pen, room, cells, ([row for row in full if row.text], [row for row in short if row.text]))


def _draw_wash_tag(pen: Pen, room: Room, tag: WashTag, wording: Wording) -> None:
    numbers = [Cell(wording.say(N_("pieces washed")), str(tag.pieces))]
    if tag.tray:
        numbers.append(Cell(wording.say(N_("tray")), tag.tray))
    day = days(tag.washed_on)
    washed = wording.say(N_("washed {date}"), date=day) if day else ""
    rows = [
        Row(
            joined(
                f"{wording.terms.deposit} {tag.deposit}",
                f"{wording.terms.container} {tag.container}",
            ),
            BOLD,
            9.5,
        ),
        Row(joined(tag.material, tag.square, washed), PLAIN, 8.0),
        Row(f"{tag.site} {tag.season}".strip(), PLAIN, 7.5),
    ]
    _draw_block(pen, room, numbers, ([row for row in rows if row.text], [row for row in rows[:2] if row.text]))


def _draw_field_tag(pen: Pen, room: Room, tag: TagLabel, wording: Wording) -> None:
    cells = [Cell(wording.terms.container, tag.container)]
    site = joined(f"{tag.site} {tag.season}".strip(), tag.permit)
    fields = [
        (wording.terms.deposit, tag.deposit),
        (wording.terms.square, tag.square),
        (wording.say(N_("date")), days(tag.collected_on)),
        (wording.say(N_("supervisor")), tag.supervisor),
        (wording.say(N_("material")), tag.material),
    ]
    number = min(48.0, room.height * 0.3 / (CAPITAL * POINT_MM))
    height = cells_height(number)
    draw_cells(pen, Room(room.left, room.top, room.width, height), cells, number)
    site_size = min(9.0, max(6.0, room.height * 0.18))
    under = room.top + height + 0.8
    draw_rows(pen, Room(room.left, under, room.width, 5.0), [Row(site, PLAIN, site_size)] if site else [])
    under += site_size * 1.22 * POINT_MM + 0.4
    _draw_fields(pen, Room(room.left, under, room.width, room.bottom - under), fields)


def _draw_fields(pen: Pen, room: Room, fields: Sequence[tuple[str, str]]) -> None:
    """Draw captioned lines to write on, filled in where the value is known; two to a row where the room is low."""
    columns = 1 if room.height / len(fields) >= 6.0 else 2
    lines = -(-len(fields) // columns)
    step, gap = room.height / lines, 2.0
    width = (room.width - gap * (columns - 1)) / columns
    caption = min(7.0, max(5.0, step * 1.1))
    for place, (name, value) in enumerate(fields):
        row, column = divmod(place, columns)
        left, base = room.left + column * (width + gap), room.top + step * (row + 1) - 0.4
        wide = room.right - left if place == len(fields) - 1 else width
        size = fit_size(name, PLAIN, caption, wide * 0.45)
        pen.text(left, base - 0.6, name, PLAIN, size)
        begin = left + width_mm(name, PLAIN, size) + 1.0
        pen.rule(begin, base, left + wide, base, 0.15)
        if value:
            largest = min(14.0, (step - 1.6) / (CAPITAL * POINT_MM))
            pen.text(begin + 0.5, base - 0.8, value, BOLD, fit_size(value, BOLD, largest, left + wide - begin - 0.7))
