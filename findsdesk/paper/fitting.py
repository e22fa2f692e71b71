"""Fitting words and numbers into the room a label has: smaller first, then on more lines, a cut only for words.

A number is never cut: a shortened container number is another container's.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from findsdesk.paper.fonts import NARROWER, POINT_MM, width_mm

ELLIPSIS = "…"
BETWEEN = " · "
TWO_LINES = 4.8  # points: smaller letters on two lines are no longer read
LEADING = 1.22  # from one base line to the next, as a part of the size


class Fitted(NamedTuple):
    """A text as it fits: its face, the size in points and its lines."""

    font: str
    size: float
    lines: tuple[str, ...]


def fit_size(text: str, font: str, largest: float, room: float) -> float:
    """Return the size in points, ``largest`` or smaller, at which a text is no wider than ``room`` mm."""
    width = width_mm(text, font, largest)
    return largest if width <= room else largest * room / width


def fit_line(text: str, font: str, largest: float, room: float) -> tuple[str, float]:
    """Return face and size at which a text stands whole on one line: the narrower face first, then smaller."""
    if width_mm(text, font, largest) <= room:
        return font, largest
    narrow = NARROWER.get(font, font)
    return narrow, fit_size(text, narrow, largest, room)


def wrap(text: str, font: str, size: float, room: float) -> list[str]:
    """Return a text broken at its blanks into lines no wider than ``room`` mm, a longer word broken within."""
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
    return [*lines, line] if line or not lines else lines


def _break_word(word: str, font: str, size: float, room: float) -> list[str]:
    pieces = [""]
    for letter in word:
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
    face, size = fit_line(text, font, largest, room)
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


def fit_parts(parts: Sequence[str], cuttable: int, font: str, largest: float, smallest: float, room: float) -> Fitted:
    """Return parts of a line with dots between, fitted; where they are too long the ``cuttable`` one gives way.

    All other parts are kept whole, however small they must be.
    """
    text = joined(parts)
    face, size = fit_line(text, font, largest, room)
    if size >= smallest or not parts[cuttable]:
        return Fitted(face, size, (text,))
    others = joined([part for place, part in enumerate(parts) if place != cuttable])
    free = room - width_mm(joined([others, ELLIPSIS]), face, smallest)
    shortened = cut(parts[cuttable], face, smallest, free + width_mm(ELLIPSIS, face, smallest)) if free > 0 else ""
    text = joined([shortened if place == cuttable else part for place, part in enumerate(parts)])
    return Fitted(face, fit_size(text, face, smallest, room), (text,))


def joined(parts: Iterable[str]) -> str:
    """Return the parts that are there, with a dot between."""
    return BETWEEN.join([part for part in parts if part])
