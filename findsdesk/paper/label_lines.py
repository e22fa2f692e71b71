"""The lines of a label fitted into the room its symbols leave: all larger or smaller together, then on fewer lines.

Numbers, words and boxes stand in the order of the layout. Where all lines would become too small to read, the fields
of the words move together onto fewer lines; optional lines go last.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache
from itertools import combinations, pairwise

from findsdesk.paper.face import CLEAR, Face, Room, too_small
from findsdesk.paper.field_boxes import LOWEST, Field, draw_boxes
from findsdesk.paper.fonts import BOLD, DESCENT, PLAIN, POINT_MM
from findsdesk.paper.label_fields import caption, fields_of
from findsdesk.paper.label_kinds import Label, LabelKind
from findsdesk.paper.label_parts import (
    ROUNDING,
    SMALLEST_WORDS,
    Cell,
    Row,
    cells_height,
    cells_width,
    draw_cells,
    draw_rows,
    draw_text,
    rows_height,
)
from findsdesk.paper.label_words import Wording
from findsdesk.paper.layouts import FILLING, Layout, LayoutLine
from findsdesk.paper.pen import Pen

AFTER_NUMBERS = 1.0
BEFORE_FILLING = 1.2
LARGEST_SCALE = 1.9
SMALLEST_SCALE = 0.3
READABLE_SCALE = 0.85
READABLE = 5.0  # points, below which words are made no smaller for the sake of the numbers
OF_THE_ROOM = {"boxes": 0.45, "text": 0.62}  # what lines may take of the room where others fill the rest
NUMBERS_HEIGHT = 7.5  # mm: a number of 18 points with its caption
LOWEST_FILLED = NUMBERS_HEIGHT + BEFORE_FILLING + LOWEST
FILLED_SCALE = 0.7
BESIDE_WIDTH = 9.0  # mm beside a number, below which the lines beside it are left out
BESIDE_GAP = 2.5
MOST_CHARACTERS = 45  # what goes on one line at the least size of a label 60 mm wide
CLOSER = 0.75  # points by which words become smaller with each line less

_FONT = {"plain": PLAIN, "bold": BOLD}
Texts = dict[str, str]
Lines = tuple[LayoutLine, ...]
Sizes = tuple[tuple[float, float], ...]
Points = tuple[float, ...]
_DEEP = re.compile("[gjpqyQ,;()]")


def draw_lines(pen: Pen, face: Face, room: Room, layout: Layout, label: Label, wording: Wording) -> None:
    """Write the lines of a layout into the room for words. Refuses a label that does not hold them."""
    fields = fields_of(layout.kind)
    texts: Texts = {name: fields[name].says(label, wording) for line in layout.lines for name in line.fields}
    for plan in _plans(layout.kind, layout.lines, room.height >= LOWEST_FILLED):
        lines = tuple(line for line in plan if line.style == "boxes" or any(texts[name] for name in line.fields))
        free = _for_fixed(lines, room.height)
        sizes, points = _fixed(lines, texts)
        scale = _scale(free, sizes, points, 1.0 if free < room.height else LARGEST_SCALE)
        if scale >= (FILLED_SCALE if free < room.height else READABLE_SCALE):
            break
    if _height(scale, sizes, points) > free and free < room.height:
        free = room.height - _least_filling(lines)
        scale = _scale(free, sizes, points, 1.0)
    if _height(scale, sizes, points) > free + ROUNDING:
        raise too_small(face.width, face.height)
    _Lines(pen, layout.kind, texts, wording, scale).draw(room, lines)


# --- which lines, how large ---------------------------------------------------------------------------------------


@cache
def _plans(kind: LabelKind, lines: Lines, fills: bool) -> tuple[Lines, ...]:
    """Return the lines as they are, then with their words on fewer lines, then without the optional ones.

    Where nothing ``fills`` because the room is low, what is known for boxes and text stands as words.
    """
    if not fills:
        lines = tuple(replace(line, style="words") if line.style in FILLING else line for line in lines)
    words = [line for line in lines if line.style == "words" and not line.beside]
    rest = tuple(line for line in lines if line not in words)
    plans = [lines]
    for rows in range(len(words) - 1, _least_rows(kind, words) - 1, -1):
        fewer = _on_rows(kind, words, rows)
        place = lines.index(words[0])
        plans.append((*(one for one in rest if lines.index(one) < place), *fewer, *_after(lines, rest, place)))
    if any(line.optional for line in lines):
        plans.append(tuple(line for line in lines if not line.optional))
    return tuple(plans)


def _after(lines: Lines, rest: Lines, place: int) -> Lines:
    return tuple(one for one in rest if lines.index(one) > place)


def _least_rows(kind: LabelKind, words: Sequence[LayoutLine]) -> int:
    characters = sum(fields_of(kind)[name].typical for line in words for name in line.fields)
    return max(1, -(-characters // MOST_CHARACTERS)) if words else 1


def _on_rows(kind: LabelKind, words: Sequence[LayoutLine], rows: int) -> Lines:
    """Return words on so many lines, in their order, so that the longest of them is as short as can be."""
    names = [(name, line) for line in words for name in line.fields]
    typical = [fields_of(kind)[name].typical for name, _line in names]
    cuts = min(
        combinations(range(1, len(names)), rows - 1),
        key=lambda cut: max(sum(typical[start:end]) for start, end in pairwise((0, *cut, len(names)))),
    )
    less = CLOSER * (len(words) - rows)
    together = []
    for start, end in pairwise((0, *cuts, len(names))):
        fields, first = tuple(name for name, _line in names[start:end]), names[start][1]
        as_before = first.fields == fields
        together.append(first if as_before else replace(first, fields=fields, size=max(4.0, first.size - less)))
    return tuple(together)


def _fixed(lines: Lines, texts: Texts) -> tuple[Sizes, Points]:
    """Return size and gap below of the numbers, and the sizes of the words, of the lines that do not fill."""
    sizes = tuple([(line.size, _gap_below(line, texts)) for line in lines if line.style == "numbers"])
    return sizes, tuple([line.size for line in lines if line.style == "words" and not line.beside])


def _gap_below(line: LayoutLine, texts: Texts) -> float:
    """Return the gap in mm below a line of numbers: wider where a letter among them reaches below the line."""
    for name in line.fields:
        if _DEEP.search(texts[name]):
            return AFTER_NUMBERS + DESCENT * line.size * POINT_MM
    return AFTER_NUMBERS


def _least_filling(lines: Lines) -> float:
    """Return the height in mm that what fills the rest needs at least, with the gap over it."""
    boxes = any(line.style == "boxes" for line in lines)
    return BEFORE_FILLING + (LOWEST if boxes else rows_height(SMALLEST_WORDS))


def _for_fixed(lines: Lines, height: float) -> float:
    """Return what the lines that do not fill may take of a height."""
    shares = [OF_THE_ROOM[line.style] for line in lines if line.style in FILLING]
    return max(height * shares[0], NUMBERS_HEIGHT) if shares else height


@cache
def _scale(height: float, numbers: Sizes, words: Points, largest: float) -> float:
    """Return how much larger or smaller than nominal numbers and words must be."""
    scale = largest
    while scale > SMALLEST_SCALE and _height(scale, numbers, words) > height:
        scale -= 0.02
    return scale


def _height(scale: float, numbers: Sizes, words: Points) -> float:
    """Return the height in mm of lines of numbers and of words of so many points."""
    tall = sum([cells_height(size * scale) + gap * scale for size, gap in numbers])
    return tall + rows_height(sum([_word_size(size, scale) for size in words]))


def _word_size(size: float, scale: float) -> float:
    """Return the size in points of words on a scale: large numbers give way before words can no longer be read."""
    return max(size * scale, min(size, READABLE))


# --- drawing ------------------------------------------------------------------------------------------------------


class _Lines:
    """The lines of one label on their way down."""

    def __init__(self, pen: Pen, kind: LabelKind, texts: Texts, wording: Wording, scale: float) -> None:
        self.pen, self.fields, self.texts = pen, fields_of(kind), texts
        self.wording, self.scale = wording, scale

    def draw(self, room: Room, lines: Lines) -> None:
        """Write the lines from the top of the room down; what fills takes what the others leave."""
        sizes, points = _fixed(lines, self.texts)
        left_over = room.height - _height(self.scale, sizes, points)
        top = room.top
        for place, line in enumerate(lines):
            free = Room(room.left, top, room.width, room.bottom - top)
            if line.style == "numbers":
                top = self._numbers(free, line, list(_beside(lines, place)))
            elif line.style in FILLING:
                top += self._fill(Room(room.left, top, room.width, left_over), line)
            elif not line.beside:
                size = _word_size(line.size, self.scale)
                draw_rows(self.pen, free, [self._row(line)], size / line.size)
                top += rows_height(size)

    def _numbers(self, room: Room, line: LayoutLine, beside: list[LayoutLine]) -> float:
        cells = [Cell(self._caption(name), self.texts[name]) for name in line.fields if self.texts[name]]
        size = line.size * self.scale
        height, width = cells_height(size), room.width
        rows = [row for row in map(self._row, beside) if not row.empty]
        if rows:
            width = min(room.width * 0.7, cells_width(cells, size))
            left = room.left + width + BESIDE_GAP
            if room.right - left >= BESIDE_WIDTH:
                scale = min(1.25, (height - CLEAR) / rows_height(sum(row.size for row in rows)))
                draw_rows(self.pen, Room(left, room.top + 0.3, room.right - left, height), rows, scale)
        draw_cells(self.pen, Room(room.left, room.top, width, height), cells, size)
        return room.top + height + _gap_below(line, self.texts) * self.scale

    def _row(self, line: LayoutLine) -> Row:
        parts = tuple([self.fields[name].in_a_line(self.texts[name]) for name in line.fields])
        longest = None
        for place, name in enumerate(line.fields):
            if self.fields[name].words and (longest is None or len(parts[place]) > len(parts[longest])):
                longest = place
        return Row(parts, _FONT[line.weight], line.size, cuttable=longest)

    def _fill(self, room: Room, line: LayoutLine) -> float:
        """Write boxes to write in, or text, and return how high they are."""
        below = Room(room.left, room.top + BEFORE_FILLING, room.width, room.height - BEFORE_FILLING)
        if line.style == "text":
            lines = [part for part in self.texts[line.fields[0]].split("\n") if part]
            field = self.fields[line.fields[0]]
            draw_text(
                self.pen, below, lines, _FONT[line.weight], line.size, lambda n: field.rest(n, len(lines), self.wording)
            )
        else:
            draw_boxes(self.pen, below, [self._box(name) for name in line.fields])
        return room.height

    def _box(self, name: str) -> Field:
        return Field(self._caption(name), self.texts[name], self.fields[name].words)

    def _caption(self, name: str) -> str:
        return caption(self.wording, self.fields[name])


def _beside(lines: Lines, place: int) -> Iterator[LayoutLine]:
    """Yield the lines that stand beside the numbers at a place."""
    for line in lines[place + 1 :]:
        if not line.beside:
            return
        yield line
