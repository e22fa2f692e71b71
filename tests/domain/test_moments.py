"""Soaking and drying times."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone, tzinfo

import pytest

from findsdesk.domain.moments import SoakState, dry_from, is_dry, soak_state, soaked_hours

YARD = timezone(timedelta(hours=3))


class ClocksGoBack(tzinfo):
    """A zone three hours ahead until 04:00 on 25 October 2026, two hours from then on."""

    def utcoffset(self, moment: datetime | None) -> timedelta:
        assert moment is not None
        wall = (moment.month, moment.day, moment.hour)
        summer = wall < (10, 25, 3) or (wall < (10, 25, 4) and not moment.fold)
        return timedelta(hours=3 if summer else 2)

    def dst(self, moment: datetime | None) -> timedelta:
        return self.utcoffset(moment) - timedelta(hours=2)

    def tzname(self, moment: datetime | None) -> str:
        return "yard"

    def fromutc(self, moment: datetime) -> datetime:
        changes = datetime(2026, 10, 25, 1, tzinfo=self)
        if moment.replace(fold=0) < changes:
            return moment + timedelta(hours=3)
        here = moment + timedelta(hours=2)
        return here.replace(fold=1 if here < changes + timedelta(hours=3) else 0)


@pytest.mark.parametrize(
    ("hours", "state"),
    [
        (0, "too short"),
        (11.99, "too short"),
        (12, "ready"),
        (16, "ready"),
        (36, "ready"),
        (36.01, "too long"),
        (47, "too long"),
    ],
)
def test_a_soak_is_too_short_ready_or_too_long(hours: float, state: str) -> None:
    since = datetime(2026, 7, 13, 15, 0, tzinfo=YARD)
    assert soak_state(since, since + timedelta(hours=hours), 12, 36) == SoakState(state)


def test_finds_washed_in_the_morning_are_dry_in_the_afternoon() -> None:
    laid_out = datetime(2026, 7, 14, 8, 0, tzinfo=YARD)
    assert dry_from(laid_out, 8) == datetime(2026, 7, 14, 16, 0, tzinfo=YARD)
    assert dry_from(laid_out, 8).utcoffset() == timedelta(hours=3)
    assert not is_dry(laid_out, datetime(2026, 7, 14, 12, 59, tzinfo=UTC), 8)
    assert is_dry(laid_out, datetime(2026, 7, 14, 13, 0, tzinfo=UTC), 8)


def test_hours_are_real_hours_when_the_clocks_change() -> None:
    evening = datetime(2026, 10, 24, 22, 0, tzinfo=ClocksGoBack())
    morning = datetime(2026, 10, 25, 7, 0, tzinfo=ClocksGoBack())
    assert soaked_hours(evening, morning) == 10
    assert dry_from(evening, 10).hour == 7
    assert is_dry(evening, morning, 10)


def test_a_clock_that_is_behind_makes_no_negative_soak() -> None:
    since = datetime(2026, 7, 13, 15, 0, tzinfo=YARD)
    assert soaked_hours(since, since - timedelta(minutes=5)) == 0
    assert soaked_hours(since, since + timedelta(minutes=90)) == 1.5


def test_a_moment_without_zone_is_an_error() -> None:
    with pytest.raises(ValueError, match="time zone"):
        soaked_hours(datetime(2026, 7, 13, 15, 0), datetime(2026, 7, 13, 16, 0, tzinfo=UTC))  # noqa: DTZ001
