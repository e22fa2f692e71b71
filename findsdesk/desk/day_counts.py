"""What washing counted on a day: each container once, with the count that stood at the end of that day."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import Subquery, func, select
from sqlalchemy.orm import aliased

from findsdesk.store.models import Count

_AT_THE_WASH = ("first", "again", "swapped")
"""Purposes of counts in the yard; what the sorting table counts is no figure of washing."""


def counted_between(start: datetime, end: datetime) -> Subquery:
    """Return ``container_id``, ``pieces`` and ``first_at`` of each container first counted in that time.

    A count again in that time replaces the first: a correction must not leave its mistake in the day's totals.
    """
    first, later, newest = aliased(Count), aliased(Count), aliased(Count)
    last_id = (
        select(func.max(later.id))
        .where(
            later.container_id == first.container_id,
            later.purpose.in_(_AT_THE_WASH),
            later.happened_at >= start,
            later.happened_at < end,
        )
        .correlate(first)
        .scalar_subquery()
    )
    return (
        select(first.container_id, newest.pieces, first.happened_at.label("first_at"))
        .join(newest, newest.id == last_id)
        .where(first.purpose == "first", first.happened_at >= start, first.happened_at < end)
        .subquery()
    )
