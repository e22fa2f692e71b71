"""How much waits at each bench; the rail says it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.label_batches import how_many_wait
from findsdesk.desk.label_contents import PrintKind
from findsdesk.desk.mark_sums import unmarked
from findsdesk.desk.shipped import route_of
from findsdesk.desk.sorting_table import how_many_dry
from findsdesk.desk.unaccounted import count_unaccounted
from findsdesk.domain.routes import Standing
from findsdesk.store.models import Container, Note, Part, RowSetAside


@dataclass(frozen=True, slots=True)
class Waits:
    """How much waits at each bench; the rail says it."""

    unaccounted: int
    on_pallet: int
    """Checked in, not held back, and waiting for their look or their water."""
    for_water: int
    """Those of them whose material is washed."""
    asked: int
    """Open questions about a container: its tag says one thing, the list another."""
    rows_aside: int
    """Rows of field lists set aside with a question."""
    soaking: int
    soaking_too_long: int
    dry_waiting: int
    bags_to_label: int
    to_mark: int
    """Kept sherds of sorted containers without mark or slip."""

    @property
    def questions(self) -> int:
        """Return all that the field is asked."""
        return self.asked + self.rows_aside


def waits(desk: Desk) -> Waits:
    """Return how much waits at each bench."""
    with desk.reading() as reading:
        return waits_in(reading.session, desk, soaking_too_long(reading.session, desk, reading.now))


def waits_in(session: Session, desk: Desk, too_long: list[tuple[str, datetime]]) -> Waits:
    """Return how much waits, with what lies too long in a tub looked up already."""
    on_pallet, for_water = _on_pallet(session)
    return Waits(
        unaccounted=count_unaccounted(session),
        on_pallet=on_pallet,
        for_water=for_water,
        asked=_number(session, select(func.count()).where(Note.answered_at.is_(None))),
        rows_aside=_number(session, select(func.count()).where(RowSetAside.answered_at.is_(None))),
        soaking=_number(session, select(func.count()).where(Container.standing == Standing.SOAKING)),
        soaking_too_long=len(too_long),
        dry_waiting=how_many_dry(session, desk),
        bags_to_label=how_many_wait(session, PrintKind.BAG),
        to_mark=unmarked(session, desk.facts.settings),
    )


def _on_pallet(session: Session) -> tuple[int, int]:
    """Return how many containers are here and wait for their look, and how many of them may be washed."""
    rows = session.execute(
        select(Container.material, func.count())
        .where(Container.standing == Standing.ARRIVED, Container.held_for.is_(None))
        .group_by(Container.material)
    ).all()
    return sum(many for _material, many in rows), sum(many for material, many in rows if route_of(material).wash)


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
