"""How alike many assemblages are: the matrix of their Brainerd–Robinson coefficients, each with each."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_


def similarity_matrix(counts: Sequence[Sequence[int]], names: Sequence[str]) -> NDArray[np.float64]:
    """Return the coefficients of each assemblage (row) with each: 0 shares nothing, 200 is the same.

    The formula is ``domain.similarity``'s, for many at once. Refusals: ``assemblage_empty``.
    """
    table = np.asarray(counts, dtype=np.float64).reshape(len(names), -1)
    totals = table.sum(axis=1)
    if (totals <= 0).any():
        raise Refusal(
            "assemblage_empty",
            N_("There is nothing in {name} to compare. Choose another, or enter its sherds first."),
            name=names[int(np.argmax(totals <= 0))],
        )
    percents = 100 * table / totals[:, None]
    return np.array([200 - np.abs(percents - row).sum(axis=1) for row in percents]).reshape(len(names), len(names))
