"""Boxes to write in by hand, each with its small caption; filled in where the value is known."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from findsdesk.paper.face import Room
from findsdesk.paper.fitting import LEADING, LEAST, cut, fit_or_cut, fit_whole, fit_words
from findsdesk.paper.fonts import BOLD, CAPITAL, DESCENT, PLAIN, POINT_MM
from findsdesk.paper.pen import Pen

LOWEST = 5.0  # mm for a hand to write in, caption included
HIGH = 9.0  # above this a box a row reads better than many side by side
EDGE_GREY = 0.45
SMALLEST_WORDS = 5.5


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
    caption = min(
        fit_or_cut(name, PLAIN, largest, LEAST, room.width / len(row) - 1.4)[1] for row in rows for name, *_ in row
    )
    for place, row in enumerate(rows):
        width = room.width / len(row)
        for column, field in enumerate(row):
            box = Room(room.left + column * width, room.top + place * step, width, step)
            _draw_box(pen, box, field, caption)


def _rows_of(fields: Sequence[Field], height: float) -> list[Sequence[Field]]:
    if height < 2 * LOWEST:
        return [fields[:4]]
    if height < 3 * (LOWEST + 1.5):
        return [fields[:3], fields[3:]]
    return [fields[:2], fields[2:4], fields[4:]]


def _draw_box(pen: Pen, room: Room, field: Field, caption: float) -> None:
    pen.box(room.left, room.top, room.width, room.height, 0.15, EDGE_GREY)
    name = cut(field.name, PLAIN, caption, room.width - 1.4)
    pen.text(room.left + 0.7, room.top + 0.5 + caption * CAPITAL * POINT_MM, name, PLAIN, caption)
    if not field.value:
        return
    free, width = room.height - caption * POINT_MM - 1.2, room.width - 2.0
    largest = min(18.0, free / POINT_MM)
    if field.words:
        font, size, lines = fit_words(field.value, BOLD, max(largest, SMALLEST_WORDS), SMALLEST_WORDS, width, free)
    else:
        font, size, lines = fit_whole(field.value, BOLD, largest, width, free)
    for place, line in enumerate(reversed(lines)):
        base = room.bottom - 0.3 - (DESCENT + place * LEADING) * size * POINT_MM
        pen.text(room.left + 1.0, base, line, font, size)
