"""The colour a Munsell notation has on a screen: that of the nearest chip, and always an approximation."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from findsdesk.domain.figures import Grounds
from findsdesk.domain.munsell import Munsell, degree_of, hues_apart
from findsdesk.domain.munsell_chips import CHROMAS, TABLE

SOURCE = "Newhall, Nickerson and Judd 1943, in the library colour-science 0.4.7"


@dataclass(frozen=True, slots=True)
class Swatch:
    """Red, green and blue (0 to 255, sRGB), the chip they stand for, whether that is the colour itself.

    ``within_screen`` is False where sRGB cannot show the chip and its colour was cut. No screen and no print shows a
    chart's chip exactly.
    """

    red: int
    green: int
    blue: int
    chip: str
    exact: bool
    within_screen: bool
    source: str = SOURCE
    grounds: Grounds = Grounds.DERIVED


def swatch(colour: Munsell) -> Swatch:
    """Return the swatch of the chip nearest to a colour; of several chips read together, their middle.

    Nearest in hue first, then in value, then in chroma; of two as near, the lower one. Source of the chips:
    docs/sources.md, "Munsell".
    """
    if colour.is_grey or colour.chroma.middle < Fraction(1, 2):
        page = _pages()["N"]
    else:
        page = min(
            (one for hue, one in _pages().items() if hue != "N"),
            key=lambda one: hues_apart(colour.hue_degree, degree_of(one.hue)),
        )
    value = min(page.rows, key=lambda one: (abs(one - colour.value.middle), one))
    row = page.rows[value]
    chroma = min(row, key=lambda one: (abs(one - colour.chroma.middle), one))
    written = row[chroma]
    chip = f"N {float(value):g}/" if page.hue == "N" else f"{page.hue} {float(value):g}/{chroma}"
    red, green, blue = bytes.fromhex(written.rstrip("!"))
    return Swatch(red, green, blue, chip, chip == str(colour), not written.endswith("!"))


@dataclass(frozen=True, slots=True)
class _Page:
    """A page of the chart: by value and chroma, the colour as the table writes it."""

    hue: str
    rows: dict[Fraction, dict[int, str]]


@cache
def _pages() -> dict[str, _Page]:
    pages: dict[str, _Page] = {}
    for line in TABLE.splitlines():
        hue, value, _most, *colours = line.split()
        chromas = (0,) if hue == "N" else CHROMAS
        row = dict(zip(chromas, colours, strict=False))
        pages.setdefault(hue, _Page(hue, {})).rows[Fraction(value)] = row
    return pages
