"""How many finds a volume of soil held."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from findsdesk.domain.figures import Figure, Grounds, Method, Unit
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

CUBIC_MILLIMETRES_A_LITRE = 1_000_000
LITRES_A_CUBIC_METRE = 1000

LAYER_VOLUME = Method(Unit.LITRES, N_("length × width × thickness"), "geometry", Grounds.DERIVED)
BUCKET_VOLUME = Method(
    Unit.LITRES, N_("buckets × litres of a bucket × how full they were"), "", Grounds.COMMON_PRACTICE
)
DENSITY_A_LITRE = Method(Unit.A_LITRE, N_("pieces ÷ litres of soil"), "talkstats.com, thread 664", Grounds.PUBLISHED)
DENSITY_A_CUBIC_METRE = Method(
    Unit.A_CUBIC_METRE, N_("pieces ÷ cubic metres of soil"), "talkstats.com, thread 664", Grounds.PUBLISHED
)


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


def finds_density(pieces: int, volume: Figure) -> Density:
    """Return the pieces in a litre and in a cubic metre of soil; the volume is a figure in litres.

    Loose soil takes more room than soil in place: compare densities only within one way of measuring. Refusals:
    ``no_volume``. Values: docs/sources.md, "Density of finds".
    """
    litres = Fraction(volume.value)
    if litres <= 0:
        raise Refusal("no_volume", N_("Without a volume of soil there is no density. Enter the litres first."))
    density = pieces / litres
    return Density(DENSITY_A_LITRE.gives(density), DENSITY_A_CUBIC_METRE.gives(density * LITRES_A_CUBIC_METRE))
