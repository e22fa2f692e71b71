"""Rows written as their lines say, without the session's own watch: for what follows from two stores put together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, datetime
from functools import cache
from typing import Any

import sqlalchemy
from sqlalchemy import BigInteger, Date, Table, delete, insert, select, update
from sqlalchemy.orm import Session

from findsdesk.domain.natural_order import folded
from findsdesk.store.every_table import model_of, table_named
from findsdesk.store.journal import Change, Changes, moment_of, plain
from findsdesk.store.models import Moment
from findsdesk.store.models.base import Searched


class ValueUnreadable(ValueError):
    """A line holds what its column cannot: ``column`` names it."""

    def __init__(self, kind: str, column: str) -> None:
        super().__init__(f"{kind}.{column}")
        self.kind, self.column = kind, column


def table_of(kind: str) -> Table:
    """Return the table of a kind of row."""
    return table_named(kind)


def stored(kind: str, values: dict[str, Any]) -> dict[str, Any]:
    """Return a line's plain values as they are stored. Raises ``ValueUnreadable``."""
    columns = table_of(kind).columns
    read: dict[str, Any] = {}
    for name, value in values.items():
        if name not in columns:
            raise ValueUnreadable(kind, name)
        try:
            read[name] = _stored(columns[name].type, value)
        except (ValueError, TypeError, AttributeError) as error:
            raise ValueUnreadable(kind, name) from error
    return read


def _stored(column: Any, value: Any) -> Any:
    if value is None:
        return None
    if isinstance(column, Moment):
        return round(datetime.fromisoformat(value).timestamp() * 1000)
    return date.fromisoformat(value) if isinstance(column, Date) else value


@cache
def _searched_names(kind: str) -> tuple[str, ...]:
    model = model_of(kind)
    return model.SEARCHED if issubclass(model, Searched) else ()


def searched(kind: str, values: dict[str, Any]) -> dict[str, Any]:
    """Return the folded words of a row where its table keeps them."""
    names = _searched_names(kind)
    said = " ".join(str(values[name]) for name in names if values.get(name))
    return {"search_text": folded(said)} if names else {}


def put_row(
    session: Session,
    kind: str,
    row_id: int,
    version: int | None,
    values: dict[str, Any] | None,
    *,
    instead: Mapping[str, Any] | None = None,
) -> None:
    """Let a row be what its lines say: written, changed, or taken away; ``instead``: other values for a while.

    Raises ``ValueUnreadable``.
    """
    table = raw_table(kind)
    if values is None:
        session.execute(delete(table).where(table.c.id == row_id))
        return
    row = stored(kind, values) | searched(kind, values) | {"id": row_id, **(instead or {})}
    if version is not None:
        row["version"] = version
    done: Any = session.execute(update(table).where(table.c.id == row_id).values(**row))
    if not done.rowcount:
        session.execute(insert(table).values(**(_left_out(kind) | row)))


def set_columns(session: Session, kind: str, row_id: int, values: dict[str, Any]) -> None:
    """Set stored values of a row without a line: on the way to what its line will say."""
    table = raw_table(kind)
    session.execute(update(table).where(table.c.id == row_id).values(**values))


def raw_table(kind: str) -> Any:
    """Return a table whose moments are the milliseconds they are kept in."""
    columns = (
        sqlalchemy.column(one.name, BigInteger() if isinstance(one.type, Moment) else one.type)
        for one in table_of(kind).columns
    )
    return sqlalchemy.table(kind, *columns)


def _left_out(kind: str) -> dict[str, Any]:
    """Return what the columns of a row hold of which nothing was said."""
    said = {one.name: getattr(one.default, "arg", None) for one in table_of(kind).columns}
    return {name: ([] if callable(value) else value) for name, value in said.items()}


def plain_columns(session: Session, kind: str, row_id: int, names: Iterable[str]) -> dict[str, Any] | None:
    """Return some columns of a row as plain values, or None where there is no such row."""
    table, wanted = raw_table(kind), list(names)
    row = session.execute(select(*(table.c[name] for name in wanted)).where(table.c.id == row_id)).one_or_none()
    if row is None:
        return None
    columns = table_of(kind).columns
    return {
        name: moment_of(value) if isinstance(columns[name].type, Moment) else plain(value)
        for name, value in zip(wanted, row, strict=True)
    }


def tell_change(
    session: Session,
    changes: Changes,
    kind: str,
    row_id: int,
    after: dict[str, Any],
    *,
    even_if_same: bool = False,
    before: dict[str, Any] | None = None,
) -> bool:
    """Change columns of a row to plain values and tell it in a line; tells whether there was anything to change.

    ``before``: what the columns held, where something else stands in them on the way.
    """
    versions = ["version"] if "version" in table_of(kind).columns else []
    now = plain_columns(session, kind, row_id, [*after, *versions])
    if now is None:
        return False
    version = now.pop("version", None)
    if now == after and not even_if_same:
        return False
    version = None if version is None else version + 1
    values = stored(kind, after) | ({} if version is None else {"version": version})
    set_columns(session, kind, row_id, values)
    words = _searched_names(kind)
    if after.keys() & set(words):
        set_columns(session, kind, row_id, searched(kind, plain_columns(session, kind, row_id, words) or {}))
    changes.rows.append(Change(kind, row_id, version, before or now, after))
    return True


def tell_new(
    session: Session, changes: Changes, kind: str, row_id: int, version: int | None, whole: dict[str, Any]
) -> None:
    """Write a row whole, with the version it has from now on, and tell it in a line as one that is new."""
    put_row(session, kind, row_id, version, whole)
    changes.rows.append(Change(kind, row_id, version, None, whole))


def tell_gone(session: Session, changes: Changes, kind: str, row_id: int, whole: dict[str, Any]) -> None:
    """Take a row away and tell it in a line."""
    table = raw_table(kind)
    has_version = "version" in table_of(kind).columns
    version = session.execute(select(table.c.version).where(table.c.id == row_id)).scalar() if has_version else None
    put_row(session, kind, row_id, version, None)
    changes.rows.append(Change(kind, row_id, version, whole, None))
