"""Days, hours and spans as people say them on screen; paper and files write ISO dates."""

from __future__ import annotations

from datetime import date, datetime, timedelta, tzinfo

from findsdesk.domain.moments import soaked_hours
from findsdesk.words import N_, plural, put

_MONTHS = (
    N_("January"), N_("February"), N_("March"), N_("April"), N_("May"), N_("June"), N_("July"), N_("August"),
    N_("September"), N_("October"), N_("November"), N_("December"),
)  # fmt: skip
_WEEKDAYS = (
    N_("Monday"), N_("Tuesday"), N_("Wednesday"), N_("Thursday"), N_("Friday"), N_("Saturday"), N_("Sunday"),
)  # fmt: skip
_HOURS_BEFORE_DAYS = 48


def day_in_words(day: date, now: date | None = None) -> str:
    """Return "14 July"; with the year where it is not the year of ``now``."""
    facts = {"day": day.day, "month": put(_MONTHS[day.month - 1]), "year": day.year}
    other_year = now is not None and now.year != day.year
    return put(N_("{day} {month} {year}") if other_year else N_("{day} {month}"), None, facts)


def weekday(day: date) -> str:
    """Return "Wednesday"."""
    return put(_WEEKDAYS[day.weekday()])


def long_day(day: date) -> str:
    """Return "Wednesday 15 July"."""
    return put(N_("{weekday} {day}"), None, {"weekday": weekday(day), "day": day_in_words(day)})


def clock_time(moment: datetime, zone: tzinfo) -> str:
    """Return "14:40" in the excavation's time zone."""
    return f"{moment.astimezone(zone):%H:%M}"


def day_and_time(moment: datetime, zone: tzinfo) -> str:
    """Return "14 July 14:40"."""
    return f"{day_in_words(moment.astimezone(zone).date())} {clock_time(moment, zone)}"


def hours(span_h: float) -> str:
    """Return "16 h 36", "41 h" from two days on, or "36 min" under an hour."""
    minutes = round(span_h * 60)
    if minutes < 60:
        return put(N_("{n} min"), None, {"n": minutes})
    if minutes >= _HOURS_BEFORE_DAYS * 60 or minutes % 60 == 0:
        return put(N_("{n} h"), None, {"n": minutes // 60})
    return put(N_("{n} h {minutes:02d}"), None, {"n": minutes // 60, "minutes": minutes % 60})


def since(moment: datetime, now: datetime, zone: tzinfo) -> str:
    """Return since when, short: "since 14:40" today, "yesterday", "Friday" within a week, else "3 July"."""
    day, today = moment.astimezone(zone).date(), now.astimezone(zone).date()
    if day == today:
        return put(N_("since {time}"), None, {"time": clock_time(moment, zone)})
    if day == today - timedelta(days=1):
        return put(N_("yesterday"))
    if today - timedelta(days=7) < day < today:
        return weekday(day)
    return day_in_words(day, today)


def age(moment: datetime, now: datetime) -> str:
    """Return how old something is: "14 min", "3 h", "2 days"."""
    old_h = soaked_hours(moment, now)
    if old_h < _HOURS_BEFORE_DAYS:
        return hours(old_h if old_h < 1 else float(int(old_h)))
    return plural("{n} day", "{n} days", int(old_h // 24))
