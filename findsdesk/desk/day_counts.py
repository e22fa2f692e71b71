"""What washing counted on a day: each container once, with the count that stood at the end of that day."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Subquery, and_, or_, select
from sqlalchemy.orm import aliased

from findsdesk.desk.ledgers import NOT_COUNTED
from findsdesk.store.models import Count

_AT_THE_WASH = ("first", "again", "swapped")
"""Purposes of counts in the yard; what the sorting table counts is no figure of washing."""


def counted_between(start: datetime, end: datetime) -> Subquery:
    """Return ``container_id``, ``pieces`` and ``first_at`` of each container first counted in that time.

    A count again in that time replaces the first: a correction must not leave its mistake in the day's totals. What
    was swapped for finds that nobody had counted has a first count of its own after that.
    """
    first, later, newest, swapped = aliased(Count), aliased(Count), aliased(Count), aliased(Count)
    swapped_between = (
        select(swapped.id)
        .where(
            swapped.container_id == first.container_id,
            swapped.purpose == NOT_COUNTED,
            _after(swapped, first),
            _after(later, swapped),
        )
        .correlate(first, later)
    )
    last_id = (
        select(later.id)
        .where(
            later.container_id == first.container_id,
            later.purpose.in_(_AT_THE_WASH),
            later.happened_at < end,
            or_(later.id == first.id, _after(later, first)),
            ~swapped_between.exists(),
        )
        .order_by(later.happened_at.desc(), later.id.desc())
        .limit(1)
        .correlate(first)
        .scalar_subquery()
    )
    return (
        select(first.container_id, newest.pieces, first.happened_at.label("first_at"))
        .join(newest, newest.id == last_id)
        .where(first.purpose == "first", first.happened_at >= start, first.happened_at < end)
        .subquery()
    )


def _after(one: Any, other: Any) -> ColumnElement[bool]:
    """Return that a count was made after another; ids of two stations do not tell."""
    at_once = and_(one.happened_at == other.happened_at, one.id > other.id)
    return or_(one.happened_at > other.happened_at, at_once)
