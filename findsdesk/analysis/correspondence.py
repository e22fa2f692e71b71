"""Correspondence analysis of a table of counts, and the order of its rows along the first axis (seriation)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from findsdesk.analysis.counted_tables import counted_table
from findsdesk.domain.figures import Figure, Grounds, Method, Unit
from findsdesk.words import N_

_GREENACRE = "Greenacre 1984; values as in the output of the statistics package ca"
INERTIA = Method(
    Unit.NONE,
    N_("square of a singular value of the shares less those expected, each divided by the root of that expected"),
    _GREENACRE,
    Grounds.PUBLISHED,
)
TOTAL_INERTIA = Method(
    Unit.NONE, N_("sum of the inertias of all axes: chi-square ÷ pieces"), _GREENACRE, Grounds.PUBLISHED
)

_NOTHING = 1e-12
"""An axis of less inertia is a rounding error: tables have such axes where rows are mixtures of others."""


@dataclass(frozen=True, slots=True)
class Profile:
    """A row or column of the table: its name, its share of all pieces, and what it adds to the inertia.

    ``distance`` is the chi-square distance to the average; ``standard`` and ``principal`` are its coordinates on each
    axis in order.
    """

    name: str
    mass: float
    distance: float
    inertia: float
    standard: tuple[float, ...]
    principal: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Correspondence:
    """The axes by falling inertia with the rows and columns upon them; what was empty is named."""

    inertias: tuple[Figure, ...]
    total_inertia: Figure
    rows: tuple[Profile, ...]
    columns: tuple[Profile, ...]
    empty_rows: tuple[str, ...]
    empty_columns: tuple[str, ...]

    @property
    def percents(self) -> tuple[float, ...]:
        """Return each axis's percent of the total inertia."""
        total = float(self.total_inertia)
        return tuple(100 * float(inertia) / total for inertia in self.inertias)

    def seriation(self) -> tuple[str, ...]:
        """Return the rows in their order along the first axis; which end is early the axis cannot say.

        A table without any inertia has no axis and keeps its order.
        """
        return tuple(row.name for row in sorted(self.rows, key=lambda row: row.principal[:1]))


def correspondence(counts: Sequence[Sequence[int]], rows: Sequence[str], columns: Sequence[str]) -> Correspondence:
    """Return the correspondence analysis of counts, rows by columns, empty ones left out and named.

    The sign of an axis is free; here the column farthest out on it lies on the positive side, so that a plot does not
    flip from one look to the next. Refusals: those of ``counted_table``. Formulas and values: docs/sources.md,
    "Correspondence analysis".
    """
    table = counted_table(counts, rows, columns)
    shares = table.counts / table.counts.sum()
    row_masses, column_masses = shares.sum(axis=1), shares.sum(axis=0)
    expected = np.outer(row_masses, column_masses)
    residuals = (shares - expected) / np.sqrt(expected)
    left, singular, right = np.linalg.svd(residuals, full_matrices=False)
    axes = int((singular**2 > _NOTHING).sum())
    row_standard = left[:, :axes] / np.sqrt(row_masses)[:, None]
    column_standard = right[:axes].T / np.sqrt(column_masses)[:, None]
    signs = _signs(column_standard)
    return Correspondence(
        tuple(INERTIA.gives(float(value) ** 2) for value in singular[:axes]),
        TOTAL_INERTIA.gives(float((singular**2).sum())),
        _profiles(table.rows, row_masses, (residuals**2).sum(axis=1), row_standard * signs, singular[:axes]),
        _profiles(table.columns, column_masses, (residuals**2).sum(axis=0), column_standard * signs, singular[:axes]),
        table.empty_rows,
        table.empty_columns,
    )


def _signs(standard: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return 1 or -1 for each axis, so that its largest coordinate is positive."""
    largest = np.abs(standard).argmax(axis=0)
    return np.where(standard[largest, np.arange(standard.shape[1])] < 0, -1.0, 1.0)


def _profiles(
    names: tuple[str, ...],
    masses: NDArray[np.float64],
    inertias: NDArray[np.float64],
    standard: NDArray[np.float64],
    singular: NDArray[np.float64],
) -> tuple[Profile, ...]:
    return tuple(
        Profile(
            name,
            float(mass),
            float(np.sqrt(inertia / mass)),
            float(inertia),
            tuple(map(float, coordinates)),
            tuple(map(float, coordinates * singular)),
        )
        for name, mass, inertia, coordinates in zip(names, masses, inertias, standard, strict=True)
    )
