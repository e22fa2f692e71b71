"""What is decided as discard and stands on no list yet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import and_, func, or_, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.listed_discards import standing_lines
from findsdesk.domain.balance import Decision
from findsdesk.domain.routes import Standing
from findsdesk.store.models import Container, Deposit, DiscardLine, DiscardList
from findsdesk.store.sorted_sherds import GROUP, sorted_sherds


@dataclass(frozen=True, slots=True)
class Unlisted:
    """What is decided as discard in settled containers and on no list yet; ``unsettled`` pieces are still sorted."""

    pieces: int
    tenths: int
    containers: int
    unsettled: int


def unlisted_discards(desk: Desk) -> Unlisted:
    """Return how much is decided as discard and on no list yet."""
    with desk.reading() as reading:
        sherds = sorted_sherds("id", "container_id", "pieces", "tenths", "decision", "discarded").c
        settled = Container.standing.in_(SETTLED)
        rows = reading.session.execute(
            select(
                settled,
                func.sum(sherds.pieces),
                func.sum(sherds.tenths),
                func.count(func.distinct(sherds.container_id)),
            )
            .join(Container, sherds.container_id == Container.id)
            .where(_unlisted(sherds))
            .group_by(settled)
        ).all()
    found = {bool(row[0]): row for row in rows}
    ready = found.get(True)
    waiting = found.get(False)
    return Unlisted(
        pieces=ready[1] if ready else 0,
        tenths=(ready[2] or 0) if ready else 0,
        containers=ready[3] if ready else 0,
        unsettled=waiting[1] if waiting else 0,
    )


SETTLED = (Standing.SETTLED, Standing.BAGGED)


def to_list(session: Session, season_id: int) -> Sequence[Any]:
    """Return kind and id of what is decided as discard in settled containers of a season and is on no list yet."""
    sherds = sorted_sherds("id", "container_id", "decision", "discarded").c
    return session.execute(
        select(sherds.kind, sherds.id)
        .join(Container, sherds.container_id == Container.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .where(_unlisted(sherds), Container.standing.in_(SETTLED), Container.season_id == season_id)
        .order_by(Deposit.number_key, Container.number_key, Container.id, sherds.kind, sherds.id)
    ).all()


def _unlisted(sherds: Any) -> Any:
    of_it = or_(
        and_(sherds.kind == GROUP, DiscardLine.group_id == sherds.id),
        and_(sherds.kind != GROUP, DiscardLine.piece_id == sherds.id),
    )
    listed = (
        select(DiscardLine.id).join(DiscardList, DiscardLine.list_id == DiscardList.id).where(of_it, *standing_lines())
    )
    return and_(sherds.decision == Decision.DISCARD, sherds.discarded.is_(False), ~listed.exists())
