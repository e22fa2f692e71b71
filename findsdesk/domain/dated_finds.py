"""What of a deposit can be dated: sherd groups, pieces, coins and other objects with the years they allow."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from findsdesk.domain.date_ranges import DateRange


@dataclass(frozen=True, slots=True)
class DatedFind:
    """A group, piece or object: its key, its range (None where nobody could date it), its pieces, whether intrusive.

    Of what is ``open_ended`` only the first year is known: the range is that year, and may go on for ever.
    """

    key: str
    range: DateRange | None
    pieces: int = 1
    intrusive: bool = False
    open_ended: bool = False


def dated(finds: Iterable[DatedFind]) -> list[tuple[DatedFind, DateRange]]:
    """Return the finds that have a range and belong to the deposit, each with its range."""
    return [(find, find.range) for find in finds if find.range is not None and not find.intrusive]


def undated(finds: Iterable[DatedFind]) -> tuple[DatedFind, ...]:
    """Return the finds nobody could date, to be listed beside the figure."""
    return tuple(find for find in finds if find.range is None)
