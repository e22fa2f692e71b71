"""Soaking and drying times: hours that really passed, also over the night when the clocks change.

How long a soak or a drying takes is a setting of the excavation; no standard gives a number of hours.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from enum import StrEnum


class SoakState(StrEnum):
    """How long something has soaked, against the excavation's shortest and longest soak."""

    TOO_SHORT = "too short"
    READY = "ready"
    TOO_LONG = "too long"


def _in_utc(moment: datetime) -> datetime:
    """Return an aware moment in UTC: two moments of one zone are otherwise subtracted by the clock on the wall."""
    if moment.utcoffset() is None:
        raise ValueError("a moment needs its time zone")
    return moment.astimezone(UTC)


def dry_from(since: datetime, dry_h: int) -> datetime:
    """Return the moment from which finds laid out since a moment count as dry, in the same zone."""
    return (_in_utc(since) + timedelta(hours=dry_h)).astimezone(since.tzinfo)


def is_dry(since: datetime, now: datetime, dry_h: int) -> bool:
    """Return whether finds laid out since a moment have dried for the hours set."""
    return _in_utc(now) >= _in_utc(dry_from(since, dry_h))


def soaked_hours(since: datetime, now: datetime) -> float:
    """Return the hours in water; 0 where the clock of a station is behind."""
    return max(0.0, (_in_utc(now) - _in_utc(since)) / timedelta(hours=1))


def soak_state(since: datetime, now: datetime, shortest_h: int, longest_h: int) -> SoakState:
    """Return whether a soak is too short, ready (from the shortest to the longest, both included) or too long."""
    hours = soaked_hours(since, now)
    if hours < shortest_h:
        return SoakState.TOO_SHORT
    return SoakState.TOO_LONG if hours > longest_h else SoakState.READY
