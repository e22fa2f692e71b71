"""The letters of everything printed: the bundled DejaVu faces, embedded in each file."""

from __future__ import annotations

from functools import cache, lru_cache

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


@lru_cache(maxsize=8192)
def _width_of_1000(text: str, font: str) -> float:
    register()
    return float(pdfmetrics.getFont(font).stringWidth(text, 1000))


def width_mm(text: str, font: str, size: float) -> float:
    """Return how wide a text is in millimetres at a size in points."""
    return _width_of_1000(text, font) * size * (POINT_MM / 1000)
