"""Rows put into a table without the cost that each has when its statement is built for it.

A hundred thousand rows spend more time in preparing their parameters than in the database: here a table's columns are
prepared one after the other, each different day and moment once, and the driver gets plain tuples.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import islice
from typing import Any

from sqlalchemy import Connection, Dialect, FromClause, TableClause

ROWS_AT_ONCE = 10_000


def insert_rows(
    connection: Connection,
    table: TableClause,
    names: Sequence[str],
    rows: Iterable[Sequence[Any]],
    passed: Callable[[int], None] | None = None,
) -> None:
    """Put rows into a table; each holds the values of the named columns in their order, as the program knows them.

    ``passed`` is told how many are in, again and again.
    """
    dialect = connection.dialect
    quote = dialect.identifier_preparer.quote
    marks = ", ".join(["?" if dialect.paramstyle == "qmark" else "%s"] * len(names))
    statement = f"INSERT INTO {quote(table.name)} ({', '.join(map(quote, names))}) VALUES ({marks})"
    coming, done = iter(rows), 0
    while some := list(islice(coming, ROWS_AT_ONCE)):
        connection.exec_driver_sql(statement, _prepared(table, names, some, dialect))
        done += len(some)
        if passed is not None:
            passed(done)


def _prepared(
    table: FromClause, names: Sequence[str], rows: Sequence[Sequence[Any]], dialect: Dialect
) -> list[tuple[Any, ...]]:
    """Return the rows as the driver takes them: moments as numbers, days as its database has them."""
    columns: list[Sequence[Any]] = list(zip(*rows, strict=True))
    for place, name in enumerate(names):
        prepare = table.c[name].type.dialect_impl(dialect).bind_processor(dialect)
        if prepare is not None:
            meant = {value: prepare(value) for value in set(columns[place])}
            columns[place] = [meant[value] for value in columns[place]]
    return list(zip(*columns, strict=True))
