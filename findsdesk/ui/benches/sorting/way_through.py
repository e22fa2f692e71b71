"""The way of Enter through a row: from cell to cell in the order of the columns, the same for every row. No Qt."""

from __future__ import annotations

from collections.abc import Sequence

from findsdesk.domain.balance import Decision
from findsdesk.ui.benches.sorting.row_lists import RowLists
from findsdesk.ui.benches.sorting.typed_row import TypedRow, understand

MUST_BE_FILLED = frozenset({"part", "pieces"})
_FIRST = MUST_BE_FILLED | {"ware"}
NO_STOP = frozenset({"decision", "reason"})
"""Enter passes these by: what is proposed stands, and a discard without a reason stops at the reason."""


def next_column(columns: Sequence[str], column: str, typed: TypedRow, lists: RowLists) -> str:
    """Return the column to go to from this one; '' where the row is to be written."""
    after = columns[columns.index(column) + 1 :]
    if column == "reason":
        if asks_why(typed, lists):
            return column
        # It may stand before others and was asked for last: only what is still empty is gone to.
        return next((one for one in after if one not in NO_STOP and not typed.text(one).strip()), "")
    may_want_why = typed.decision is not Decision.KEEP or typed.wants_why
    if column == "decision" and may_want_why and not typed.reason.strip():
        return "reason"
    asked = asks_why(typed, lists)
    wanted = next((one for one in after if one not in NO_STOP or (one == "reason" and asked)), "")
    return "reason" if asked and not wanted else wanted


def goes_on_in(columns: Sequence[str], typed: TypedRow) -> str:
    """Return the column in which a row goes on: what it cannot be without, else the one after the last filled."""
    stops = [one for one in columns if one not in NO_STOP]
    empty = [one for one in stops if not typed.text(one).strip()]
    wanted = next((one for one in empty if one in _FIRST), "")
    if wanted or len(empty) == len(stops):
        return wanted or stops[0]
    filled = max(place for place, one in enumerate(stops) if one not in empty)
    return stops[min(filled + 1, len(stops) - 1)]


def last_column(columns: Sequence[str]) -> str:
    """Return the column in which Enter writes the row."""
    return next(one for one in reversed(columns) if one not in NO_STOP)


def asks_why(typed: TypedRow, lists: RowLists) -> bool:
    """Return whether the reason of a discard is missing, or is none of the list."""
    if typed.decision is not Decision.DISCARD:
        return False
    return any(doubt.column == "reason" for doubt in understand(typed, lists).doubts)
