"""Texts as the letters that are printed: measured, joined, with their marks in place and in the order of the eye.

Most texts are letters side by side and are left to the PDF writer. Those with joined letters, letters from right to
left or marks over and under letters are shaped (harfbuzz) run by run, in the order the line is read (direction.py).
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from functools import cache, lru_cache
from itertools import groupby
from typing import NamedTuple

import uharfbuzz
from reportlab.pdfbase import pdfmetrics

from findsdesk.domain.refusals import Refusal
from findsdesk.paper.direction import visual_stretches
from findsdesk.paper.fonts import BORROWS, MONO, MONO_BOLD, POINT_MM, characters, letters_by_glyph, register
from findsdesk.words import N_

RIGHT_TO_LEFT_LANGUAGES = frozenset({"ar", "ckb", "dv", "fa", "he", "ps", "sd", "ug", "ur", "yi"})

# Marks over and under letters, Hebrew and Arabic with all that is written like them, signs of direction and joining.
_TO_SHAPE = re.compile("[\u0300-\u036f\u0483-\u0489\u0590-\u08ff\u1ab0-\u1aff\u1dc0-\u1dff\u200b-\u200f\u2028-\u202e"
                       "\u2060-\u206f\u20d0-\u20ff\ufb1d-\ufdff\ufe00-\ufe2f\ufe70-\ufeff]")  # fmt: skip
_CLUSTER = re.compile("[\u200c\u200d]*.[\u0300-\u036f\u0483-\u0489\u0591-\u05bd\u05bf\u05c1\u05c2\u05c4\u05c5\u05c7"
                      "\u0610-\u061a\u064b-\u065f\u0670\u06d6-\u06dc\u06df-\u06e4\u06e7\u06e8\u06ea-\u06ed\u1ab0-\u1aff"
                      "\u1dc0-\u1dff\u200c\u200d\u20d0-\u20ff\ufb1e\ufe00-\ufe2f]*", re.DOTALL)  # fmt: skip
_FEATURES = {"kern": False, "liga": False}  # letters stand as they do in texts that are not shaped


class Piece(NamedTuple):
    """Letters of one face at one height; each with how far it is moved before it is set. In thousandths of the size.

    ``says`` is what a reader of the file must take them for, where that is not the letters themselves; "" where the
    piece before has said it.
    """

    font: str
    rise: int
    letters: tuple[tuple[int, str], ...]
    says: str | None = None


class Shaped(NamedTuple):
    """A text as it is set: how wide it is in thousandths of its size, its pieces from left to right."""

    width: float
    pieces: tuple[Piece, ...]


class _Glyph(NamedTuple):
    font: str
    letter: str
    right: int
    up: int
    advance: int
    width: int
    says: str | None


def is_plain(text: str, font: str) -> bool:
    """Tell whether the letters of a text just stand side by side, all of them in the face."""
    if text.isascii() and text.isprintable():
        return True
    return _plain_letters(font).issuperset(text)


@cache
def _plain_letters(font: str) -> frozenset[str]:
    """Return the letters of a face that need no shaping and are not blank in a way of their own."""
    letters = map(chr, characters(font))
    return frozenset(letter for letter in letters if letter.isprintable() and not _TO_SHAPE.match(letter))


def width_mm(text: str, font: str, size: float) -> float:
    """Return how wide a text is in millimetres at a size in points. Refuses a text with a letter we have not."""
    return _width_of_1000(text, font) * size * (POINT_MM / 1000)


@lru_cache(maxsize=8192)
def _width_of_1000(text: str, font: str) -> float:
    register()
    if is_plain(text, font):
        return float(pdfmetrics.getFont(font).stringWidth(text, 1000))
    return shape(text, font).width


@lru_cache(maxsize=4096)
def shape(text: str, font: str, right_to_left: bool = False) -> Shaped:
    """Return a text shaped; ``right_to_left`` is how a line without a letter of a direction runs.

    Refuses a text with a character none of our faces has.
    """
    said = unicodedata.normalize("NFC", clean(text))
    placed = [
        glyph
        for start, end, level in visual_stretches(said, int(right_to_left))
        for run in _in_order(list(_runs_of(said, start, end, font)), level)
        for glyph in _glyphs_of(*run, backwards=bool(level % 2))
    ]
    return Shaped(sum(glyph.advance for glyph in placed), tuple(_pieces(placed)))


def clean(text: str) -> str:
    """Return a text with blanks for line breaks and tabs, and without what has no form on paper."""
    return "".join(" " if letter.isspace() else letter for letter in text if _has_form(letter))


def _has_form(letter: str) -> bool:
    return letter.isspace() or unicodedata.category(letter) != "Cc"


def letters_of(text: str) -> list[str]:
    """Return the letters of a text, each with the marks that belong to it."""
    return _CLUSTER.findall(text)


def _in_order(runs: list[tuple[str, str, str]], level: int) -> list[tuple[str, str, str]]:
    return runs[::-1] if level % 2 else runs


def _runs_of(text: str, start: int, end: int, font: str) -> Iterator[tuple[str, str, str]]:
    """Yield the parts of a stretch of a text that one face and one script can set: letters, face, script."""
    script = ""
    faced = []
    for cluster in letters_of(text[start:end]):
        script = _script_of(cluster) or script
        faced.append((cluster, _face_for(cluster, font, text), script))
    later = ""
    for place in reversed(range(len(faced))):  # signs at the beginning go with the first script
        cluster, face, script = faced[place]
        later = script or later
        faced[place] = cluster, face, script or later
    for (face, script), part in groupby(faced, key=lambda one: one[1:]):
        yield "".join(cluster for cluster, *_ in part), face, script


def _script_of(cluster: str) -> str:
    kind = unicodedata.bidirectional(cluster[0])
    if kind in ("AL", "AN"):
        return "Arab"
    if kind == "R":
        return "Hebr"
    return "Latn" if kind == "L" else ""


def _face_for(cluster: str, font: str, text: str) -> str:
    """Return the first of a face and those it borrows from that has a letter with its marks, or refuse."""
    needed = [letter for letter in cluster if _shows(letter) and letter != " " and letter != "\ufe0f"]
    faces = (font, *BORROWS.get(font, ()))
    if font in (MONO, MONO_BOLD) and _TO_SHAPE.search(cluster):
        faces = faces[1:]  # letters of one width neither join well nor carry marks
    for face in faces:
        if all(ord(letter) in characters(face) for letter in needed):
            return face
    missing = next((letter for letter in needed if ord(letter) not in characters(faces[-1])), needed[0])
    raise Refusal(
        "letter_not_in_fonts",
        N_("“{letter}” ({number}) in “{text}” cannot be printed: the fonts have no such letter. Write it with others."),
        letter=f"◌{missing}" if unicodedata.combining(missing) else missing,
        number=f"U+{ord(missing):04X} {unicodedata.name(missing, '')}".strip(),
        text=text.strip(),
    )


@cache
def _shaper(font: str) -> uharfbuzz.Font:
    register()
    return uharfbuzz.Font(uharfbuzz.Face(uharfbuzz.Blob(pdfmetrics.getFont(font).face._ttf_data)))


def _glyphs_of(text: str, font: str, script: str, *, backwards: bool) -> Iterator[_Glyph]:
    """Yield the glyphs of a run from left to right."""
    buffer = uharfbuzz.Buffer()
    buffer.add_str(text)
    buffer.direction = "rtl" if backwards else "ltr"
    buffer.script = script or "Latn"
    buffer.flags = uharfbuzz.BufferFlags.REMOVE_DEFAULT_IGNORABLES
    shaper = _shaper(font)
    uharfbuzz.shape(shaper, buffer, _FEATURES)
    per_unit, letters = 1000 / shaper.face.upem, letters_by_glyph(font)
    widths = pdfmetrics.getFont(font).face.charWidths
    set_letters = [letters[info.codepoint] for info in buffer.glyph_infos]
    clusters = [info.cluster for info in buffer.glyph_infos]
    said = _said(text, set_letters, clusters)
    for letter, cluster, place in zip(set_letters, clusters, buffer.glyph_positions, strict=True):
        right, up, advance = (round(units * per_unit) for units in (place.x_offset, place.y_offset, place.x_advance))
        yield _Glyph(font, letter, right, up, advance, round(widths[ord(letter)]), said.get(cluster))
        if cluster in said:
            said[cluster] = ""  # said once, with the first of its letters


def _said(text: str, set_letters: list[str], clusters: list[int]) -> dict[int, str]:
    """Return by its place each part of a text whose letters as set would be read as something else."""
    if not clusters:
        return {}
    starts = sorted(set(clusters))
    parts = {start: text[start:end] for start, end in zip(starts, [*starts[1:], len(text)], strict=True)}
    read: dict[int, str] = {}
    for letter, cluster in zip(set_letters, clusters, strict=True):
        read[cluster] = read.get(cluster, "") + letter
    return {start: part for start, part in parts.items() if _as_read(part) != _as_read(read[start])}


def _as_read(text: str) -> list[str]:
    """Return the letters for comparison; mirrored brackets count as one, for readers turn them back themselves."""
    letters = unicodedata.normalize("NFKD", text)
    return sorted("" if unicodedata.mirrored(letter) else letter for letter in letters if _shows(letter))


def _shows(letter: str) -> bool:
    return unicodedata.category(letter) != "Cf"


def _pieces(placed: list[_Glyph]) -> Iterator[Piece]:
    """Yield the glyphs gathered by face and height."""
    at = stands = 0
    moved = []
    for glyph in placed:
        moved.append((glyph, at + glyph.right - stands))
        stands = at + glyph.right + glyph.width
        at += glyph.advance
    for key, part in groupby(enumerate(moved), key=_piece_key):
        yield Piece(key[0], key[1], tuple((move, glyph.letter) for _place, (glyph, move) in part), key[2])


def _piece_key(numbered: tuple[int, tuple[_Glyph, int]]) -> tuple[str, int, str | None, int]:
    place, (glyph, _move) = numbered
    return glyph.font, glyph.up, glyph.says, -1 if glyph.says is None else place
