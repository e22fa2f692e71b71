"""What stands on a discard list is not changed behind its back: it is taken off or called back first."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import ColumnElement, select
from sqlalchemy.orm import Session

from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Container, DiscardLine, DiscardList, Piece, SherdGroup
from findsdesk.words import N_


def need_off_lists(session: Session, row: SherdGroup | Piece) -> None:
    """Refuse to change a group or piece that stands on a discard list: ``on_discard_list``, ``carried_off``."""
    own = DiscardLine.group_id if isinstance(row, SherdGroup) else DiscardLine.piece_id
    stands = session.execute(
        select(DiscardList)
        .join(DiscardLine, DiscardLine.list_id == DiscardList.id)
        .where(own == row.id, *standing_lines())
        .limit(1)
    ).scalar_one_or_none()
    if stands is None:
        return
    if stands.carried_at is not None:
        raise Refusal(
            "carried_off",
            N_("These sherds were carried away with discard list {number}. Add a note to that list instead."),
            number=stands.number,
        )
    raise Refusal(
        "on_discard_list",
        N_("These sherds stand on discard list {number}. Take them off the list or call them back first."),
        number=stands.number,
    )


def need_no_open_list(session: Session, container_ids: Sequence[int]) -> None:
    """Refuse what changes a container while some of it waits on a discard list: ``container_on_list``."""
    stands = session.execute(
        select(Container.number, DiscardList.number)
        .select_from(DiscardLine)
        .join(DiscardList, DiscardLine.list_id == DiscardList.id)
        .join(Container, DiscardLine.container_id == Container.id)
        .where(DiscardLine.container_id.in_(container_ids), DiscardList.carried_at.is_(None), *standing_lines())
        .order_by(Container.number_key)
        .limit(1)
    ).first()
    if stands is not None:
        raise Refusal(
            "container_on_list",
            N_("Sherds of {container} {number} wait on discard list {list}. Take them off or call them back first."),
            number=stands[0],
            list=stands[1],
        )


def standing_lines() -> tuple[ColumnElement[bool], ColumnElement[bool]]:
    """Return what is true of a line that still stands on its list."""
    return DiscardLine.called_back_at.is_(None), DiscardList.withdrawn_at.is_(None)
