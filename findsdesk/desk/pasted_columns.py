"""The columns of rows pasted from a spreadsheet: by the table's own headings, and by those people write."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from findsdesk.domain.natural_order import folded
from findsdesk.domain.numbers import read_decimal
from findsdesk.domain.pasted_rows import PastedRows, Row, matched, without_figures
from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.pasted_text import cells_of
from findsdesk.words import N_

_LEAST_PERCENT = 5
"""Rims are read in steps of 5 % (common practice, no source): a lower figure may be so many whole circles."""


def read_rows(text: str, columns: Sequence[str], headings: Mapping[str, str], names: Mapping[str, str]) -> PastedRows:
    """Return pasted text as rows of texts by column.

    Beside ``headings`` those are known by which tables of old seasons are read. Refusals: those of ``matched`` and
    ``pasted_circles``.
    """
    lines = cells_of(text)
    spelt = _spelt_otherwise(lines, headings, names)
    pasted = matched(lines, columns, {folded(cell): column for cell, column in spelt.items()} | {**headings}, names)
    for heading, column in spelt.items():
        if column in ("rim", "base") and "eve" in heading.lower().split():
            _refuse_whole_circles(pasted.rows, column, heading, names)
    return pasted


def _spelt_otherwise(
    lines: Sequence[list[str]], headings: Mapping[str, str], names: Mapping[str, str]
) -> dict[str, str]:
    """Return the columns of other headings in the first line, as they are written; none where it is no such line."""
    if not lines or not without_figures(lines[0]):
        return {}
    # Loaded with the first headings that are pasted: the window's start does not wait for it.
    from findsdesk.domain.table_kinds import TableKind, column_meant

    meant = {cell: column_meant(TableKind.SEASON, cell) for cell in lines[0] if folded(cell) not in headings}
    return {cell: column for cell, column in meant.items() if column is not None and column in names}


def _refuse_whole_circles(rows: Sequence[Row], column: str, heading: str, names: Mapping[str, str]) -> None:
    """Refuse a column of vessel equivalents that may be said in whole circles: 0.62 is no 0.62 %."""
    doubtful = next((row[column] for row in rows if _may_be_whole(row[column])), "")
    if doubtful:
        raise Refusal(
            "pasted_circles",
            N_("Is {said} below “{heading}” percent or whole circles? Write percent and call it “{name}”."),
            said=doubtful,
            heading=heading,
            name=names[column],
        )


def _may_be_whole(said: str) -> bool:
    try:
        return bool(said) and 0 < read_decimal(said) < _LEAST_PERCENT
    except Refusal:
        return False  # "62 %" is percent, and what is no number at all is told with its row.
