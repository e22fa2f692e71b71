"""Similarity, correspondence analysis and chi-square against values from outside.

PUBLISHED: the number stands in the source (smoking data: Greenacre 1984, p. 55, with the output of the statistics
package ca). DERIVED: table published (Nelson 1916, American Anthropologist 18(2), 159–180; Fisher 1940), values
computed apart from this program.
"""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from findsdesk.analysis.association import association, chance_of
from findsdesk.analysis.correspondence import Correspondence, correspondence
from findsdesk.domain.similarity import brainerd_robinson

# PUBLISHED, Greenacre 1984, p. 55.
SMOKERS = ("SM", "JM", "SE", "JE", "SC")
SMOKING = ("none", "light", "medium", "heavy")
SMOKE = [[4, 2, 3, 2], [4, 3, 7, 4], [25, 10, 12, 4], [18, 24, 33, 13], [10, 6, 7, 2]]

# PUBLISHED, Fisher 1940 (people of Caithness: eyes by hair).
CAITHNESS = [[326, 38, 241, 110, 3], [688, 116, 584, 188, 4], [343, 84, 909, 412, 26], [98, 48, 403, 681, 85]]

# PUBLISHED, Nelson 1916: Pueblo San Cristobal, sherds by level and ware.
WARES = ("corrugated", "biscuit", "type I", "II red", "II yellow", "II gray", "type III")
NELSON = [
    [57, 10, 2, 24, 23, 34, 5],
    [116, 17, 2, 64, 90, 76, 6],
    [27, 2, 10, 68, 18, 48, 3],
    [28, 4, 6, 52, 20, 21, 0],
    [60, 15, 2, 128, 55, 85, 0],
    [75, 21, 8, 192, 53, 52, 1],
    [53, 10, 40, 91, 20, 15, 0],
    [56, 2, 118, 45, 1, 5, 0],
    [93, 1, 107, 3, 0, 0, 0],
    [84, 1, 69, 0, 0, 0, 0],
]
LEVELS = tuple(str(level) for level in range(1, 11))


def without_corrugated(level: int) -> dict[str, int]:
    return dict(list(zip(WARES, NELSON[level - 1], strict=True))[1:])


def plain(table: list[list[int]]) -> Correspondence:
    return correspondence(table, [str(n) for n in range(len(table))], [str(n) for n in range(len(table[0]))])


def assert_up_to_sign(found: Sequence[float], printed: Sequence[float], within: float) -> None:
    sign = 1 if found[0] * printed[0] > 0 else -1
    assert [sign * one for one in found] == pytest.approx(printed, abs=within)


# --- Brainerd–Robinson --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("one", "other", "coefficient"),
    # DERIVED from the published table, 1 decimal.
    [(1, 2, 175.1), (1, 3, 148.4), (2, 5, 160.3), (3, 5, 177.7), (4, 5, 178.4), (4, 6, 177.9), (7, 8, 107.4),
     (8, 9, 145.2), (9, 10, 194.6), (1, 10, 6.9), (2, 10, 4.4)],
)  # fmt: skip
def test_similarity_of_levels(one: int, other: int, coefficient: float) -> None:
    found = brainerd_robinson(without_corrugated(one), without_corrugated(other))
    assert float(found) == pytest.approx(coefficient, abs=0.05)


def test_the_table_is_the_published_one() -> None:
    """PUBLISHED sums: 2,394 sherds, by ware and by level."""
    assert sum(map(sum, NELSON)) == 2394
    assert [sum(column) for column in zip(*NELSON, strict=True)] == [649, 83, 364, 667, 280, 336, 15]
    assert [sum(level) for level in NELSON] == [155, 371, 176, 131, 345, 402, 229, 227, 204, 154]
    assert sum(sum(level[1:]) for level in NELSON) == 1745
    assert (sum(map(sum, SMOKE)), sum(map(sum, CAITHNESS))) == (193, 5387)


# --- correspondence analysis: smoking data, all PUBLISHED ---------------------------------------------------------


def test_inertias_of_the_smoking_data() -> None:
    """PUBLISHED; the third inertia's last digits and the total DERIVED."""
    found = correspondence(SMOKE, SMOKERS, SMOKING)
    assert [float(one) for one in found.inertias[:2]] == pytest.approx([0.07475910589, 0.01001718051], abs=5e-12)
    assert float(found.inertias[2]) == pytest.approx(0.00041357, abs=5e-9)
    assert len(found.inertias) == 3
    assert found.percents == pytest.approx([87.76, 11.76, 0.49], abs=0.005)
    assert float(found.inertias[0]) + float(found.inertias[1]) == pytest.approx(0.0847762864, abs=5e-11)
    assert float(found.total_inertia) == pytest.approx(0.0851898605, abs=5e-11)


def test_rows_of_the_smoking_data() -> None:
    found = correspondence(SMOKE, SMOKERS, SMOKING).rows
    assert [row.name for row in found] == list(SMOKERS)
    assert [row.mass for row in found] == pytest.approx([0.056995, 0.093264, 0.264249, 0.455959, 0.129534], abs=5e-7)
    assert [row.distance for row in found] == pytest.approx(
        [0.216559, 0.356921, 0.380779, 0.240025, 0.216169], abs=5e-7
    )
    assert [row.inertia for row in found] == pytest.approx([0.002673, 0.011881, 0.038314, 0.026269, 0.006053], abs=5e-7)
    first = [-0.240539, 0.947105, -1.391973, 0.851989, -0.735456]
    second = [-1.935708, -2.430958, -0.106508, 0.576944, 0.788435]
    assert_up_to_sign([row.standard[0] for row in found], first, 5e-7)
    assert_up_to_sign([row.standard[1] for row in found], second, 5e-7)


def test_columns_of_the_smoking_data() -> None:
    found = correspondence(SMOKE, SMOKERS, SMOKING).columns
    assert [column.mass for column in found] == pytest.approx([0.316062, 0.233161, 0.321244, 0.129534], abs=5e-7)
    assert_up_to_sign([column.standard[0] for column in found], [-1.438471, 0.363746, 0.718017, 1.074445], 5e-7)
    assert_up_to_sign([column.standard[1] for column in found], [-0.304659, 1.409433, 0.073528, -1.975960], 5e-7)


def test_row_and_column_axes_have_the_same_sign() -> None:
    """PUBLISHED: smokers who smoke little lie on the side of "none" (both negative there)."""
    found = correspondence(SMOKE, SMOKERS, SMOKING)
    assert found.rows[2].standard[0] * found.columns[0].standard[0] > 0


# --- correspondence analysis: other tables ------------------------------------------------------------------------


def test_canonical_correlations_of_caithness() -> None:
    """DERIVED (agree with the MASS book, from memory)."""
    correlations = [float(one) ** 0.5 for one in plain(CAITHNESS).inertias]
    assert correlations == pytest.approx([0.4463684, 0.1734554, 0.0293169], abs=5e-8)


def test_nelson_without_corrugated() -> None:
    """DERIVED from the published table, N = 1745."""
    found = correspondence([level[1:] for level in NELSON], LEVELS, WARES[1:])
    printed = [0.657239, 0.085650, 0.017866, 0.010101, 0.002601]
    assert [float(one) for one in found.inertias] == pytest.approx(printed, abs=5e-7)
    assert float(found.total_inertia) == pytest.approx(0.773457, abs=5e-7)
    axis = [-0.6378, -0.6826, -0.4325, -0.4396, -0.6171, -0.5151, 0.1065, 1.4883, 2.2820, 2.3435]
    assert_up_to_sign([row.standard[0] for row in found.rows], axis, 5e-5)


def test_nelson_with_corrugated() -> None:
    """DERIVED from the published table, n = 2394."""
    found = correspondence(NELSON, LEVELS, WARES)
    printed = [0.435263, 0.085269, 0.019366, 0.008602, 0.005481, 0.001728]
    assert [float(one) for one in found.inertias] == pytest.approx(printed, abs=5e-7)
    assert float(found.total_inertia) == pytest.approx(0.555709, abs=5e-7)


def test_the_deep_levels_come_out_in_their_order() -> None:
    """PUBLISHED stratigraphy: levels 7 to 10 lie one below the other; 1 to 6 are mixed and lie together."""
    order = correspondence([level[1:] for level in NELSON], LEVELS, WARES[1:]).seriation()
    deep = [level for level in order if level in ("7", "8", "9", "10")]
    assert deep in (["7", "8", "9", "10"], ["10", "9", "8", "7"])
    assert set(order[:6]) == set("123456") or set(order[4:]) == set("123456")


# --- chi-square and Cramér's V ------------------------------------------------------------------------------------


def test_chi_square_of_the_smoking_data() -> None:
    """PUBLISHED 16.44, 12 degrees of freedom, p 0.17183; 16.441643 DERIVED."""
    found = association(SMOKE, SMOKERS, SMOKING)
    assert float(found.chi_square) == pytest.approx(16.441643, abs=5e-7)
    assert found.freedom == 12
    assert float(found.chance) == pytest.approx(0.17183, abs=5e-6)


def test_association_of_caithness() -> None:
    """PUBLISHED by the output of the statistics system R: χ² 1240.04 on 12 degrees, Cramér's V 0.2770."""
    found = association(CAITHNESS, "1234", "12345")
    assert float(found.chi_square) == pytest.approx(1240.04, abs=5e-3)
    assert float(found.cramers_v) == pytest.approx(0.2770, abs=5e-5)
    assert not found.thin


def test_phi_of_a_published_test() -> None:
    """PUBLISHED (Wansleeben, Internet Archaeology 4, 5.6): χ² 4.375, Phi 0.468; so n ≈ 20 (DERIVED), V = Phi there.

    The table itself is OWN: two columns, 20 pieces, and exactly that chi-square.
    """
    found = association([[0, 2], [2, 0], [6, 10]], "abc", "de")
    assert float(found.chi_square) == pytest.approx(4.375, abs=1e-12)
    assert float(found.cramers_v) == pytest.approx(0.468, abs=5e-4)
    assert 4.375 / float(found.cramers_v) ** 2 == pytest.approx(20, abs=1e-9)


TABLES = st.integers(2, 5).flatmap(
    lambda width: st.lists(st.lists(st.integers(1, 60), min_size=width, max_size=width), min_size=2, max_size=6)
)


@given(TABLES)
def test_chi_square_agrees_with_another_library(table: list[list[int]]) -> None:
    """Independent library: scipy."""
    rows, columns = [str(n) for n in range(len(table))], [str(n) for n in range(len(table[0]))]
    found = association(table, rows, columns)
    theirs = stats.chi2_contingency(table, correction=False)
    assert float(found.chi_square) == pytest.approx(float(theirs.statistic), rel=1e-9, abs=1e-9)
    assert found.freedom == theirs.dof
    assert float(found.chance) == pytest.approx(float(theirs.pvalue), rel=1e-7, abs=1e-9)
    assert float(found.smallest_expected) == pytest.approx(float(theirs.expected_freq.min()), rel=1e-9)


@pytest.mark.parametrize("freedom", [1, 2, 3, 12, 101, 1500])
@pytest.mark.parametrize("chi_square", [0.0, 0.001, 1.0, 12.5, 140.0, 1500.0])
def test_chance_agrees_with_another_library(chi_square: float, freedom: int) -> None:
    """Independent library: scipy, also for large tables."""
    assert chance_of(chi_square, freedom) == pytest.approx(float(stats.chi2.sf(chi_square, freedom)), rel=1e-9)
