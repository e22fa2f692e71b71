"""What is signed for as a discard and still lies here: on a signed list that was not carried away."""

from __future__ import annotations

from collections.abc import Mapping

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.listed_discards import standing_lines
from findsdesk.store.models import Container, DiscardLine, DiscardList


def signed_not_carried(
    session: Session, *, season_id: int | None = None, deposit_id: int | None = None
) -> Mapping[str, int]:
    """Return the pieces of each material that are signed for and not carried away: they can still be called back."""
    wanted = (
        select(Container.material, func.sum(DiscardLine.pieces))
        .select_from(DiscardLine)
        .join(DiscardList, DiscardLine.list_id == DiscardList.id)
        .join(Container, DiscardLine.container_id == Container.id)
        .where(DiscardList.signed_at.is_not(None), DiscardList.carried_at.is_(None), *standing_lines())
        .group_by(Container.material)
    )
    if season_id is not None:
        wanted = wanted.where(Container.season_id == season_id)
    if deposit_id is not None:
        wanted = wanted.where(Container.deposit_id == deposit_id)
    return {material: int(pieces) for material, pieces in session.execute(wanted)}
