"""What two rows of field lists say differently of one container."""

from __future__ import annotations

from findsdesk.domain.listed_rows import ListedRow
from findsdesk.domain.natural_order import folded
from findsdesk.domain.written_numbers import identifier_key

_CONTENT = (
    "number", "deposit", "square", "collected_on", "supervisor", "material", "description", "parts", "elevation_mm",
)  # fmt: skip


def _content(row: ListedRow, column: str) -> object:
    value = getattr(row, column)
    if column in {"number", "deposit", "square"}:
        return identifier_key(value)
    return folded(value) if isinstance(value, str) else value


def changed_columns(old: ListedRow, new: ListedRow) -> tuple[str, ...]:
    """Return the columns in which two rows say something different; line and doubts do not count."""
    return tuple(column for column in _CONTENT if _content(old, column) != _content(new, column))


def same_row(one: ListedRow, other: ListedRow) -> bool:
    """Return whether two rows say the same of the same container."""
    return not changed_columns(one, other)
