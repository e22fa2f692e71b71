"""Whether the rows and columns of a table of counts go together: chi-square and Cramér's V."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from findsdesk.analysis.counted_tables import counted_table
from findsdesk.domain.figures import Figure, Grounds, Method, Unit
from findsdesk.words import N_

SMALL_EXPECTATION = 5
MOST_SMALL_PERCENT = 20
LEAST_EXPECTATION = 1

CHI_SQUARE = Method(
    Unit.NONE,
    N_("sum of (counted − expected)² ÷ expected, with expected = row total × column total ÷ pieces"),
    "any statistics handbook; values: Greenacre 1984",
    Grounds.PUBLISHED,
)
CHANCE = Method(
    Unit.NONE,
    N_("chance of a chi-square at least as large where rows and columns have nothing to do with each other"),
    "any statistics handbook; values: Greenacre 1984",
    Grounds.PUBLISHED,
)
CRAMERS_V = Method(
    Unit.NONE,
    N_("root of (chi-square ÷ (pieces × (the smaller of rows and columns − 1))); 0 none, 1 complete"),
    "values: Wansleeben, Internet Archaeology 4, 5.6, for two columns",
    Grounds.PUBLISHED,
)


@dataclass(frozen=True, slots=True)
class Association:
    """Chi-square with its degrees of freedom and chance, Cramér's V, and whether the table is too thin for them.

    ``thin`` (Cochran, from memory): more than 20 % of the expected counts are below 5, or one is below 1.
    """

    chi_square: Figure
    freedom: int
    chance: Figure
    cramers_v: Figure
    smallest_expected: float
    small_expected_percent: float
    empty_rows: tuple[str, ...]
    empty_columns: tuple[str, ...]

    @property
    def thin(self) -> bool:
        """Return whether the expected counts are too small for the chance to be trusted."""
        return self.small_expected_percent > MOST_SMALL_PERCENT or self.smallest_expected < LEAST_EXPECTATION


def association(counts: Sequence[Sequence[int]], rows: Sequence[str], columns: Sequence[str]) -> Association:
    """Return chi-square (without correction) and Cramér's V of counts, empty rows and columns left out and named.

    Refusals: those of ``counted_table``. Formulas and values: docs/sources.md, "Chi-square and Cramér's V".
    """
    table = counted_table(counts, rows, columns)
    pieces = float(table.counts.sum())
    expected = np.outer(table.counts.sum(axis=1), table.counts.sum(axis=0)) / pieces
    chi_square = float(((table.counts - expected) ** 2 / expected).sum())
    freedom = (len(table.rows) - 1) * (len(table.columns) - 1)
    shorter = min(len(table.rows), len(table.columns)) - 1
    return Association(
        CHI_SQUARE.gives(chi_square),
        freedom,
        CHANCE.gives(chance_of(chi_square, freedom)),
        CRAMERS_V.gives(math.sqrt(chi_square / (pieces * shorter))),
        float(expected.min()),
        100 * float((expected < SMALL_EXPECTATION).mean()),
        table.empty_rows,
        table.empty_columns,
    )


def chance_of(chi_square: float, freedom: int) -> float:
    """Return the chance of a chi-square at least this large with so many degrees of freedom (1 or more).

    The upper tail in closed form: with x = χ²/2, e⁻ˣ·Σ xᵏ/k! for even degrees, erfc(√x) and the terms at half steps
    for odd ones. The terms are added as logarithms, so that large tables neither overflow nor vanish.
    """
    if chi_square <= 0:
        return 1.0
    x = chi_square / 2
    steps = (k + (0.5 if freedom % 2 else 0.0) for k in range(freedom // 2))
    terms = (math.exp(step * math.log(x) - x - math.lgamma(step + 1)) for step in steps)
    return min(1.0, math.fsum([math.erfc(math.sqrt(x)) if freedom % 2 else 0.0, *terms]))
