"""The insert that can also change a row which is there already: each database has its own, loaded where it is used."""

from __future__ import annotations

from typing import Any


def insert_for(dialect: str) -> Any:
    """Return the insert with ``on_conflict_do_update`` of a database, "sqlite" or "postgresql".

    The server's is large and is loaded only where there is a server.
    """
    if dialect == "postgresql":
        from sqlalchemy.dialects import postgresql

        return postgresql.insert
    from sqlalchemy.dialects import sqlite

    return sqlite.insert
