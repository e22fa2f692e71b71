"""Comparing rows with the journal: what the lines say of a row, one upon the other, is what stands in its table."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import groupby
from operator import itemgetter
from typing import Any

from sqlalchemy import BigInteger, Date, Table, Text, select, type_coerce
from sqlalchemy.orm import Session

from findsdesk.store.every_table import every_model, table_named
from findsdesk.store.journal import DERIVED, moment_of, plain
from findsdesk.store.models import Act, Journaled, Moment

ROWS_AT_ONCE = 2000
VERSION, ACT, ORDINAL, NEW, AFTER = 1, 2, 3, 4, 5
_LAST = (datetime.max.replace(tzinfo=UTC), 0, 0)


@dataclass(frozen=True, slots=True)
class WrongRow:
    """A row that is not as the journal says."""

    why: str
    """'differs', 'untold' (the journal does not know it) or 'gone' (the journal knows it, the table does not)."""
    kind: str
    row_id: int
    columns: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ToldRow:
    """What the lines say of one row in the end; ``values`` None: it was taken out."""

    row_id: int
    version: int | None
    values: dict[str, Any] | None


def wrong_rows(session: Session) -> Iterator[WrongRow]:
    """Yield each row of a journaled table that differs from what its lines say."""
    for model in every_model():
        if issubclass(model, Journaled):
            yield from _compare(session, table_named(model.__tablename__))


def _compare(session: Session, table: Table) -> Iterator[WrongRow]:
    kind = table.name
    stored, told = _stored(session, table), told_of(session, kind)
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


def _stored(session: Session, table: Table) -> Iterator[dict[str, Any]]:
    """Yield the rows of a table by id, as plain values; moments come as the milliseconds they are kept in."""
    names = [column.name for column in table.columns]
    columns = [type_coerce(one, BigInteger) if isinstance(one.type, Moment) else one for one in table.columns]
    moments = [column.name for column in table.columns if isinstance(column.type, Moment)]
    days = [column.name for column in table.columns if isinstance(column.type, Date)]
    rows = session.connection().execute(select(*columns).order_by(table.c.id).execution_options(yield_per=ROWS_AT_ONCE))
    for row in rows:
        values = dict(zip(names, row, strict=True))
        for name in moments:
            values[name] = moment_of(values[name])
        for name in days:
            values[name] = plain(values[name])
        yield values


def _differing(row: dict[str, Any], told: ToldRow) -> tuple[str, ...]:
    """Return the columns in which a row differs from what was told; a row that was taken out differs in its id."""
    if told.values is None:
        return ("id",)
    columns = [name for name, value in row.items() if name not in DERIVED and told.values.get(name) != value]
    if row.get("version") != told.version:
        columns.append("version")
    return tuple(columns)


def told_of(session: Session, kind: str, ids: Sequence[int] = (), *, never_gone: bool = False) -> Iterator[ToldRow]:
    """Yield what the lines say in the end of each row of a kind, or of some rows, by id.

    ``never_gone``: as if it had never been taken away.
    """
    table = table_named(kind)
    line = table_named("line").c
    wanted = select(
        line.row_id, line.row_version, line.act_id, line.ordinal, line.before.is_(None), type_coerce(line.after, Text)
    ).where(line.kind == kind)
    if ids:
        wanted = wanted.where(line.row_id.in_(ids))
    lines = session.connection().execute(wanted.order_by(line.row_id).execution_options(yield_per=ROWS_AT_ONCE))
    editable = "version" in table.columns
    for row_id, of_one in groupby(_read(lines.partitions()), key=itemgetter(0)):
        together = _in_order(session, list(of_one), editable=editable)
        values: dict[str, Any] | None = None
        for one in together:
            if one[AFTER] is not None or not never_gone:
                values = _upon(values, one)
        yield ToldRow(row_id, together[-1][VERSION], values)


def _upon(values: dict[str, Any] | None, line: tuple[Any, ...]) -> dict[str, Any] | None:
    """Lay a line upon what the ones before it said; of a row taken away only one that brings it whole says anything."""
    if line[AFTER] is None or (values is None and not line[NEW]):
        return None
    return {**(values or {}), **line[AFTER]}


def _read(parts: Iterable[Sequence[Any]]) -> Iterator[tuple[Any, ...]]:
    """Yield lines with what stands after them read; many are read at once, which is many times quicker."""
    for rows in parts:
        spelled = [row[AFTER] or "null" for row in rows]
        try:
            read = json.loads(f"[{','.join(spelled)}]")
        except ValueError:
            read = []
        if len(read) != len(rows):
            read = [_read_one(text) for text in spelled]
        for row, after in zip(rows, read, strict=True):
            yield (*row[:AFTER], after if isinstance(after, dict) else None)


def _read_one(text: str) -> Any:
    """Read one line's values; what cannot be read says nothing of the row."""
    try:
        return json.loads(text)
    except ValueError:
        return {}


def _in_order(session: Session, lines: Sequence[Any], *, editable: bool) -> Sequence[Any]:
    """Return a row's lines in the one order that both of two stores find, whichever acts came first to them.

    By version; two of one version were written apart, and stand by their stations. Rows without versions: the line
    that brings the row first, then by the moments of their acts.
    """
    if len(lines) == 1:
        return lines
    if editable and len({(line[VERSION], line[AFTER] is None) for line in lines}) == len(lines):
        return sorted(lines, key=lambda line: (line[VERSION] or 0, line[AFTER] is None))
    acts = select(Act.id, Act.written_at, Act.station_id, Act.running).where(Act.id.in_([line[ACT] for line in lines]))
    when = {act_id: tuple(told) for act_id, *told in session.execute(acts)}
    if editable:
        return sorted(
            lines,
            key=lambda line: (line[VERSION] or 0, line[AFTER] is None, when.get(line[ACT], _LAST)[1:], line[ORDINAL]),
        )
    return sorted(lines, key=lambda line: (not line[NEW], when.get(line[ACT], _LAST), line[ORDINAL]))
