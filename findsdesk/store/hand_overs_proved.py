"""Lists of what stays open proved: each has the lines it was signed for, and two people signed it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.store.models import HandOver, HandOverLine, Season


@dataclass(frozen=True, slots=True)
class WrongHandOver:
    """A list with other lines than it was signed for, or signed by one alone."""

    why: str
    """'lines' or 'signed'."""
    season: str
    number: int
    signed_for: int
    there: int


def wrong_hand_overs(session: Session) -> Iterator[WrongHandOver]:
    """Yield what cannot be."""
    lines = select(HandOverLine.hand_over_id, func.count().label("many")).group_by(HandOverLine.hand_over_id).subquery()
    rows = session.execute(
        select(HandOver, Season.name, func.coalesce(lines.c.many, 0))
        .join(Season, HandOver.season_id == Season.id)
        .outerjoin(lines, lines.c.hand_over_id == HandOver.id)
        .order_by(HandOver.id)
    )
    for row, season, there in rows:
        if row.lines != there:
            yield WrongHandOver("lines", season, row.number, row.lines, there)
        if row.first_id == row.second_id:
            yield WrongHandOver("signed", season, row.number, row.lines, there)
