"""How a list or table that comes from outside is read, as a person says it of the window, the terminal and a script."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypedDict

from findsdesk.domain.table_cells import Circles
from findsdesk.domain.written_dates import DayOrder
from findsdesk.domain.written_numbers import DecimalSign


class HowListRead(TypedDict, total=False):
    """How a field list is read; what is not named is found in the file, remembered, or asked.

    ``columns`` maps headers to columns where the person matched them by hand, ``given`` tells values the list lacks
    (e.g. ``{"material": "pottery"}``).
    """

    encoding: str | None
    sheet: str | None
    columns: Mapping[str, str] | None
    given: Mapping[str, str] | None
    day_order: DayOrder | None
    decimal: DecimalSign | None
    season: str | None


class HowTableRead(HowListRead, total=False):
    """How a table of one kind is read."""

    circles: Circles | None
