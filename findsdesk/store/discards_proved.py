"""Discard lists proved: what stands on one is there as it was listed, and only what was signed for is discarded."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sqlalchemy import and_, or_, select
from sqlalchemy.orm import Session

from findsdesk.domain.balance import Decision
from findsdesk.store.models import Container, DiscardLine, DiscardList
from findsdesk.store.sorted_sherds import GROUP, sorted_sherds


@dataclass(frozen=True, slots=True)
class WrongDiscard:
    """A line of a list that disagrees with its sherds, or discarded sherds on no signed list (``list_number`` None)."""

    why: str
    """'gone', 'differs' (pieces, grams or decision), 'unsigned' (discarded, but no list with them is signed)."""
    list_number: int | None
    container: str


def wrong_discards(session: Session) -> Iterator[WrongDiscard]:
    """Yield each line that stands and disagrees with its sherds, then discarded sherds that nobody signed for."""
    sherds = sorted_sherds("id", "container_id", "pieces", "tenths", "decision", "discarded").c
    of_it = or_(
        and_(sherds.kind == GROUP, DiscardLine.group_id == sherds.id),
        and_(sherds.kind != GROUP, DiscardLine.piece_id == sherds.id),
    )
    stands = and_(DiscardLine.called_back_at.is_(None), DiscardList.withdrawn_at.is_(None))
    lines = session.execute(
        select(DiscardList.number, Container.number, DiscardList.signed_at, DiscardLine, *sherds)
        .join(DiscardLine, DiscardLine.list_id == DiscardList.id)
        .join(Container, DiscardLine.container_id == Container.id)
        .outerjoin(sherds.id.table, of_it)
        .where(stands)
        .order_by(DiscardList.id, DiscardLine.id)
    )
    for number, container, signed_at, line, _kind, row_id, of, pieces, tenths, decision, discarded in lines:
        if row_id is None:
            yield WrongDiscard("gone", number, container)
        elif (line.container_id, line.pieces, line.tenths, Decision.DISCARD, signed_at is not None) != (
            of,
            pieces,
            tenths,
            decision,
            bool(discarded),
        ):
            yield WrongDiscard("differs", number, container)
    listed = select(DiscardLine.id).join(DiscardList, DiscardLine.list_id == DiscardList.id).where(of_it, stands)
    unsigned = session.execute(
        select(Container.number)
        .join(sherds.id.table, sherds.container_id == Container.id)
        .where(sherds.discarded, ~listed.exists())
        .order_by(Container.number_key, sherds.id)
    ).scalars()
    for container in unsigned:
        yield WrongDiscard("unsigned", None, container)
