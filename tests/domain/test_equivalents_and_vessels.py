"""Equivalents, vessels, joins, rims, weights: the rules and what is refused."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from findsdesk.domain.figures import GROUNDS_IN_WORDS, UNIT_IN_WORDS, Figure, Grounds, Unit
from findsdesk.domain.joins import connected_parts
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.rims import RIM_DIAMETER, rim_from_chord, share_from_arc, share_from_chord
from findsdesk.domain.sherd_weight import mean_sherd_weight
from findsdesk.domain.vessel_equivalents import (
    base_eve,
    brokenness,
    check_share,
    completeness,
    rim_eve,
    vessel_doubt,
)
from findsdesk.domain.vessels import Element, Sherds, Vessels, vessels


def refused(call: Callable[[], object]) -> Refusal:
    with pytest.raises(Refusal) as caught:
        call()
    return caught.value


# --- figures ------------------------------------------------------------------------------------------------------


def test_a_figure_says_unit_formula_source_and_what_that_rests_on() -> None:
    figure = rim_from_chord(600, 50).diameter
    assert isinstance(figure, Figure)
    assert figure.unit is Unit.MILLIMETRES
    assert "chord" in figure.formula
    assert "Utah Pottery Project" in figure.source
    assert figure.grounds is Grounds.PUBLISHED
    assert figure.method is RIM_DIAMETER


def test_every_unit_and_ground_has_words() -> None:
    assert UNIT_IN_WORDS.keys() == set(Unit)
    assert GROUNDS_IN_WORDS.keys() == set(Grounds)


# --- equivalents --------------------------------------------------------------------------------------------------

PERMILLES = st.lists(st.integers(0, 1000), max_size=30)


@given(PERMILLES, PERMILLES)
def test_eve_of_two_groups_is_the_sum_of_theirs(one: list[int], other: list[int]) -> None:
    for eve in (rim_eve, base_eve):
        assert eve(one + other).value == Fraction(eve(one).value) + Fraction(eve(other).value)


@given(PERMILLES)
def test_eve_never_passes_the_pieces(permilles: list[int]) -> None:
    assert 0 <= rim_eve(permilles).value <= len(permilles)


@pytest.mark.parametrize("permille", [-1, 1001])
def test_a_share_outside_the_circle_is_refused(permille: int) -> None:
    assert refused(lambda: check_share(permille)).code == "share_range"


def test_a_group_may_hold_as_many_circles_as_pieces() -> None:
    check_share(0)
    check_share(1000)
    check_share(2400, pieces=3)
    assert "between 0 and 300 %" in refused(lambda: check_share(3001, pieces=3)).in_words()


def test_a_vessel_of_more_than_one_rim_is_asked_about() -> None:
    assert vessel_doubt([600, 400]) is None
    doubt = vessel_doubt([600, 455])
    assert doubt is not None
    assert "105.5 %" in doubt.in_words()


def test_zero_totals_are_refused_by_name() -> None:
    assert refused(lambda: mean_sherd_weight(0, 0)).code == "no_sherds"
    assert refused(lambda: brokenness(12, rim_eve([]))).code == "no_equivalents"
    assert refused(lambda: completeness(rim_eve([50]), 0)).code == "no_vessels"


# --- joins and vessels --------------------------------------------------------------------------------------------


def test_joins_hang_together_over_several_sherds() -> None:
    parts = connected_parts("abcdef", [("a", "b"), ("c", "b"), ("e", "f"), ("f", "e"), ("d", "d")])
    assert parts == (frozenset("abc"), frozenset("d"), frozenset("ef"))


def test_a_sherd_that_only_a_join_names_belongs_too() -> None:
    assert connected_parts(["a"], [("a", "z")]) == (frozenset("az"),)


def numbers(found: Vessels) -> tuple[int, int, int]:
    return (int(found.by_rims.value), int(found.fewest.value), int(found.most.value))


def test_body_sherds_alone_are_one_vessel_at_least() -> None:
    assert numbers(vessels([Sherds("body", 7)])) == (0, 1, 7)


def test_no_sherds_are_no_vessels() -> None:
    assert numbers(vessels([])) == (0, 0, 0)


def test_a_rim_joined_to_a_base_is_one_vessel_in_every_way() -> None:
    sherds = [Sherds("r", 1, frozenset({Element.RIM})), Sherds("b", 1, frozenset({Element.BASE})), Sherds("w")]
    assert numbers(vessels(sherds, [("r", "w"), ("w", "b")])) == (1, 1, 1)


def test_many_bases_raise_the_fewest() -> None:
    sherds = [Sherds("rims", 2, frozenset({Element.RIM})), Sherds("bases", 5, frozenset({Element.BASE}))]
    assert numbers(vessels(sherds)) == (2, 5, 7)


def test_a_join_needs_sherds_recorded_one_by_one() -> None:
    sherds = [Sherds("rims", 2, frozenset({Element.RIM})), Sherds("a")]
    refusal = refused(lambda: vessels(sherds, [("rims", "a")]))
    assert refusal.code == "join_in_group"
    assert "rims is 2 sherds" in refusal.in_words()
    assert refused(lambda: vessels(sherds, [("a", "gone")])).facts == {"key": "gone"}


@st.composite
def sherds_and_joins(draw: st.DrawFn) -> tuple[list[Sherds], list[tuple[str, str]]]:
    elements = st.frozensets(st.sampled_from(list(Element)))
    single = [Sherds(f"s{n}", 1, draw(elements)) for n in range(draw(st.integers(0, 8)))]
    together = [Sherds(f"g{n}", draw(st.integers(0, 6)), draw(elements)) for n in range(draw(st.integers(0, 3)))]
    together = [one for one in together if one.pieces != 1]
    keys = [one.key for one in single]
    joins = draw(st.lists(st.tuples(st.sampled_from(keys), st.sampled_from(keys)), max_size=10)) if keys else []
    return single + together, joins


@given(sherds_and_joins())
def test_fewest_is_never_above_most_nor_most_above_the_sherds(
    drawn: tuple[list[Sherds], list[tuple[str, str]]],
) -> None:
    sherds, joins = drawn
    by_rims, fewest, most = numbers(vessels(sherds, joins))
    pieces = sum(one.pieces for one in sherds)
    assert by_rims <= fewest <= most <= pieces
    assert (fewest > 0) == (pieces > 0)


@given(sherds_and_joins())
def test_a_join_more_never_makes_more_vessels(drawn: tuple[list[Sherds], list[tuple[str, str]]]) -> None:
    sherds, joins = drawn
    before, after = numbers(vessels(sherds, joins[:-1])), numbers(vessels(sherds, joins))
    assert all(one >= other for one, other in zip(before, after, strict=True))


# --- rims ---------------------------------------------------------------------------------------------------------


def test_half_a_circle_has_the_chord_as_diameter() -> None:
    rim = rim_from_chord(1000, 500)
    assert rim.diameter.value == 100
    assert float(rim.share) == pytest.approx(50)
    assert not rim.more_than_half


def test_more_than_half_a_circle_is_told() -> None:
    """A circle of 100 mm cut off 20 mm below its top has a chord of 80 mm; the rest is 80 mm high."""
    rim, rest = rim_from_chord(800, 200), rim_from_chord(800, 800)
    assert rim.diameter.value == rest.diameter.value == 100
    assert float(rim.share) + float(rest.share) == pytest.approx(100)
    assert rest.more_than_half


def test_no_diameter_is_offered_below_a_twentieth_of_the_rim() -> None:
    """A chord of 30 mm on a rim of 200 mm is 4.8 % of it."""
    rim = rim_from_chord(300, 11)
    assert float(rim.share) < 5
    assert not rim.offered


@given(st.integers(1, 5000), st.integers(1, 5000))
def test_a_rim_is_never_narrower_than_its_chord(chord: int, height: int) -> None:
    rim = rim_from_chord(chord, height)
    assert rim.diameter.value >= Fraction(chord, 10)
    assert 0 < float(rim.share) < 100


def test_lengths_that_give_no_rim_are_refused() -> None:
    assert refused(lambda: rim_from_chord(0, 5)).code == "chord_zero"
    assert refused(lambda: rim_from_chord(600, 0)).code == "height_zero"
    assert refused(lambda: share_from_chord(500, 0)).code == "chord_zero"
    refusal = refused(lambda: share_from_chord(500, 615))
    assert refusal.code == "diameter_below_chord"
    assert "50 mm is shorter than the chord of 61.5 mm" in refusal.in_words()
    assert refused(lambda: share_from_arc(0, 100)).code == "diameter_zero"
    assert refused(lambda: share_from_arc(1000, 3142)).code == "arc_range"
    assert refused(lambda: share_from_arc(1000, -1)).code == "arc_range"


@given(st.integers(1, 4000), st.integers(1, 1999))
def test_chord_and_height_agree_with_chord_and_diameter(chord: int, permille_of_half: int) -> None:
    """The share from chord and height is that from chord and the diameter found, up to rounding to tenths."""
    height = max(1, chord * permille_of_half // 4000)
    rim = rim_from_chord(chord, height)
    diameter = max(chord, round(10 * float(rim.diameter)))
    if diameter > 1.05 * chord and diameter > 1000:
        assert float(share_from_chord(diameter, chord)) == pytest.approx(float(rim.share), rel=0.02)


def test_a_quarter_along_the_rim_is_a_quarter() -> None:
    assert float(share_from_arc(1000, 785)) == pytest.approx(25, abs=0.02)
