"""Comparing rows with the journal: what the lines say of a row, one upon the other, is what stands in its table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Mapper, Session

from findsdesk.store.journal import DERIVED, plain
from findsdesk.store.models import Act, Base, Editable, Journaled, Line


@dataclass(frozen=True, slots=True)
class WrongRow:
    """A row that is not as the journal says."""

    why: str
    """'differs', 'untold' (the journal does not know it) or 'gone' (the journal knows it, the table does not)."""
    kind: str
    row_id: int
    columns: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Told:
    """What the lines say of one row in the end; ``values`` None: it was taken out."""

    row_id: int
    version: int | None
    values: dict[str, Any] | None


def wrong_rows(session: Session) -> Iterator[WrongRow]:
    """Yield each row of a journaled table that differs from what its lines say."""
    for mapper in sorted(Base.registry.mappers, key=lambda one: str(one.local_table)):
        if issubclass(mapper.class_, Journaled):
            yield from _compare(session, mapper)


def _compare(session: Session, mapper: Mapper[Any]) -> Iterator[WrongRow]:
    kind = str(mapper.local_table)
    names = [column.key for column in mapper.column_attrs]
    rows = session.execute(
        select(*(getattr(mapper.class_, name) for name in names))
        .order_by(mapper.class_.id)
        .execution_options(yield_per=2000)
    )
    stored = ({name: plain(value) for name, value in zip(names, row, strict=True)} for row in rows)
    told = _told(session, kind, editable=issubclass(mapper.class_, Editable))
    one, other = next(stored, None), next(told, None)
    while one is not None or other is not None:
        if other is None or (one is not None and one["id"] < other.row_id):
            assert one is not None
            yield WrongRow("untold", kind, one["id"])
            one = next(stored, None)
        elif one is None or other.row_id < one["id"]:
            if other.values is not None:
                yield WrongRow("gone", kind, other.row_id)
            other = next(told, None)
        else:
            columns = _differing(one, other)
            if columns:
                yield WrongRow("differs", kind, other.row_id, columns)
            one, other = next(stored, None), next(told, None)


def _differing(row: dict[str, Any], told: _Told) -> tuple[str, ...]:
    """Return the columns in which a row differs from what was told; a row that was taken out differs in its id."""
    if told.values is None:
        return ("id",)
    columns = [name for name, value in row.items() if name not in DERIVED and told.values.get(name) != value]
    if row.get("version") != told.version:
        columns.append("version")
    return tuple(columns)


def _told(session: Session, kind: str, *, editable: bool) -> Iterator[_Told]:
    lines = session.execute(
        select(Line.row_id, Line.row_version, Line.act_id, Line.ordinal, Line.after)
        .where(Line.kind == kind)
        .order_by(Line.row_id)
        .execution_options(yield_per=2000)
    )
    for row_id, of_one in groupby(lines, key=lambda line: line.row_id):
        together = _in_order(session, list(of_one), editable=editable)
        values: dict[str, Any] | None = None
        for line in together:
            values = None if line.after is None else {**(values or {}), **line.after}
        yield _Told(row_id, together[-1].row_version, values)


def _in_order(session: Session, lines: Sequence[Any], *, editable: bool) -> Sequence[Any]:
    """Return a row's lines as they were written: by version, or by their acts where a row has none."""
    if len(lines) == 1:
        return lines
    if editable:
        return sorted(lines, key=lambda line: (line.row_version, line.after is None))
    acts = select(Act.id, Act.written_at, Act.running).where(Act.id.in_([line.act_id for line in lines]))
    when = {act_id: (written_at, running) for act_id, written_at, running in session.execute(acts)}
    return sorted(lines, key=lambda line: (*when[line.act_id], line.ordinal))
