"""Who decided the lines of discard lists: whoever last made a group or piece a discard before its list was made."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import ColumnElement, and_, select
from sqlalchemy.orm import Session

from findsdesk.domain.balance import Decision
from findsdesk.store.models import Act, DiscardLine, DiscardList, Line, Piece, SherdGroup


@dataclass(frozen=True, slots=True)
class Decider:
    """A person who decided a line; ``id`` is None for somebody who is not of the team."""

    id: int | None
    name: str


def deciders(session: Session, of_lines: ColumnElement[bool]) -> Mapping[int, Decider]:
    """Return who decided each of the lines for which a condition is true, by the id of the line.

    Read from the journal: a decision is no column that names a person, and a later change of count or note is none.
    """
    found: dict[int, Decider] = {}
    for kind, own in ((SherdGroup.__tablename__, DiscardLine.group_id), (Piece.__tablename__, DiscardLine.piece_id)):
        rows = session.execute(
            select(
                DiscardLine.id,
                DiscardList.made_at,
                Act.person_id,
                Act.person_name,
                Act.happened_at,
                Line.before,
                Line.after,
            )
            .join(DiscardList, DiscardLine.list_id == DiscardList.id)
            .join(Line, and_(Line.kind == kind, Line.row_id == own))
            .join(Act, Line.act_id == Act.id)
            .where(of_lines, own.is_not(None))
            .order_by(DiscardLine.id, Act.happened_at, Act.written_at, Act.running)
        )
        for line_id, made_at, person_id, name, happened_at, before, after in rows:
            if _decides(before, after) and (happened_at <= made_at or line_id not in found):
                found[line_id] = Decider(person_id, name)
    return found


def _decides(before: Mapping[str, Any] | None, after: Mapping[str, Any] | None) -> bool:
    """Return whether a change made its row a discard that was none."""
    if after is None or after.get("decision") != Decision.DISCARD:
        return False
    return before is None or before.get("decision") != Decision.DISCARD
