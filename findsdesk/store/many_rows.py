"""Many new rows of one kind at once, each with its line: what a table of a hundred thousand rows becomes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from operator import itemgetter
from typing import Any, cast

from sqlalchemy import Date, Table, inspect
from sqlalchemy.orm import Session

from findsdesk.domain.natural_order import folded
from findsdesk.store.journal import DERIVED, INTO_TABLES, Change, Changes, left_out, plain
from findsdesk.store.models import Editable, Journaled, Moment
from findsdesk.store.models.base import Searched
from findsdesk.store.rows_at_once import insert_rows

FIRST_VERSION = 1


def write_many(session: Session, changes: Changes, kind: type[Journaled], rows: Iterable[dict[str, Any]]) -> int:
    """Put new rows into their table, each with its id, and tell the journal of them; returns how many.

    What a row leaves out holds what it holds when nothing is said of it; rows it may point to are flushed first.
    """
    if session.new:
        session.flush()
    table = cast("Table", inspect(kind).local_table)
    whole = [_whole(kind, table, row) for row in rows]
    if not whole:
        return 0
    names, of = tuple(table.columns.keys()), len(whole)
    changes.passed(INTO_TABLES, 0, of)
    values = map(itemgetter(*names), whole)
    insert_rows(session.connection(), table, names, values, lambda done: changes.passed(INTO_TABLES, done, of))
    version = FIRST_VERSION if issubclass(kind, Editable) else None
    told = _told(table, whole)
    changes.rows.extend(
        Change(table.name, row["id"], version, None, after) for row, after in zip(whole, told, strict=True)
    )
    return len(whole)


def _whole(kind: type[Journaled], table: Table, row: dict[str, Any]) -> dict[str, Any]:
    whole = {**left_out(table), **row}
    if issubclass(kind, Editable):
        whole["version"] = FIRST_VERSION
    if issubclass(kind, Searched):
        whole["search_text"] = folded(" ".join(str(whole[name]) for name in kind.SEARCHED if whole[name]))
    return whole


def _told(table: Table, rows: Sequence[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    """Yield what the journal is told of each row: days and moments spelled, each different one once."""
    names = tuple(column.name for column in table.columns if column.name not in DERIVED)
    columns: list[Sequence[Any]] = list(zip(*map(itemgetter(*names), rows), strict=True))
    for place, name in enumerate(names):
        if isinstance(table.c[name].type, Moment | Date):
            spelled = {value: plain(value) for value in set(columns[place])}
            columns[place] = [spelled[value] for value in columns[place]]
    for values in zip(*columns, strict=True):
        yield dict(zip(names, values, strict=True))
