"""The letters of everything printed: the bundled DejaVu faces, embedded in each file."""

from __future__ import annotations

from functools import cache

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from findsdesk import places

PLAIN = "FindsDesk"
BOLD = "FindsDesk-Bold"
NARROW = "FindsDesk-Narrow"
NARROW_BOLD = "FindsDesk-Narrow-Bold"
MONO = "FindsDesk-Mono"
MONO_BOLD = "FindsDesk-Mono-Bold"

_FILES = {
    PLAIN: "DejaVuSans.ttf",
    BOLD: "DejaVuSans-Bold.ttf",
    NARROW: "DejaVuSansCondensed.ttf",
    NARROW_BOLD: "DejaVuSansCondensed-Bold.ttf",
    MONO: "DejaVuSansMono.ttf",
    MONO_BOLD: "DejaVuSansMono-Bold.ttf",
}
# A narrower face of the same design is easier to read than the same letters made smaller.
NARROWER = {PLAIN: NARROW, BOLD: NARROW_BOLD}

# Faces that lack a script borrow it from one that stands well beside them.
BORROWS = {MONO: (PLAIN,), MONO_BOLD: (BOLD, PLAIN), BOLD: (PLAIN,), NARROW_BOLD: (NARROW,)}

_PRIVATE = (0xE000, 0xF900)  # characters without a meaning of their own

# Height of a capital or a figure over the base line, and depth of a g below it, as parts of the size (read from the
# fonts' own tables: capHeight 1493, hhea descent 483 of 2048 units).
CAPITAL = 0.729
DESCENT = 0.236
POINT_MM = 25.4 / 72


@cache
def register() -> None:
    """Make the faces known to the PDF writer; done once, whoever prints first."""
    for name, file in _FILES.items():
        pdfmetrics.registerFont(TTFont(name, str(places.resource("fonts", file))))


@cache
def characters(font: str) -> frozenset[int]:
    """Return the characters a face has letters for."""
    register()
    return frozenset(pdfmetrics.getFont(font).face.charToGlyph)


@cache
def letters_by_glyph(font: str) -> dict[int, str]:
    """Return for each glyph of a face the character under which it is embedded.

    The PDF writer embeds characters, not glyphs. What only shaping brings in (an initial form, a ligature) gets a code
    of the private area, the same in every run, so that the same text gives the same bytes.
    """
    known = characters(font)
    pdf_font = pdfmetrics.getFont(font)
    face = pdf_font.face
    letters: dict[int, str] = {}
    for code in sorted(known):
        letters.setdefault(face.charToGlyph[code], chr(code))
    free = (code for code in range(*_PRIVATE) if code not in known)
    nameless = [glyph for glyph in range(len(face.hmetrics)) if glyph not in letters]
    for code, glyph in zip(free, nameless, strict=False):
        letters[glyph] = chr(code)
        face.charToGlyph[code] = glyph
        face.charWidths[code] = pdf_font.pdfScale(face.hmetrics[glyph][0])
    return letters
