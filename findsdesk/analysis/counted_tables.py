"""A table of counts, rows by columns, made ready for statistics: checked, without rows and columns that are empty."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, CountOf


@dataclass(frozen=True, slots=True)
class CountedTable:
    """Counts with the names of their rows and columns, and the names of those that were empty and left out."""

    counts: NDArray[np.float64]
    rows: tuple[str, ...]
    columns: tuple[str, ...]
    empty_rows: tuple[str, ...]
    empty_columns: tuple[str, ...]


def counted_table(counts: Sequence[Sequence[int]], rows: Sequence[str], columns: Sequence[str]) -> CountedTable:
    """Return the table without empty rows and columns.

    Refusals: ``table_shape`` (names and counts do not fit), ``table_negative``, ``table_too_small`` (fewer than two
    rows or columns with anything in them).
    """
    if len(counts) != len(rows) or any(len(row) != len(columns) for row in counts):
        raise Refusal("table_shape", N_("The table's names and counts do not fit together. Choose its rows anew."))
    table = np.array(counts, dtype=np.float64).reshape(len(rows), len(columns))
    if (table < 0).any():
        raise Refusal(
            "table_negative",
            N_("{row} holds a count below 0. Correct it first."),
            row=rows[int(np.argwhere(table < 0)[0][0])],
        )
    kept_rows, kept_columns = table.sum(axis=1) > 0, table.sum(axis=0) > 0
    if kept_rows.sum() < 2 or kept_columns.sum() < 2:
        raise Refusal(
            "table_too_small",
            N_("Only {rows} and {columns} hold anything; at least two of each are needed. Choose more."),
            rows=CountOf("{n} row", "{n} rows", int(kept_rows.sum())),
            columns=CountOf("{n} column", "{n} columns", int(kept_columns.sum())),
        )
    return CountedTable(
        table[kept_rows][:, kept_columns],
        _chosen(rows, kept_rows),
        _chosen(columns, kept_columns),
        _chosen(rows, ~kept_rows),
        _chosen(columns, ~kept_columns),
    )


def _chosen(names: Sequence[str], mask: NDArray[np.bool_]) -> tuple[str, ...]:
    return tuple(name for name, chosen in zip(names, mask, strict=True) if chosen)
