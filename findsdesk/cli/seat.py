"""A seat at the desk for one call: the store opened for a person at a station, and left again whatever happens."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, datetime, time, tzinfo

from findsdesk.desk.desk import Desk
from findsdesk.desk.leaving import leave
from findsdesk.desk.opening import open_store
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_


@contextmanager
def writing_seat(call: argparse.Namespace) -> Iterator[Desk]:
    """Give a desk that may write, at the moment the call names; from here on refusals speak the excavation's words."""
    desk = open_store(call.store, by=call.by, station=call.station)
    call.terms = desk.terms
    try:
        yield at_moment(desk, getattr(call, "at", None))
    finally:
        leave(desk)


@contextmanager
def reading_seat(call: argparse.Namespace) -> Iterator[Desk]:
    """Give a desk that only looks; the store may be open elsewhere meanwhile."""
    desk = open_store(call.store, by=call.by, station=call.station, read_only=True)
    call.terms = desk.terms
    try:
        yield at_moment(desk, getattr(call, "at", None))
    finally:
        desk.let_go()


def at_moment(desk: Desk, text: str | None) -> Desk:
    """Return the desk at the moment somebody typed; refuses what cannot be read or has not come yet."""
    if not text:
        return desk
    now = desk.clock()
    moment = _moment(text, now.astimezone(desk.facts.zone).date(), desk.facts.zone)
    if moment is None:
        raise Refusal(
            "moment_unreadable",
            N_("{text} is no moment. Write it like 2026-07-14T14:40, or 14:40 for today."),
            text=text,
        )
    if moment > now:
        raise Refusal("moment_in_future", N_("{text} has not come yet. Write when it truly happened."), text=text)
    return desk.at(moment)


def _moment(text: str, today: date, zone: tzinfo) -> datetime | None:
    try:
        moment = datetime.fromisoformat(text) if len(text) > 8 else datetime.combine(today, time.fromisoformat(text))
    except ValueError:
        return None
    return moment if moment.tzinfo else moment.replace(tzinfo=zone)


def day_named(desk: Desk, text: str | None) -> date:
    """Return the day somebody typed, or today in the excavation's time zone."""
    if not text:
        return desk.now().astimezone(desk.facts.zone).date()
    try:
        return date.fromisoformat(text)
    except ValueError as error:
        raise Refusal("day_unreadable", N_("{text} is no day. Write it like 2026-07-14."), text=text) from error
