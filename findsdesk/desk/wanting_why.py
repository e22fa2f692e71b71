"""Which rows are decided against a rule and say no reason, asked of the store: what waits for somebody to say why."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import ColumnElement, func, literal_column, select
from sqlalchemy.orm import Session

from findsdesk.store.models import Container, Piece, SherdGroup

_NOTHING: ColumnElement[str] = literal_column("''")
"""Written out, not given beside the statement: only so a database sees that its index of these rows will do."""


def wants_why(kind: type[SherdGroup] | type[Piece]) -> tuple[ColumnElement[bool], ColumnElement[bool]]:
    """Return what holds of the groups, or pieces, that are decided against a rule and say no reason."""
    return kind.proposed != _NOTHING, kind.reason == _NOTHING


@dataclass(frozen=True, slots=True)
class WantingWhy:
    """A container with how many of its rows are decided against a rule and say no reason."""

    code: str
    number: str
    rows: int


def wanting_why_in(session: Session) -> tuple[WantingWhy, ...]:
    """Return the containers with rows that want a reason, as one look at the store sees them."""
    rows = session.execute(
        select(Container.code, Container.number, func.count())
        .join(SherdGroup, SherdGroup.container_id == Container.id)
        .where(*wants_why(SherdGroup))
        .group_by(Container.id, Container.code, Container.number, Container.number_key)
        .order_by(Container.number_key)
    )
    return tuple(WantingWhy(code, number, many) for code, number, many in rows)
