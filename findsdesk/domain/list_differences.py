"""What changed between a field list as it was taken in and the same list corrected."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

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


@dataclass(frozen=True, slots=True)
class ChangedRow:
    """A container of which a corrected list says something else, and in which columns."""

    old: ListedRow
    new: ListedRow
    columns: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ListDifferences:
    """What a corrected list adds, changes, no longer names, and says as before."""

    added: tuple[ListedRow, ...]
    changed: tuple[ChangedRow, ...]
    gone: tuple[ListedRow, ...]
    same: tuple[ListedRow, ...]


def _keyed(rows: Iterable[ListedRow], by_square: bool) -> dict[tuple[str, str, int], ListedRow]:
    """Key rows by number (in its square, where numbers run by square); a number met again is the 2nd, 3rd …"""
    keyed: dict[tuple[str, str, int], ListedRow] = {}
    met: dict[tuple[str, str], int] = {}
    for row in rows:
        name = (identifier_key(row.square) if by_square else "", identifier_key(row.number))
        met[name] = met.get(name, 0) + 1
        keyed[(*name, met[name])] = row
    return keyed


def differences(old: Iterable[ListedRow], new: Iterable[ListedRow], *, by_square: bool = False) -> ListDifferences:
    """Return what a corrected list says differently from the list before; containers are known by their number.

    ``by_square`` is for an excavation whose numbers run within each square.
    """
    before, after = _keyed(old, by_square), _keyed(new, by_square)
    both = [(before[key], row) for key, row in after.items() if key in before]
    pairs = [(was, now, changed_columns(was, now)) for was, now in both]
    return ListDifferences(
        added=tuple(row for key, row in after.items() if key not in before),
        changed=tuple(ChangedRow(was, now, columns) for was, now, columns in pairs if columns),
        gone=tuple(row for key, row in before.items() if key not in after),
        same=tuple(now for _was, now, columns in pairs if not columns),
    )
