"""Fitting words and numbers into the room a label has: smaller first, then on more lines, a cut only for words.

A number is never cut: a shortened container number is another container's. Nothing is set smaller than LEAST; what
would have to be is a Refusal.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from findsdesk.domain.refusals import Refusal
from findsdesk.paper.direction import direction_mark, isolated
from findsdesk.paper.fonts import NARROWER, POINT_MM
from findsdesk.paper.label_words import BETWEEN, LEAST
from findsdesk.paper.shaping import letters_of, width_mm
from findsdesk.words import N_

ELLIPSIS = "…"
TWO_LINES = 4.8  # points: smaller letters on two lines are no longer read
_ROUNDING = 1e-6
_AFTER_SIGN = re.compile(r"[^-/., ]+[-/., ]*|[-/., ]+")  # where a number is broken, if it must be
LEADING = 1.22  # from one base line to the next, as a part of the size


class Fitted(NamedTuple):
    """A text as it fits: its face, the size in points and its lines."""

    font: str
    size: float
    lines: tuple[str, ...]


def fit_size(text: str, font: str, largest: float, room: float) -> float:
    """Return the size in points, ``largest`` or smaller, at which a text is no wider than ``room`` mm.

    Refuses a text that would have to be smaller than LEAST.
    """
    return _readable(text, _shrunk(text, font, largest, room), largest)


def fit_line(text: str, font: str, largest: float, room: float) -> tuple[str, float]:
    """Return face and size at which a text stands whole on one line: the narrower face first, then smaller.

    Refuses a text that would have to be smaller than LEAST.
    """
    face, size = _one_line(text, font, largest, room)
    return face, _readable(text, size, largest)


def _one_line(text: str, font: str, largest: float, room: float) -> tuple[str, float]:
    if width_mm(text, font, largest) <= room:
        return font, largest
    narrow = NARROWER.get(font, font)
    return narrow, _shrunk(text, narrow, largest, room)


def _shrunk(text: str, font: str, largest: float, room: float) -> float:
    width = width_mm(text, font, largest)
    return largest if width <= room else largest * room / width


def _readable(text: str, size: float, asked: float) -> float:
    if size < min(LEAST, asked) - _ROUNDING:
        raise Refusal(
            "text_does_not_fit",
            N_("“{text}” does not fit, not even in letters of {least} points. Choose larger paper or a shorter text."),
            text=text,
            least=f"{LEAST:g}",
        )
    return size


def fit_or_cut(text: str, font: str, largest: float, smallest: float, room: float) -> tuple[str, float, str]:
    """Return face, size and what stands on one line of words: shrunk to ``smallest``, then cut."""
    face, size = _one_line(text, font, largest, room)
    return (face, size, text) if size >= smallest else (face, smallest, cut(text, face, smallest, room))


def wrap(text: str, font: str, size: float, room: float) -> list[str]:
    """Return a text broken at its blanks into lines no wider than ``room`` mm, a longer word broken within.

    Where some of it runs to the left, each line begins with the invisible mark of the whole text's direction.
    """
    if text.isascii() and text == " ".join(text.split()) and width_mm(text, font, size) <= room:
        return [text]
    mark = direction_mark(text)
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if width_mm(longer, font, size) <= room:
            line = longer
            continue
        if line:
            lines.append(line)
        *full, line = _break_word(word, font, size, room)
        lines.extend(full)
    lines = [*lines, line] if line or not lines else lines
    return [mark + line for line in lines] if mark else lines


def _break_word(word: str, font: str, size: float, room: float) -> list[str]:
    pieces = [""]
    for letter in letters_of(word):
        if pieces[-1] and width_mm(pieces[-1] + letter, font, size) > room:
            pieces.append("")
        pieces[-1] += letter
    return pieces


def cut(text: str, font: str, size: float, room: float) -> str:
    """Return as much of a text as ``room`` mm take, with an ellipsis where something is left out. For words only."""
    if width_mm(text, font, size) <= room:
        return text
    kept = text
    while kept and width_mm(kept + ELLIPSIS, font, size) > room:
        kept = kept[:-1]
    return kept.rstrip() + ELLIPSIS


def fit_words(text: str, font: str, largest: float, smallest: float, room: float, height: float) -> Fitted:
    """Return words fitted into ``room`` by ``height`` mm: shrunk to ``smallest``, then on two lines, then cut."""
    face, size = _one_line(text, font, largest, room)
    if size >= smallest:
        return Fitted(face, size, (text,))
    half = height / (2 * LEADING * POINT_MM)
    if half < TWO_LINES:
        return Fitted(face, smallest, (cut(text, face, smallest, room),))
    size = min(smallest, half)
    lines = wrap(text, face, size, room)
    if len(lines) > 2:
        lines = [lines[0], cut(" ".join(lines[1:]), face, size, room)]
    return Fitted(face, size, tuple(lines))


def fit_whole(text: str, font: str, largest: float, room: float, height: float) -> Fitted:
    """Return a number fitted whole into ``room`` by ``height`` mm: shrunk to LEAST, then broken over lines of LEAST.

    Refuses one that does not fit so.
    """
    face, size = _one_line(text, font, largest, room)
    if size >= min(LEAST, largest):
        return Fitted(face, size, (text,))
    lines = _break_number(text, face, LEAST, room)
    if len(lines) * LEAST * LEADING * POINT_MM > height + _ROUNDING:
        _readable(text, size, largest)
    return Fitted(face, LEAST, tuple(lines))


def _break_number(text: str, font: str, size: float, room: float) -> list[str]:
    lines = [""]
    for part in _AFTER_SIGN.findall(text):
        if width_mm(lines[-1] + part, font, size) <= room:
            lines[-1] += part
        else:
            lines += _break_word(part, font, size, room)
    return [line for line in lines if line]


def fit_parts(parts: Sequence[str], cuttable: int, font: str, largest: float, smallest: float, room: float) -> Fitted:
    """Return parts of a line with dots between, fitted; where they are too long the ``cuttable`` one gives way.

    All other parts are kept whole, or the line is refused.
    """
    text = joined(parts)
    face, size = _one_line(text, font, largest, room)
    if size >= smallest or not parts[cuttable]:
        return Fitted(face, _readable(text, size, largest), (text,))
    others = joined([part for place, part in enumerate(parts) if place != cuttable])
    free = room - width_mm(joined([others, ELLIPSIS]), face, smallest)
    shortened = cut(parts[cuttable], face, smallest, free + width_mm(ELLIPSIS, face, smallest)) if free > 0 else ""
    text = joined([shortened if place == cuttable else part for place, part in enumerate(parts)])
    return Fitted(face, _readable(text, _shrunk(text, face, smallest, room), largest), (text,))


def joined(parts: Iterable[str]) -> str:
    """Return the parts that are there, with a dot between; each keeps its own direction beside the others."""
    return BETWEEN.join([isolated(part) if direction_mark(part) else part for part in parts if part])
