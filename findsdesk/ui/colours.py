"""Colours: the two palettes as data, and the contrast between two colours.

*Shade* is for indoors; *sun* is black, white and one yellow, with heavier borders. A colour is named by what it is for,
so that a widget asks for ``late_fill`` and each palette answers in its own way.
"""

from __future__ import annotations

from typing import NamedTuple


class Colours(NamedTuple):
    """One palette. Fills end in ``_fill`` and are read with the ink named beside them."""

    ground: str
    """Slip: behind everything."""
    card: str
    """Panels, fields, tags."""
    band: str
    """The foot and quiet fills."""
    ink: str
    muted: str
    """Second text."""
    clay: str
    """The accent as a line, a dot or a word."""
    act_fill: str
    """The one main button and the open bench."""
    act_ink: str
    green: str
    """Agreed."""
    ochre: str
    """Caution, on hold."""
    madder: str
    """Refused, late."""
    teal: str
    """Water, soaking."""
    water: str
    """Fill of a tub; read with ink."""
    caution_fill: str
    refusal_fill: str
    late_fill: str
    """Behind a late thing; read with madder."""
    count_fill: str
    """Behind the number being counted; read with ink."""
    quiet_fill: str
    """Something taken, a tray drying; read with ``quiet_ink``."""
    quiet_ink: str
    line: str
    """Hairlines: decoration only."""
    edge: str
    """Borders of fields and buttons."""
    hatch: str
    """Hatching on ground or card: decoration beside a number."""


SHADE = Colours(
    ground="#F5EFE3",
    card="#FFFDF8",
    band="#EADFCB",
    ink="#1F2A44",
    muted="#4A5570",
    clay="#A23E1B",
    act_fill="#A23E1B",
    act_ink="#FFFDF8",
    green="#2C6549",
    ochre="#7F5600",
    madder="#9B1C31",
    teal="#1D5C73",
    water="#D6E4E6",
    caution_fill="#FBF0DC",
    refusal_fill="#FBECEB",
    late_fill="#FFFDF8",
    count_fill="#FFFDF8",
    quiet_fill="#EADFCB",
    quiet_ink="#1F2A44",
    line="#CFC3AE",
    edge="#85765C",
    hatch="#85765C",
)

SUN = Colours(
    ground="#FFFFFF",
    card="#FFFFFF",
    band="#FFFFFF",
    ink="#000000",
    muted="#000000",
    clay="#000000",
    act_fill="#FFE600",
    act_ink="#000000",
    green="#000000",
    ochre="#000000",
    madder="#000000",
    teal="#000000",
    water="#FFFFFF",
    caution_fill="#FFE600",
    refusal_fill="#FFE600",
    late_fill="#FFE600",
    count_fill="#FFE600",
    quiet_fill="#000000",
    quiet_ink="#FFFFFF",
    line="#000000",
    edge="#000000",
    hatch="#000000",
)

PALETTES: dict[str, Colours] = {"shade": SHADE, "sun": SUN}

CHART = ("#0072B2", "#D55E00", "#009E73", "#E69F00", "#56B4E9", "#CC79A7", "#F0E442")
"""Okabe and Ito's set for charts; beside each colour a hatch or a shape, for some pairs are one grey on paper."""

TEXT_PAIRS: tuple[tuple[str, str], ...] = (
    *(("ink", ground) for ground in ("ground", "card", "band", "water", "caution_fill", "refusal_fill", "count_fill")),
    *(("muted", ground) for ground in ("ground", "card", "band")),
    *((word, ground) for word in ("clay", "green", "ochre", "madder", "teal") for ground in ("ground", "card")),
    ("madder", "late_fill"),
    ("madder", "refusal_fill"),
    ("ochre", "caution_fill"),
    ("act_ink", "act_fill"),
    ("quiet_ink", "quiet_fill"),
    ("card", "ink"),
)
"""(ink, ground) of every text the window draws; the contrast test walks it."""

MARK_PAIRS: tuple[tuple[str, str], ...] = (
    ("edge", "ground"),
    ("edge", "card"),
    ("clay", "ground"),
    ("clay", "card"),
    ("ink", "ground"),
    ("ink", "card"),
    ("madder", "card"),
    ("ochre", "caution_fill"),
    ("madder", "refusal_fill"),
    ("teal", "water"),
    ("green", "card"),
)
"""(mark, neighbour) of every border, dot and edge that carries meaning."""


def _luminance(colour: str) -> float:
    channels = (int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5))
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two ``#RRGGBB`` colours, 1 to 21 (WCAG 2.2, definition of contrast ratio)."""
    dark, light = sorted((_luminance(one), _luminance(other)))
    return (light + 0.05) / (dark + 0.05)
