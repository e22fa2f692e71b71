"""What was done since to the rows of an act that is to be taken back, and to what those rows were of."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any

from sqlalchemy import and_, or_, select
from sqlalchemy.orm import Session

from findsdesk.domain.refusals import Refusal
from findsdesk.domain.taking_back import Found
from findsdesk.store.models import Act, Container, Form, Line, Piece, SherdGroup, Ware
from findsdesk.words import N_

ROWS = (SherdGroup.__tablename__, Piece.__tablename__)
"""The tables of what lies sorted."""
IN_VESSELS = ("gather_vessel", "leave_vessel")
_NAMED: tuple[tuple[str, Any], ...] = (("ware_id", Ware), ("form_id", Form))
"""What a row points at that may be no more."""


def later_of_another_kind(session: Session, found: Found, turned: Collection[str]) -> Act | None:
    """Return the newest later act on one of the rows whose deed is none of ``turned``: a merger, a sample.

    Rows of a table that were put into a vessel are taken out in turn, what was done with pieces of one is not.
    """
    past = session.get_one(Act, found.act.id)
    at_once = and_(Act.written_at == past.written_at, Act.station_id == past.station_id, Act.running > past.running)
    acts = session.execute(
        select(Act)
        .join(Line, Line.act_id == Act.id)
        .where(
            Line.kind.in_(ROWS),
            Line.row_id.in_(found.rows),
            or_(Act.deed.not_in(turned), Act.deed.in_(IN_VESSELS)),
            or_(Act.written_at > past.written_at, at_once),
        )
        .order_by(Act.written_at.desc(), Act.running.desc())
    ).scalars()
    return next((act for act in acts if act.deed not in IN_VESSELS or not of_rows_alone(session, act.id)), None)


def of_rows_alone(session: Session, act_id: str) -> bool:
    """Tell whether an act changed rows of tables and no piece: of each table its own are taken back there."""
    kinds = session.execute(select(Line.kind).where(Line.act_id == act_id, Line.kind.in_(ROWS)).distinct()).scalars()
    return list(kinds) == [SherdGroup.__tablename__]


def refuse_gone(session: Session, container: Container, before: Mapping[str, Any]) -> None:
    """Refuse to say of a row again that it is of a ware or form that is no more, or merged: ``type_gone``."""
    for column, kind in _NAMED:
        if before.get(column) is None:
            continue
        row = session.get(kind, before[column])
        if row is None or getattr(row, "merged_into_id", None) is not None:
            later = _last_act_on(session, kind, before[column])
            raise Refusal(
                "type_gone",
                N_("What that row of {container} {number} was of is no more ({person}: {said}). Write it again."),
                number=container.number,
                person=later.person_name,
                said=later.said,
            )


def _last_act_on(session: Session, kind: Any, row_id: int) -> Act:
    return session.execute(
        select(Act)
        .join(Line, Line.act_id == Act.id)
        .where(Line.kind == kind.__tablename__, Line.row_id == row_id)
        .order_by(Act.written_at.desc(), Act.running.desc())
        .limit(1)
    ).scalar_one()
