"""Dates as people write them in a list, and the order of day and month, decided by the column as a whole."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from typing import Literal

from findsdesk.domain.natural_order import folded

DayOrder = Literal["dmy", "mdy", "ymd"]
Season = tuple[date, date]
"""First and last day of a season."""

_YEAR_FIRST = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[t ]\d.*)?")
_COMPACT = re.compile(r"((?:19|20)\d\d)(\d\d)(\d\d)")
_NUMERIC = re.compile(r"(\d{1,2})\s*([-/. ])\s*(\d{1,2})(?:\s*[-/. ]\s*(\d{4}|\d{2}))?\.?(?: \d{1,2}:\d\d.*)?")
_DAY_FIRST = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?[-. /]*(?:of )?([a-z]{3,9})[-., /]*(\d{4}|\d{2})?")
_MONTH_FIRST = re.compile(r"([a-z]{3,9})[-. /]*(\d{1,2})(?:st|nd|rd|th)?(?:[-., /]+(\d{4}|\d{2}))?")
_WEEKDAY = re.compile(r"^(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*[., ]+")
_SERIAL = re.compile(r"(\d{5})(?:\.0+)?")
_SERIAL_ZERO = date(1899, 12, 30)
"""Day 0 of the day numbers of spreadsheets whose day 61 is 1 March 1900 (from memory)."""
_MONTHS = ("january", "february", "march", "april", "may", "june", "july", "august", "september", "october",
           "november", "december")  # fmt: skip


@dataclass(frozen=True, slots=True)
class WrittenDate:
    """A date as it was read: both readings where day and month may be swapped, and what had to be supplied.

    ``sign`` is what stands between the numbers; ``supplied`` is "" or "year" (taken from the season) or "serial" (a
    spreadsheet's day number).
    """

    as_dmy: date | None
    as_mdy: date | None
    sign: str = ""
    supplied: str = ""

    @property
    def ambiguous(self) -> bool:
        """Return whether the two orders give two different dates."""
        return self.as_dmy is not None and self.as_mdy is not None and self.as_dmy != self.as_mdy

    def reading(self, order: DayOrder | None) -> date | None:
        """Return the date in the order named, else in the only order that gives one."""
        first, second = (self.as_mdy, self.as_dmy) if order == "mdy" else (self.as_dmy, self.as_mdy)
        return first or second


def _day(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _month(name: str) -> int | None:
    found = [place for place, month in enumerate(_MONTHS, 1) if month.startswith(name) or name == month[:3]]
    if name == "sept":
        return 9
    return found[0] if len(found) == 1 else None


def _year(text: str | None, season: Season | None) -> int | None:
    if text is not None:
        return int(text) if len(text) == 4 else 2000 + int(text)
    return season[0].year if season and season[0].year == season[1].year else None


def _sure(value: date | None, sign: str = "", supplied: str = "") -> WrittenDate | None:
    return WrittenDate(value, value, sign, supplied) if value else None


def _numeric(text: str, season: Season | None) -> WrittenDate | None:
    found = _NUMERIC.fullmatch(text)
    if not found:
        return None
    year = _year(found[4], season)
    if year is None:
        return None
    first, second = int(found[1]), int(found[3])
    both = WrittenDate(_day(year, second, first), _day(year, first, second), found[2], "" if found[4] else "year")
    return both if both.as_dmy or both.as_mdy else None


def _named(text: str, season: Season | None) -> WrittenDate | None:
    if found := _DAY_FIRST.fullmatch(text):
        day, name, written = found[1], found[2], found[3]
    elif found := _MONTH_FIRST.fullmatch(text):
        name, day, written = found[1], found[2], found[3]
    else:
        return None
    month, year = _month(name), _year(written, season)
    if month is None or year is None:
        return None
    return _sure(_day(year, month, int(day)), "name", "" if written else "year")


@lru_cache(maxsize=8192)
def written_date(text: str, season: Season | None = None) -> WrittenDate | None:
    """Return a date as it was written, in every reading it allows, or None if it cannot be read.

    Two-digit years are of this century; a missing year is the season's, where the season lies within one year.
    """
    plain = _WEEKDAY.sub("", folded(text))
    if found := _YEAR_FIRST.fullmatch(plain) or _COMPACT.fullmatch(plain):
        return _sure(_day(int(found[1]), int(found[2]), int(found[3])), "ymd")
    if found := _SERIAL.fullmatch(plain):
        return _sure(_SERIAL_ZERO + timedelta(days=int(found[1])), "serial", "serial")
    return _numeric(plain, season) or _named(plain, season)


def _orders_shown(dates: Iterable[WrittenDate]) -> set[DayOrder]:
    """Return the orders that dates allowing one reading only prove; a dotted date counts for day first."""
    shown: set[DayOrder] = set()
    dotted: set[DayOrder] = set()
    for one in dates:
        if one.as_dmy is None:
            shown.add("mdy")
        elif one.as_mdy is None:
            shown.add("dmy")
        elif one.sign == "." and one.ambiguous:
            dotted.add("dmy")
    return shown or dotted


def _read(column: Iterable[str], season: Season | None) -> list[WrittenDate]:
    return [one for text in set(column) if (one := written_date(text, season))]


def day_order_of(column: Iterable[str], season: Season | None = None) -> DayOrder | None:
    """Return the order in which a column writes day and month, or None if it does not show (or shows both).

    "ymd" says that no date of the column can be read in two ways. A dotted date is day first where nothing in the
    column says otherwise (common practice, no source).
    """
    dates = _read(column, season)
    shown = _orders_shown(dates)
    if len(shown) == 1:
        return shown.pop()
    if not shown and not any(one.ambiguous for one in dates):
        return "ymd"
    return None


def both_orders_shown(column: Iterable[str], season: Season | None = None) -> bool:
    """Return whether some dates of the column can only be day first and others only month first."""
    return len(_orders_shown(_read(column, season))) > 1


def day_order_by_season(column: Iterable[str], season: Season | None, today: date | None = None) -> DayOrder | None:
    """Return the only order in which every date lies within the season and none after today, or None.

    Without a season nothing is decided: that a day is still to come does not make the other one right.
    """
    if season is None:
        return None
    first, last = season[0], min(season[1], today or date.max)
    dates = [one for one in _read(column, season) if one.ambiguous]
    orders: tuple[DayOrder, ...] = ("dmy", "mdy")
    fitting: list[DayOrder] = [
        order for order in orders if all((day := one.reading(order)) and first <= day <= last for one in dates)
    ]
    return fitting[0] if len(fitting) == 1 else None
