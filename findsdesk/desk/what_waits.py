"""How much waits at each bench; the rail says it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.store.models import Bag, Container, Note, Part, RowSetAside


@dataclass(frozen=True, slots=True)
class Waits:
    """How much waits at each bench; the rail says it."""

    unaccounted: int
    on_pallet: int
    questions: int
    soaking: int
    soaking_too_long: int
    dry_waiting: int
    bags_to_label: int


def waits(desk: Desk) -> Waits:
    """Return how much waits at each bench."""
    with desk.reading() as reading:
        return waits_in(reading.session, soaking_too_long(reading.session, desk, reading.now))


def waits_in(session: Session, too_long: list[tuple[str, datetime]]) -> Waits:
    """Return how much waits, with what lies too long in a tub looked up already."""
    counts: dict[str, int] = dict(
        session.execute(
            select(Container.standing, func.count())
            .where(Container.standing.in_(("listed", "missing", "arrived", "soaking", "dry")))
            .group_by(Container.standing)
        ).all()
    )
    return Waits(
        unaccounted=counts.get("missing", 0) + counts.get("listed", 0),
        on_pallet=counts.get("arrived", 0),
        questions=_number(session, select(func.count()).where(Note.answered_at.is_(None)))
        + _number(session, select(func.count()).where(RowSetAside.answered_at.is_(None))),
        soaking=counts.get("soaking", 0),
        soaking_too_long=len(too_long),
        dry_waiting=counts.get("dry", 0),
        bags_to_label=_number(session, select(func.count()).where(Bag.labelled_at.is_(None))),
    )


def _number(session: Session, statement: Any) -> int:
    return int(session.execute(statement).scalar_one())


def soaking_too_long(session: Session, desk: Desk, now: datetime) -> list[tuple[str, datetime]]:
    """Return the containers that lie in a tub beyond the longest soak, each with the moment it went in."""
    limit = now - timedelta(hours=desk.facts.settings.soak_longest_h)
    rows = session.execute(
        select(Container.number, func.min(Part.since))
        .join(Part, Part.container_id == Container.id)
        .where(Part.place_kind == "tub", Part.since < limit)
        .group_by(Container.id, Container.number, Container.number_key)
        .order_by(Container.number_key)
    ).all()
    return [(number, since) for number, since in rows]
