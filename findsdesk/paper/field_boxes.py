"""Boxes to write in by hand, each with its small caption; filled in where the value is known."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from findsdesk.paper.face import Room
from findsdesk.paper.fitting import LEADING, cut, fit_or_cut, fit_whole, fit_words
from findsdesk.paper.fonts import BOLD, CAPITAL, DESCENT, NARROW, PLAIN, POINT_MM
from findsdesk.paper.label_words import LEAST
from findsdesk.paper.pen import Pen
from findsdesk.paper.shaping import width_mm

LOWEST = 5.0  # mm for a hand to write in, caption included
HIGH = 9.0  # above this a box a row reads better than many side by side
EDGE_GREY = 0.45
SMALLEST_WORDS = 5.5
MOST_IN_A_ROW = 4


class Field(NamedTuple):
    """A caption and what is known of it; ``words`` may be cut where they are too long, numbers not."""

    name: str
    value: str
    words: bool = False


def draw_boxes(pen: Pen, room: Room, fields: Sequence[Field]) -> None:
    """Draw as many of the fields as the room has boxes for, the first ones first."""
    rows = _rows_of(fields, room.height)
    step = room.height / len(rows)
    largest = 5.0 if step < HIGH else 6.5
    caption = _caption([(field.name, room.width / len(row) - 1.4) for row in rows for field in row], largest)
    for place, row in enumerate(rows):
        width = room.width / len(row)
        for column, field in enumerate(row):
            box = Room(room.left + column * width, room.top + place * step, width, step)
            _draw_box(pen, box, field, caption)


def _caption(names: Sequence[tuple[str, float]], largest: float) -> tuple[str, float]:
    """Return one face and size in points for all captions, each given with its room; what is too long is cut later."""
    if all(width_mm(name, PLAIN, largest) <= room for name, room in names):
        return PLAIN, largest
    return NARROW, min(fit_or_cut(name, NARROW, largest, LEAST, room)[1] for name, room in names)


def _rows_of(fields: Sequence[Field], height: float) -> list[Sequence[Field]]:
    if height < 2 * LOWEST:
        return [fields[:MOST_IN_A_ROW]]
    if height < 3 * (LOWEST + 1.5) or len(fields) < MOST_IN_A_ROW:
        half = -(-len(fields) // 2)
        return [fields[:half], fields[half:]] if half < len(fields) else [fields]
    most = max(3, int(height / LOWEST))
    across = max(2, -(-len(fields) // most))
    return [fields[place : place + across] for place in range(0, len(fields), across)]


def _draw_box(pen: Pen, room: Room, field: Field, caption: tuple[str, float]) -> None:
    face, small = caption
    pen.box(room.left, room.top, room.width, room.height, 0.15, EDGE_GREY)
    name = cut(field.name, face, small, room.width - 1.4)
    pen.text(room.left + 0.7, room.top + 0.5 + small * CAPITAL * POINT_MM, name, face, small)
    if not field.value:
        return
    free, width = room.height - small * POINT_MM - 1.2, room.width - 2.0
    largest = min(18.0, free / POINT_MM)
    if field.words:
        font, size, lines = fit_words(field.value, BOLD, max(largest, SMALLEST_WORDS), SMALLEST_WORDS, width, free)
    else:
        font, size, lines = fit_whole(field.value, BOLD, largest, width, free)
    for place, line in enumerate(reversed(lines)):
        base = room.bottom - 0.3 - (DESCENT + place * LEADING) * size * POINT_MM
        pen.text(room.left + 1.0, base, line, font, size)
