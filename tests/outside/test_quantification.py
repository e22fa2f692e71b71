"""Counts, weights, equivalents, rims, density and diversity against values from outside.

PUBLISHED: the number stands in the source. DERIVED: the inputs are published, the result was computed apart from this
program. OWN: both are ours, a check of the arithmetic only. The marks stand beside each value.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from findsdesk.domain.diversity import diversity
from findsdesk.domain.finds_density import bucket_volume, finds_density, layer_volume
from findsdesk.domain.rims import rim_from_chord
from findsdesk.domain.sample_sizes import enough_of, finite_sample, share_sample, short_sample
from findsdesk.domain.sherd_weight import mean_sherd_weight
from findsdesk.domain.vessel_equivalents import brokenness, completeness, rim_eve
from findsdesk.domain.vessels import Element, Sherds, vessels

# --- mean sherd weight --------------------------------------------------------------------------------------------


def test_mean_weight_of_five_rims() -> None:
    """DERIVED, Internet Archaeology 27/2, app. 1.7: 5 rims, 50.5 g."""
    assert mean_sherd_weight(5, 505).value == Fraction("10.1")


def test_mean_weight_of_a_published_vessel() -> None:
    """DERIVED, same source: 28 sherds of 171.75 g are 6.13393 g each; weights are kept in tenths, so twenty of them."""
    assert float(mean_sherd_weight(20 * 28, 20 * 1717 + 10)) == pytest.approx(6.13393, abs=5e-6)


# --- rim EVE ------------------------------------------------------------------------------------------------------


def test_five_small_rims_come_to_less_than_a_quarter() -> None:
    """PUBLISHED inputs (Internet Archaeology 27/2: 5 rims, each below 5 %), bound DERIVED: EVE < 0.25."""
    assert rim_eve([49] * 5).value < Fraction(1, 4)


def test_eve_is_the_sum_of_percents() -> None:
    """OWN: 12, 8, 25 and 5 % are half a rim."""
    assert rim_eve([120, 80, 250, 50]).value == Fraction(1, 2)


def test_brokenness_and_completeness() -> None:
    """OWN (formulas from memory, Orton 1985): 132 sherds, EVE 1.65, 11 vessels."""
    eve = rim_eve([1650])
    assert brokenness(132, eve).value == 80
    assert completeness(eve, 11).value == Fraction(15, 100)


# --- vessels ------------------------------------------------------------------------------------------------------


def test_vessels_by_each_convention() -> None:
    """OWN (habits after Orton, Tyers and Vince 1993, p. 172): 10 sherds, rims A–B joined, rim C, 2 bases, 5 body."""
    rim, base = frozenset({Element.RIM}), frozenset({Element.BASE})
    sherds = [Sherds(key, 1, rim) for key in "ABC"] + [Sherds("bases", 2, base), Sherds("body", 5)]
    found = vessels(sherds, [("A", "B")])
    assert (found.by_rims.value, found.fewest.value, found.most.value) == (2, 2, 9)


# --- rim diameter from chord and height ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("chord", "height", "radius", "diameter", "share", "slope"),
    [
        # Inputs and formula PUBLISHED (Utah Pottery Project blog, 22 May 2009: a kiln wall, 1.80 m and 0.23 m),
        # values DERIVED; here in millimetres.
        (18000, 2300, 1875.870, 3751.739, 15.92826, -7.155955),
        # OWN, mm.
        (600, 40, 114.50, 229.0, 8.44, -27.6),
        (600, 50, 92.50, 185.0, 10.51, -17.5),
        (400, 20, 101.00, 202.0, 6.35, -49.5),
        (400, 25, 81.25, 162.5, 7.92, -31.5),
        # OWN: the invented excavation's rim of 62 mm and 5.5 mm, 180 mm ± 15, 11 %.
        (620, 55, 90.11, 180.23, 11.18, -15.384),
    ],
)
def test_rim_from_chord_and_height(
    chord: int, height: int, radius: float, diameter: float, share: float, slope: float
) -> None:
    """A misread half millimetre moves the radius by half the slope, the diameter by the whole of it."""
    rim = rim_from_chord(chord, height)
    assert float(rim.diameter) == pytest.approx(diameter, abs=0.006)
    assert float(rim.diameter) / 2 == pytest.approx(radius, abs=0.006)
    assert float(rim.share) == pytest.approx(share, abs=0.006)
    assert float(rim.uncertainty) == pytest.approx(abs(slope), abs=0.06)
    assert rim.offered


def test_the_kiln_wall_to_all_its_digits() -> None:
    """DERIVED (Utah Pottery Project): D 3.751739 m, share 15.92826 %, dr/ds −7.155955."""
    rim = rim_from_chord(18000, 2300)
    assert float(rim.diameter) == pytest.approx(3751.739, abs=5e-4)
    assert float(rim.share) == pytest.approx(15.92826, abs=5e-6)
    assert float(rim.uncertainty) == pytest.approx(7.155955, abs=5e-7)


# --- density ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("pieces", "thickness_mm", "a_cubic_metre"),
    # PUBLISHED, talkstats.com thread 664: squares of 1 × 1 m.
    [(22, 200, 110), (64, 400, 160)],
)
def test_finds_density(pieces: int, thickness_mm: int, a_cubic_metre: int) -> None:
    """The density in litres is DERIVED: a thousandth."""
    density = finds_density(pieces, layer_volume(1000, 1000, thickness_mm))
    assert density.a_cubic_metre.value == a_cubic_metre
    assert density.a_litre.value == Fraction(a_cubic_metre, 1000)


def test_a_coarse_sieve_sample_is_four_buckets() -> None:
    """PUBLISHED, archaeologyskills.co.uk 804: 40 l = 4 buckets of 10 l."""
    assert bucket_volume(4, 100).value == 40


# --- sample sizes -------------------------------------------------------------------------------------------------


def test_a_share_out_of_boundlessly_many() -> None:
    """PUBLISHED, z 1.96 and 5 %: 384.16, rounded up 385 (cut 384; sources print both). A huge number comes near it."""
    assert share_sample().value == Fraction("384.16")
    assert enough_of(10**9).cochran == 385


@pytest.mark.parametrize(
    ("boundless", "sherds", "less_one", "digits", "printed"),
    [
        # PUBLISHED, a public notebook after Cochran 1977 (gist 7137166): 222 of 528; digits DERIVED.
        (384, 528, False, 222.316, 222),
        # PUBLISHED, scribd document 503667341: 278 of 1,000; digits DERIVED.
        (385, 1000, True, 278.179, 278),
        # PUBLISHED, imathworks: 323 of 2,000, rounded up; digits DERIVED.
        (Fraction("384.16"), 2000, False, 322.260, 323),
    ],
)
def test_a_share_out_of_so_many(
    boundless: int | Fraction, sherds: int, less_one: bool, digits: float, printed: int
) -> None:
    """Two of the sources print the whole number below, one that above; the program says the one above."""
    found = float(finite_sample(boundless, sherds, less_one=less_one))
    assert found == pytest.approx(digits, abs=5e-4)
    assert printed in (int(found), int(found) + 1)


def test_a_share_by_the_short_formula() -> None:
    """PUBLISHED, imathworks (Yamane): 88.88 of 800 at 10 %, so 89; and 323 of 2,000 at 5 % by Cochran."""
    assert float(short_sample(800, Fraction(1, 10))) == pytest.approx(88.88, abs=0.01)
    assert enough_of(800, Fraction(1, 10)).yamane == 89
    assert enough_of(2000).cochran == 323


# --- diversity ----------------------------------------------------------------------------------------------------


def test_diversity_of_the_dunes() -> None:
    """Counts, N 15 and Σn(n−1) 64 PUBLISHED (geographyfieldwork.com, Muntanyans dunes), the indices DERIVED."""
    found = diversity([2, 8, 1, 1, 3])
    assert found.pieces == 15
    assert found.simpson_index.value == Fraction(64, 15 * 14)
    assert float(found.simpson_index) == pytest.approx(0.3047619, abs=5e-8)
    assert float(found.simpson_diversity) == pytest.approx(0.6952381, abs=5e-8)
    assert 1 / float(found.simpson_index) == pytest.approx(3.28125, abs=5e-6)
    assert 1 - float(found.large_sample_diversity) == pytest.approx(0.3511111, abs=5e-8)
    assert float(found.shannon) == pytest.approx(1.2868726, abs=5e-8)
    assert found.evenness is not None
    assert float(found.evenness) == pytest.approx(0.7995789, abs=5e-8)


def test_diversity_of_four_types() -> None:
    """Counts PUBLISHED (askfilo.com), indices DERIVED."""
    found = diversity([10, 20, 30, 40])
    assert 1 - Fraction(found.large_sample_diversity.value) == Fraction(3, 10)
    assert float(found.shannon) == pytest.approx(1.2798542, abs=5e-8)
    assert found.evenness is not None
    assert float(found.evenness) == pytest.approx(0.9232197, abs=5e-8)
