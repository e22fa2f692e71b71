"""What waits at the shelves: bags that lie in no box, loans of which something is late."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import func, select

from findsdesk.desk.desk import Desk
from findsdesk.store.models import Bag, Loan


@dataclass(frozen=True, slots=True)
class StoreWaits:
    """How many bags lie in no box, and how many loans are overdue on the day it is asked."""

    unboxed: int
    overdue: int


def store_waits(desk: Desk) -> StoreWaits:
    """Return what waits at the shelves."""
    with desk.reading() as reading:
        today = reading.now.astimezone(desk.facts.zone).date()
        unboxed = select(func.count()).select_from(Bag).where(Bag.box_id.is_(None), Bag.pieces > 0)
        late = select(func.count()).select_from(Loan).where(Loan.back_on.is_(None), Loan.due_on < today)
        session = reading.session
        return StoreWaits(session.execute(unboxed).scalar_one(), session.execute(late).scalar_one())
