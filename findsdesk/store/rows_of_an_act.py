"""The rows that one act made: whether anything was done with them since, and how they go again."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from sqlalchemy import ColumnElement, Table, Text, delete, exists, select, type_coerce
from sqlalchemy.orm import Session, aliased

from findsdesk.store.every_table import every_table
from findsdesk.store.journal import Change, Changes
from findsdesk.store.models import Act, BalanceTotal, Line, WareTotal

_TOTALS = (BalanceTotal.__tablename__, WareTotal.__tablename__)
"""Kept totals follow from other rows; they are put right, not asked about."""


def made_by(session: Session, act_id: str) -> dict[str, int]:
    """Return how many rows of each kind an act made."""
    found: dict[str, int] = {}
    for kind in session.execute(select(Line.kind).where(*_made(act_id))).scalars():
        found[kind] = found.get(kind, 0) + 1
    return found


def _made(act_id: str) -> tuple[ColumnElement[bool], ...]:
    return (Line.act_id == act_id, Line.before.is_(None))


@dataclass(frozen=True, slots=True)
class ChangedRow:
    """A row that an act changed: what its columns said before, and the version that the act gave it."""

    kind: str
    row_id: int
    version: int | None
    before: Mapping[str, object]


def changed_by(session: Session, act_id: str) -> tuple[ChangedRow, ...]:
    """Return the rows that an act changed, those aside that it made or took away."""
    wanted = select(Line).where(Line.act_id == act_id, Line.before.is_not(None), Line.after.is_not(None))
    lines = session.execute(wanted.order_by(Line.ordinal)).scalars()
    return tuple(ChangedRow(line.kind, line.row_id, line.row_version, line.before or {}) for line in lines)


def last_act_on(session: Session, kind: str, row_id: int) -> Act:
    """Return the act that was last written on a row."""
    wanted = select(Act).join(Line, Line.act_id == Act.id).where(Line.kind == kind, Line.row_id == row_id)
    return session.execute(wanted.order_by(Act.written_at.desc(), Act.running.desc()).limit(1)).scalar_one()


def changed_since(session: Session, act_id: str, kinds: Collection[str]) -> Act | None:
    """Return a later act on one of the rows that an act made, or None."""
    later = aliased(Line)
    return session.execute(
        select(Act)
        .join(later, later.act_id == Act.id)
        .join(Line, (Line.kind == later.kind) & (Line.row_id == later.row_id))
        .where(*_made(act_id), Line.kind.in_(kinds), later.act_id != act_id)
        .order_by(Act.written_at.desc())
        .limit(1)
    ).scalar_one_or_none()


def pointed_at_since(session: Session, act_id: str, kinds: Collection[str]) -> str | None:
    """Return the kind of a row of another act that points at one of the rows an act made, or None."""
    for table in every_table():
        if table.name in _TOTALS or "id" not in table.columns:
            continue
        own = aliased(Line)
        not_its_own = ~exists().where(own.act_id == act_id, own.kind == table.name, own.row_id == table.c.id)
        for column in table.columns:
            for key in column.foreign_keys:
                kind = key.column.table.name
                if kind not in kinds:
                    continue
                ours = select(Line.row_id).where(*_made(act_id), Line.kind == kind)
                wanted = select(table.c.id).where(column.in_(ours), not_its_own).limit(1)
                if session.execute(wanted).first() is not None:
                    return table.name
    return None


def take_out(session: Session, changes: Changes, act_id: str, kinds: Collection[str]) -> int:
    """Take out the rows of these kinds that an act made, each with its line; returns how many.

    What points at another row goes before it. The balances of containers that go go with them; the totals of wares
    are for the deed to put right beforehand.
    """
    session.flush()
    ours = {kind: select(Line.row_id).where(*_made(act_id), Line.kind == kind) for kind in kinds}
    if "container" in ours:
        session.execute(delete(BalanceTotal).where(BalanceTotal.container_id.in_(ours["container"])))
    empty = (WareTotal.pieces == 0, WareTotal.tenths == 0)
    for kind, column in (("deposit", WareTotal.deposit_id), ("ware", WareTotal.ware_id)):
        if kind in ours:
            session.execute(delete(WareTotal).where(column.in_(ours[kind]), *empty))
    gone = 0
    for table in reversed(every_table()):
        if table.name in ours:
            told = list(_told(session, act_id, table))
            session.connection().execute(delete(table).where(table.c.id.in_(ours[table.name])))
            changes.rows.extend(told)
            gone += len(told)
    return gone


def _told(session: Session, act_id: str, table: Table) -> Iterator[Change]:
    """Yield the lines that say of each row that it went: nobody changed it since it was made."""
    lines = select(Line.row_id, Line.row_version, type_coerce(Line.after, Text))
    for row_id, version, spelled in session.execute(lines.where(*_made(act_id), Line.kind == table.name)):
        values: Mapping[str, object] = json.loads(spelled)
        yield Change(table.name, row_id, version, dict(values), None)
