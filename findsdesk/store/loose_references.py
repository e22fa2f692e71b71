"""References that are looked at when all is written: rows that point at one another may come in any order."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import text
from sqlalchemy.orm import Session


@contextmanager
def looked_at_in_the_end(session: Session) -> Iterator[None]:
    """Let references lead nowhere until the block is left; on a server they are then looked at, on a file at commit.

    A server's constraints are made deferrable within the transaction and strict again before it ends (PostgreSQL's
    documentation, ALTER TABLE, "ALTER CONSTRAINT"), so that nobody else ever sees them loose.
    """
    connection = session.connection()
    if connection.dialect.name == "sqlite":
        connection.execute(text("PRAGMA defer_foreign_keys = ON"))
        yield
        return
    _let(session, "DEFERRABLE")
    connection.execute(text("SET CONSTRAINTS ALL DEFERRED"))
    yield
    session.flush()
    connection.execute(text("SET CONSTRAINTS ALL IMMEDIATE"))
    _let(session, "NOT DEFERRABLE")


_REFERENCES = text(
    "SELECT conrelid::regclass::text, quote_ident(conname) FROM pg_constraint "
    "WHERE contype = 'f' AND connamespace = current_schema()::regnamespace"
)


def _let(session: Session, how: str) -> None:
    connection = session.connection()
    for table, name in connection.execute(_REFERENCES).all():
        connection.execute(text(f"ALTER TABLE {table} ALTER CONSTRAINT {name} {how}"))
