"""What is decided as discard and stands on no list yet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Select, Subquery, func, literal, select, union_all
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.listed_discards import standing_lines
from findsdesk.domain.balance import Decision
from findsdesk.domain.routes import Standing
from findsdesk.store.models import Container, Deposit, DiscardLine, DiscardList, Piece, SherdGroup
from findsdesk.store.sorted_sherds import GROUP, PIECE


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
        sherds = unlisted_sherds().c
        settled = Container.standing.in_(SETTLED)
        rows = reading.session.execute(
            select(
                settled,
                func.sum(sherds.pieces),
                func.sum(sherds.tenths),
                func.count(func.distinct(sherds.container_id)),
            )
            .join(Container, sherds.container_id == Container.id)
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
    """Return kind, id and container_id of what is decided as discard in settled containers and is on no list yet."""
    sherds = unlisted_sherds().c
    return session.execute(
        select(sherds.kind, sherds.id, sherds.container_id)
        .join(Container, sherds.container_id == Container.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .where(Container.standing.in_(SETTLED), Container.season_id == season_id)
        .order_by(Deposit.number_key, Container.number_key, Container.id, sherds.kind, sherds.id)
    ).all()


def unlisted_sherds() -> Subquery:
    """Return what is decided as discard and on no list, as one table of groups and pieces.

    Each kind asks for its own line by its own index; asked for both at once, a large store would be walked row by row.
    """
    return union_all(
        *(
            select(
                literal(kind).label("kind"),
                of.id.label("id"),
                of.container_id.label("container_id"),
                of.pieces.label("pieces"),
                of.tenths.label("tenths"),
            ).where(of.decision == Decision.DISCARD, of.discarded.is_(False), ~_listed(own, of.id).exists())
            for kind, of, own in (
                (GROUP, SherdGroup, DiscardLine.group_id),
                (PIECE, Piece, DiscardLine.piece_id),
            )
        )
    ).subquery("unlisted")


def _listed(own: Any, row_id: Any) -> Select[Any]:
    lines = select(DiscardLine.id).join(DiscardList, DiscardLine.list_id == DiscardList.id)
    return lines.where(own == row_id, *standing_lines())
