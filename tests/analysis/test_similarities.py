"""The matrix of many assemblages is the pair-wise coefficient of the domain, whose values are checked in outside/."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from findsdesk.analysis.similarities import similarity_matrix
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.similarity import brainerd_robinson

COUNTS = st.lists(st.lists(st.integers(0, 500), min_size=4, max_size=4).filter(any), min_size=1, max_size=6)


@given(COUNTS)
def test_each_with_each_as_two_by_two(counts: list[list[int]]) -> None:
    names = [str(n) for n in range(len(counts))]
    matrix = similarity_matrix(counts, names)
    for one, row in enumerate(counts):
        for other, column in enumerate(counts):
            pair = brainerd_robinson(*(dict(zip("abcd", some, strict=True)) for some in (row, column)))
            assert matrix[one, other] == pytest.approx(float(pair), abs=1e-9)


def test_an_empty_assemblage_is_named() -> None:
    with pytest.raises(Refusal) as refused:
        similarity_matrix([[1, 2], [0, 0]], ["2017", "2019"])
    assert refused.value.in_words().startswith("There is nothing in 2019 to compare")
