"""What was signed for at the end of a season and is open still: a container stands boxed unwashed, or boxed unread.

It stands so beside what its steps say, from the signature until it is washed or read: nothing is undone to go on.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session

from findsdesk.desk.season_end_asking import Statement
from findsdesk.desk.season_end_questions import unread, unwashed
from findsdesk.domain.season_end import StaysAs
from findsdesk.store.models import HandOver, HandOverLine, Season

_STILL: dict[StaysAs, Callable[[], Statement]] = {StaysAs.UNWASHED: unwashed, StaysAs.UNREAD: unread}


@dataclass(frozen=True, slots=True)
class Carried:
    """How a container was carried over, by which list of which season."""

    stays_as: StaysAs
    season: str
    list_number: int


def carried_ids(stays_as: StaysAs, among: Sequence[int] | None = None) -> Select[Any]:
    """Return the ids of the containers that stand so now (of some, where they are named), as a statement."""
    signed = select(HandOverLine.container_id).where(HandOverLine.stays_as == stays_as)
    open_still = _STILL[stays_as]().subquery("open_still")
    wanted = select(open_still.c.id).where(open_still.c.id.in_(signed))
    return wanted if among is None else wanted.where(open_still.c.id.in_(among))


def carried_now(session: Session) -> dict[StaysAs, int]:
    """Return how many containers of whatever season stand so now."""
    return {
        one: session.execute(select(func.count()).select_from(carried_ids(one).subquery())).scalar_one()
        for one in StaysAs
    }


def carried_of(session: Session, ids: Sequence[int]) -> dict[int, Carried]:
    """Return how containers stand that were carried over, by their ids; the newest list counts."""
    found: dict[int, Carried] = {}
    lines = session.execute(
        select(HandOverLine.container_id, HandOverLine.stays_as, Season.name, HandOver.number)
        .join(HandOver, HandOverLine.hand_over_id == HandOver.id)
        .join(Season, HandOver.season_id == Season.id)
        .where(HandOverLine.container_id.in_(ids), HandOverLine.stays_as != "")
        .order_by(HandOver.signed_at, HandOver.id)
    ).all()
    for stays_as in {StaysAs(line.stays_as) for line in lines}:
        still = set(session.execute(carried_ids(stays_as, ids)).scalars())
        for line in lines:
            if line.stays_as == stays_as and line.container_id in still:
                found[line.container_id] = Carried(stays_as, line.name, line.number)
    return found
