"""Tables of counts, correspondence analysis and association: the rules and what is refused."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from findsdesk.analysis.association import association
from findsdesk.analysis.correspondence import correspondence
from findsdesk.domain.refusals import Refusal

ROWS, COLUMNS = ("2017", "2019", "2020", "2021"), ("QRS", "CSJ", "TGY")
COUNTS = [[10, 3, 0], [0, 0, 0], [4, 8, 1], [0, 2, 9]]
TABLES = st.lists(st.lists(st.integers(1, 40), min_size=3, max_size=3), min_size=2, max_size=6)


def refused(call: Callable[[], object]) -> Refusal:
    with pytest.raises(Refusal) as caught:
        call()
    return caught.value


def names(number: int) -> list[str]:
    return [str(n) for n in range(number)]


@pytest.mark.parametrize("analysis", [correspondence, association])
@pytest.mark.parametrize(
    ("counts", "code"),
    [
        ([[1, 2, 3]] * 3, "table_shape"),
        ([[1, 2], [1, 2], [1, 2], [1, 2]], "table_shape"),
        ([[1, 2, 3], [1, -2, 3], [1, 2, 3], [1, 2, 3]], "table_negative"),
        ([[0, 0, 0]] * 4, "table_too_small"),
        ([[1, 2, 3], [0, 0, 0], [0, 0, 0], [0, 0, 0]], "table_too_small"),
        ([[1, 0, 0], [2, 0, 0], [3, 0, 0], [4, 0, 0]], "table_too_small"),
    ],
)
def test_tables_that_cannot_be_analysed_are_refused(
    analysis: Callable[..., object], counts: list[list[int]], code: str
) -> None:
    assert refused(lambda: analysis(counts, ROWS, COLUMNS)).code == code


def test_an_empty_row_is_named_and_changes_nothing() -> None:
    with_it, without = (
        correspondence(COUNTS, ROWS, COLUMNS),
        correspondence([COUNTS[0], *COUNTS[2:]], [ROWS[0], *ROWS[2:]], COLUMNS),
    )
    assert with_it.empty_rows == ("2019",)
    assert with_it.rows == without.rows
    assert association(COUNTS, ROWS, COLUMNS).empty_rows == ("2019",)


def test_the_negative_row_is_named() -> None:
    assert "2019" in refused(lambda: correspondence([[1, 2, 3], [-1, 2, 3]], ROWS[:2], COLUMNS)).in_words()


def test_the_order_is_found_in_a_shuffled_table() -> None:
    """Types that come and go one after the other; the rows are given out of order."""
    comes_and_goes = {"d": [0, 1, 6, 9], "a": [9, 6, 0, 0], "c": [1, 5, 8, 1], "b": [5, 8, 2, 0]}
    order = correspondence(list(comes_and_goes.values()), list(comes_and_goes), names(4)).seriation()
    assert order in (("a", "b", "c", "d"), ("d", "c", "b", "a"))


def test_rows_all_alike_have_no_axis() -> None:
    found = correspondence([[2, 4, 6], [1, 2, 3]], ["x", "y"], COLUMNS)
    assert found.inertias == ()
    assert float(found.total_inertia) == pytest.approx(0, abs=1e-15)
    assert found.percents == ()
    assert found.seriation() == ("x", "y")


@given(TABLES)
def test_the_axes_hold_the_whole_inertia_and_chi_square(table: list[list[int]]) -> None:
    found = correspondence(table, names(len(table)), COLUMNS)
    total = float(found.total_inertia)
    chi_square = float(association(table, names(len(table)), COLUMNS).chi_square)
    assert sum(map(float, found.inertias)) == pytest.approx(total, abs=1e-11)
    assert total * sum(map(sum, table)) == pytest.approx(chi_square, rel=1e-9, abs=1e-9)
    assert sum(row.inertia for row in found.rows) == pytest.approx(total, abs=1e-12)
    for axis in range(len(found.inertias)):
        assert sum(row.mass * row.standard[axis] ** 2 for row in found.rows) == pytest.approx(1, abs=1e-6)
        furthest = max((column.standard[axis] for column in found.columns), key=abs)
        assert furthest > 0


@given(TABLES)
def test_distances_between_rows_are_those_between_their_profiles(table: list[list[int]]) -> None:
    """The principal coordinates of all axes give the chi-square distances back."""
    found = correspondence(table, names(len(table)), COLUMNS)
    counts = np.array(table, dtype=float)
    shares, average = counts / counts.sum(axis=1)[:, None], counts.sum(axis=0) / counts.sum()
    expected = np.sqrt(((shares[0] - shares[1]) ** 2 / average).sum())
    one, other = np.array(found.rows[0].principal), np.array(found.rows[1].principal)
    assert float(np.sqrt(((one - other) ** 2).sum())) == pytest.approx(float(expected), abs=1e-5)


def test_thin_tables_are_told() -> None:
    """From memory (Cochran): more than 20 % of the expected counts below 5, or one below 1."""
    assert not association([[10, 20], [30, 40]], "ab", "cd").thin
    few = association([[3, 4], [30, 40]], "ab", "cd")
    assert (few.small_expected_percent, few.thin) == (50, True)
    one = association([[1, 0, 0], [30, 60, 90], [30, 70, 80], [40, 60, 80], [30, 50, 90]], "abcde", "xyz")
    assert (round(one.small_expected_percent), one.thin, one.smallest_expected < 1) == (20, True, True)


def test_complete_association_is_one() -> None:
    assert float(association([[5, 0], [0, 9]], "ab", "cd").cramers_v) == pytest.approx(1)
