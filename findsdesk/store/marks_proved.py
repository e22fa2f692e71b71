"""Ticks of marks proved: no more sherds bear a mark or a slip than are kept, and no more are checked than written."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import case, func, select
from sqlalchemy.orm import Session

from findsdesk.store.models import BalanceTotal, Container, MarkEntry


@dataclass(frozen=True, slots=True)
class WrongMarks:
    """A container whose ticks cannot be: more ``marked`` than ``kept``, or a text checked more than written."""

    why: str
    """'kept' (more marked than kept) or 'checked' (a text with more checks than marks, or with fewer than none)."""
    container: str
    marked: int
    kept: int
    container_id: int


def _sum(*signs: tuple[str, int]) -> Any:
    return func.sum(case(*((MarkEntry.kind == kind, sign * MarkEntry.pieces) for kind, sign in signs), else_=0))


_WRITTEN = _sum(("written", 1), ("wrong", -1))
_CHECKED = _sum(("checked", 1))
_SLIPS = _sum(("slip", 1))


def wrong_marks(session: Session, sorted_standings: Sequence[str]) -> Iterator[WrongMarks]:
    """Yield what cannot be; containers back on the table may bear more than is kept until they are settled."""
    yield from _more_than_kept(session, sorted_standings)
    rows = session.execute(
        select(Container.number, _WRITTEN, _CHECKED, Container.id)
        .join(MarkEntry, MarkEntry.container_id == Container.id)
        .group_by(Container.id, MarkEntry.piece_id, MarkEntry.said)
        .having((_CHECKED > _WRITTEN) | (_CHECKED < 0) | (_WRITTEN < 0) | (_SLIPS < 0))
        .order_by(Container.number_key, Container.id)
    )
    for number, written, checked, container_id in rows:
        yield WrongMarks("checked", number, int(checked), int(written), container_id)


def _more_than_kept(session: Session, sorted_standings: Sequence[str]) -> Iterator[WrongMarks]:
    marked = (
        select(MarkEntry.container_id, (_WRITTEN + _SLIPS).label("sherds"))
        .group_by(MarkEntry.container_id)
        .subquery("marked")
    )
    kept = func.coalesce(BalanceTotal.kept, 0)
    rows = session.execute(
        select(Container.number, marked.c.sherds, kept, Container.id)
        .join(marked, marked.c.container_id == Container.id)
        .outerjoin(
            BalanceTotal,
            (BalanceTotal.container_id == Container.id) & (BalanceTotal.material == Container.material),
        )
        .where(marked.c.sherds > kept, Container.standing.in_(sorted_standings))
        .order_by(Container.number_key, Container.id)
    )
    for number, sherds, of, container_id in rows:
        yield WrongMarks("kept", number, int(sherds), int(of), container_id)
