"""Similarity, diversity and density of finds: the rules and what is refused."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from findsdesk.domain.diversity import diversity
from findsdesk.domain.finds_density import bucket_volume, finds_density, layer_volume, soil_said, soil_volume
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.sample_sizes import enough_of, finite_sample, share_sample, short_sample
from findsdesk.domain.similarity import brainerd_robinson

COUNTS = st.dictionaries(st.sampled_from("abcdef"), st.integers(0, 50), min_size=1)


def refused(call: Callable[[], object]) -> Refusal:
    with pytest.raises(Refusal) as caught:
        call()
    return caught.value


def smaller_shares(one: dict[str, int], other: dict[str, int]) -> Fraction:
    """Return the Renkonen index: the sum of the smaller of the two shares of each type."""
    total, total_other = sum(one.values()), sum(other.values())
    return sum(
        (min(Fraction(one.get(k, 0), total), Fraction(other.get(k, 0), total_other)) for k in one | other), Fraction(0)
    )


@given(COUNTS, COUNTS)
def test_similarity_is_twice_the_renkonen_index(one: dict[str, int], other: dict[str, int]) -> None:
    """PUBLISHED definition (encyclopaedia article "Renkonen similarity index"), in percent; the identity is DERIVED."""
    assume(sum(one.values()) and sum(other.values()))
    found = brainerd_robinson(one, other)
    assert found.value == 200 * smaller_shares(one, other)
    assert found.value == brainerd_robinson(other, one).value
    assert 0 <= found.value <= 200


@given(COUNTS, st.integers(1, 9))
def test_the_same_shares_are_the_same_assemblage(counts: dict[str, int], times: int) -> None:
    assume(sum(counts.values()))
    assert brainerd_robinson(counts, {kind: times * count for kind, count in counts.items()}).value == 200


def test_nothing_shared_is_nothing() -> None:
    assert brainerd_robinson({"a": 3}, {"b": 5}).value == 0


def test_an_empty_assemblage_is_refused_by_its_name() -> None:
    refusal = refused(lambda: brainerd_robinson({"a": 3}, {"a": 0}, names=("deposit 2017", "deposit 2019")))
    assert refusal.code == "assemblage_empty"
    assert "deposit 2019" in refusal.in_words()


def test_one_type_has_no_evenness() -> None:
    found = diversity([7, 0])
    assert (found.types, found.evenness) == (1, None)
    assert (found.simpson_diversity.value, float(found.shannon)) == (0, 0)


def test_even_types_have_an_evenness_of_one() -> None:
    found = diversity([5, 5, 5])
    assert found.evenness is not None
    assert float(found.evenness) == pytest.approx(1)


@pytest.mark.parametrize("counts", [[], [1], [0, 0]])
def test_diversity_needs_two_pieces(counts: list[int]) -> None:
    assert refused(lambda: diversity(counts)).code == "too_few_pieces"


def test_without_soil_there_is_no_density() -> None:
    assert refused(lambda: finds_density(3, bucket_volume(0, 100))).code == "no_volume"


@pytest.mark.parametrize(
    ("text", "said", "litres"),
    [
        (" 480 ", "480 l", 480),
        ("12,5 L", "12.5 l", Fraction("12.5")),
        ("40x12", "40 × 12 l", 480),
        ("40 × 12.5 l", "40 × 12.5 l", 500),
        ("2 * 1.5 x 0,3 m", "2 × 1.5 × 0.3 m", 900),
    ],
)
def test_soil_is_written_in_one_of_three_ways_and_read_again(text: str, said: str, litres: Fraction) -> None:
    """All values OWN."""
    assert soil_said(text) == said == soil_said(said)
    assert soil_volume(said).value == litres
    assert soil_said("  ") == ""


@pytest.mark.parametrize(
    ("text", "code"),
    [
        *((text, "no_soil") for text in ("much", "1 x 2 x 3 x 4", "-4", "1.25 x 10", "480 kg")),
        ("0", "no_volume"),
        ("4 x 0", "no_volume"),
    ],
)
def test_what_is_no_soil_is_refused(text: str, code: str) -> None:
    assert refused(lambda: soil_said(text)).code == code


def test_half_full_buckets_hold_half() -> None:
    assert bucket_volume(3, 125, filling_permille=500).value == Fraction("18.75")
    assert layer_volume(2000, 500, 50).value == 50


@pytest.mark.parametrize("margin", [Fraction(0), Fraction(1), Fraction(-1, 20)])
def test_a_sample_needs_sherds_and_a_margin(margin: Fraction) -> None:
    for call in (lambda: share_sample(margin), lambda: short_sample(100, margin), lambda: enough_of(100, margin)):
        assert refused(call).code == "margin_range"
    assert refused(lambda: finite_sample(385, 0)).code == "no_sherds"


@given(st.integers(1, 10**6), st.integers(1, 99))
def test_a_sample_is_never_more_than_all_and_grows_with_them(sherds: int, percent: int) -> None:
    one, more = enough_of(sherds, Fraction(percent, 100)), enough_of(sherds + 1, Fraction(percent, 100))
    assert 1 <= one.cochran <= sherds
    assert 1 <= one.yamane <= sherds
    assert one.cochran <= more.cochran
