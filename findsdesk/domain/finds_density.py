"""How many finds a volume of soil held."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from findsdesk.domain.figures import Figure, Grounds, Method, Unit
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

CUBIC_MILLIMETRES_A_LITRE = 1_000_000
LITRES_A_CUBIC_METRE = 1000

LITRES_WRITTEN = Method(Unit.LITRES, N_("litres as they were written"), "", Grounds.COMMON_PRACTICE)
LAYER_VOLUME = Method(Unit.LITRES, N_("length × width × thickness"), "geometry", Grounds.DERIVED)
BUCKET_VOLUME = Method(
    Unit.LITRES, N_("buckets × litres of a bucket × how full they were"), "", Grounds.COMMON_PRACTICE
)
DENSITY_A_LITRE = Method(Unit.A_LITRE, N_("pieces ÷ litres of soil"), "talkstats.com, thread 664", Grounds.PUBLISHED)
DENSITY_A_CUBIC_METRE = Method(
    Unit.A_CUBIC_METRE, N_("pieces ÷ cubic metres of soil"), "talkstats.com, thread 664", Grounds.PUBLISHED
)


_LITRES = r"(\d{1,6}(?:\.\d)?)"
_METRES = r"(\d{1,4}(?:\.\d{1,3})?)"
_WAYS = {
    "litres": re.compile(rf"{_LITRES} ?l?"),
    "buckets": re.compile(rf"(\d{{1,5}}) ?x ?{_LITRES} ?l?"),
    "layer": re.compile(rf"{_METRES} ?x ?{_METRES} ?x ?{_METRES} ?m?"),
}


@dataclass(frozen=True, slots=True)
class Density:
    """The same density in both units."""

    a_litre: Figure
    a_cubic_metre: Figure


def layer_volume(length_mm: int, width_mm: int, thickness_mm: int) -> Figure:
    """Return the litres of a layer as it is dug, in place."""
    return LAYER_VOLUME.gives(Fraction(length_mm * width_mm * thickness_mm, CUBIC_MILLIMETRES_A_LITRE))


def bucket_volume(buckets: int, tenths_of_litre: int, filling_permille: int = 1000) -> Figure:
    """Return the litres of loose soil in buckets of one size, in tenths of a litre, filled to a share in per mille."""
    return BUCKET_VOLUME.gives(Fraction(buckets * tenths_of_litre * filling_permille, 10 * 1000))


def soil_said(text: str) -> str:
    """Return soil that was dug as it is kept: 480 l, 40 × 12 l (buckets), 2 × 1.5 × 0.3 m (a layer in place).

    Nothing stays nothing. Refusals: ``no_soil`` (none of these), ``no_volume`` (of nothing).
    """
    if not text.strip():
        return ""
    way, numbers = _read(text)
    if not all(Fraction(one) > 0 for one in numbers):
        raise _no_volume()
    return f"{' × '.join(numbers)} {'m' if way == 'layer' else 'l'}"


def soil_volume(text: str) -> Figure:
    """Return the litres of soil as it was written: litres, buckets of one size, or a layer. Refusal: ``no_soil``."""
    way, numbers = _read(text)
    if way == "layer":
        length, width, thickness = (int(Fraction(one) * 1000) for one in numbers)
        return layer_volume(length, width, thickness)
    if way == "buckets":
        buckets, litres = numbers
        return bucket_volume(int(buckets), int(Fraction(litres) * 10))
    return LITRES_WRITTEN.gives(Fraction(numbers[0]))


def _read(text: str) -> tuple[str, tuple[str, ...]]:
    plain = " ".join(text.lower().replace(",", ".").replace("×", "x").replace("*", "x").split())
    for way, form in _WAYS.items():
        found = form.fullmatch(plain)
        if found is not None:
            return way, found.groups()
    raise Refusal(
        "no_soil",
        N_("“{text}” is no volume of soil. Write litres (480), buckets of litres (40 x 12) or metres (2 x 1 x 0.3)."),
        text=text[:40],
    )


def _no_volume() -> Refusal:
    return Refusal("no_volume", N_("Without a volume of soil there is no density. Enter the litres first."))


def finds_density(pieces: int, volume: Figure) -> Density:
    """Return the pieces in a litre and in a cubic metre of soil; the volume is a figure in litres.

    Loose soil takes more room than soil in place: compare densities only within one way of measuring. Refusals:
    ``no_volume``. Values: docs/sources.md, "Density of finds".
    """
    litres = Fraction(volume.value)
    if litres <= 0:
        raise _no_volume()
    density = pieces / litres
    return Density(DENSITY_A_LITRE.gives(density), DENSITY_A_CUBIC_METRE.gives(density * LITRES_A_CUBIC_METRE))
