"""Discard lists proved: what stands on one is there as it was listed, and only what was signed for is discarded."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from sqlalchemy import and_, select
from sqlalchemy.orm import Session

from findsdesk.domain.balance import Decision
from findsdesk.store.models import Container, DiscardLine, DiscardList, Piece, SherdGroup


@dataclass(frozen=True, slots=True)
class WrongDiscard:
    """A line of a list that disagrees with its sherds, or discarded sherds on no signed list (``list_number`` None)."""

    why: str
    """'gone', 'differs' (pieces, grams or decision), 'unsigned' (discarded, but no list with them is signed)."""
    list_number: int | None
    container: str


# Groups and pieces are asked for apart, each by the index of its own lines.
_KINDS: tuple[tuple[Any, Any], ...] = ((SherdGroup, DiscardLine.group_id), (Piece, DiscardLine.piece_id))
_STANDS = and_(DiscardLine.called_back_at.is_(None), DiscardList.withdrawn_at.is_(None))


def wrong_discards(session: Session) -> Iterator[WrongDiscard]:
    """Yield each line that stands and disagrees with its sherds, then discarded sherds that nobody signed for."""
    for kind, own in _KINDS:
        yield from _wrong_lines(session, kind, own)
    for kind, own in _KINDS:
        yield from _unsigned(session, kind, own)


def _wrong_lines(session: Session, kind: Any, own: Any) -> Iterator[WrongDiscard]:
    lines = session.execute(
        select(
            DiscardList.number,
            Container.number,
            DiscardList.signed_at,
            DiscardLine.container_id,
            DiscardLine.pieces,
            DiscardLine.tenths,
            kind.id,
            kind.container_id,
            kind.pieces,
            kind.tenths,
            kind.decision,
            kind.discarded,
        )
        .select_from(DiscardLine)
        .join(DiscardList, DiscardLine.list_id == DiscardList.id)
        .join(Container, DiscardLine.container_id == Container.id)
        .outerjoin(kind, own == kind.id)
        .where(_STANDS, own.is_not(None))
        .order_by(DiscardList.id, DiscardLine.id)
    )
    for number, container, signed_at, where, pieces, tenths, row_id, *there in lines:
        if row_id is None:
            yield WrongDiscard("gone", number, container)
        elif there != [where, pieces, tenths, Decision.DISCARD, signed_at is not None]:
            yield WrongDiscard("differs", number, container)


def _unsigned(session: Session, kind: Any, own: Any) -> Iterator[WrongDiscard]:
    listed = (
        select(DiscardLine.id)
        .join(DiscardList, DiscardLine.list_id == DiscardList.id)
        .where(own == kind.id, _STANDS, DiscardList.signed_at.is_not(None))
    )
    containers = session.execute(
        select(Container.number)
        .join(kind, kind.container_id == Container.id)
        .where(kind.discarded, ~listed.exists())
        .order_by(Container.number_key, kind.id)
    ).scalars()
    for container in containers:
        yield WrongDiscard("unsigned", None, container)
