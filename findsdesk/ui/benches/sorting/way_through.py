"""The way of Enter through a row: which cell has something to say next, and when a reason is asked for. No Qt."""

from __future__ import annotations

from collections.abc import Sequence

from findsdesk.domain.balance import Decision
from findsdesk.domain.sorting_columns import has_base, has_rim
from findsdesk.ui.benches.sorting.row_lists import RowLists
from findsdesk.ui.benches.sorting.typed_row import TypedRow

NO_STOP = frozenset({"decision", "reason"})
"""Enter passes these by: what is proposed stands, and a reason that is wanted is asked for at the end."""


def next_column(columns: Sequence[str], column: str, typed: TypedRow, lists: RowLists) -> str:
    """Return the column to go to from this one; '' where the row is finished."""
    if column == "reason":
        # It may stand before others and was asked for last: only what is still empty is gone to.
        after = columns[columns.index("reason") + 1 :]
        empty = (one for one in after if one == "note" or not typed.text(one).strip())
        return next((one for one in empty if _has_to_say(one, typed, lists)), "")
    wanted = next_to_fill(columns, column, typed, lists)
    return "reason" if not wanted and _asks_why(column, typed) else wanted


def next_to_fill(columns: Sequence[str], column: str, typed: TypedRow, lists: RowLists) -> str:
    """Return the next column behind this one that has something to say, or nothing."""
    after = columns[columns.index(column) + 1 :]
    return next((one for one in after if _has_to_say(one, typed, lists)), "")


def _has_to_say(column: str, typed: TypedRow, lists: RowLists) -> bool:
    if column in NO_STOP:
        return False
    if column not in ("rim", "base"):
        return True
    part = typed.part.strip()
    key = lists.meant("part", part)[0] if part else ""
    return bool(key) and (has_rim if column == "rim" else has_base)(key)


def _asks_why(column: str, typed: TypedRow) -> bool:
    if typed.reason.strip():
        return False
    return typed.decision is Decision.DISCARD or (column == "decision" and typed.decision is not Decision.KEEP)
