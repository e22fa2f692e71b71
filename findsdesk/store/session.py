"""Opening a store: engines, the writing and the reading session, and what SQLite needs to lose nothing.

SQLAlchemy's defaults on SQLite open no transaction for a SELECT and so lose updates silently; here a writing session
begins with BEGIN IMMEDIATE and a reading one with BEGIN: the execution option ``findsdesk_begin`` of its engine.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.engine import URL, make_url
from sqlalchemy.orm import Session

from findsdesk.domain.refusals import Refusal
from findsdesk.store.faults import faults_in_words
from findsdesk.words import N_

SUFFIX = ".findsdesk"
BUSY_TIMEOUT_MS = 5000


def is_url(where: str) -> bool:
    """Tell whether a store is named by a server's address rather than by a path."""
    return "://" in where


def store_path(where: str | Path) -> Path:
    """Return the file of a store named by a person: the suffix may be left out."""
    path = Path(where)
    return path if path.suffix == SUFFIX else path.with_name(path.name + SUFFIX)


class Store:
    """One excavation's store: gives writing and reading sessions; a session lives for one use case in one thread."""

    def __init__(self, where: str | Path, *, read_only: bool = False) -> None:
        self.path: Path | None = None if is_url(str(where)) else store_path(where)
        self.read_only = read_only
        self.schema = "" if self.path is not None else schema_of(make_url(str(where)))
        """The schema on a server that holds this excavation alone."""
        self._writer = self._engine_for(str(where), begin="BEGIN IMMEDIATE", read_only=read_only)
        self._reader = self._engine_for(str(where), begin="BEGIN", read_only=True)

    @property
    def name(self) -> str:
        """Return the name people know the store by."""
        return self.path.stem if self.path else (self._writer.url.database or "")

    @property
    def address(self) -> str:
        """Return where a store on a server is, without name and password; of a file, its path."""
        if self.path is not None:
            return str(self.path)
        url = self._writer.url
        return f"{url.host or ''}:{url.port or 5432}/{url.database or ''}?schema={self.schema}"

    @property
    def engine(self) -> Engine:
        """Return the writing engine (for migrations and tests)."""
        return self._writer

    def _engine_for(self, where: str, *, begin: str, read_only: bool) -> Engine:
        if self.path is None:
            return _server_engine(make_url(where), one_moment=begin == "BEGIN")
        return _file_engine(self.path, begin=begin, read_only=read_only)

    @contextmanager
    def writing(self) -> Iterator[Session]:
        """Give a session in one writing transaction; leaving without an error commits, an error rolls back."""
        if self.read_only:
            raise Refusal("read_only", N_("This store is open for reading only. Close it at the other station first."))
        with self._session(self._writer) as session:
            yield session
            session.commit()

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """Give a session that sees one moment of the store and writes nothing."""
        with self._session(self._reader) as session:
            yield session

    @contextmanager
    def _session(self, engine: Engine) -> Iterator[Session]:
        with faults_in_words(), Session(engine, expire_on_commit=False, autoflush=True) as session:
            yield session

    def close(self) -> None:
        """Let go of all connections."""
        self._reader.dispose()
        self._writer.dispose()


class OneMoment(Store):
    """A store as one reading transaction sees it: whoever reads here sees the same moment, however long it takes."""

    def __init__(self, store: Store, session: Session) -> None:
        self.path, self.read_only, self.schema = store.path, True, store.schema
        self._writer, self._reader = store._writer, store._reader
        self._held = session
        if self.path is None:
            session.connection(execution_options={"isolation_level": "REPEATABLE READ"})

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """Give the session of that moment, over and over."""
        yield self._held


def schema_of(url: URL) -> str:
    """Return the schema that a server's address names for this excavation; letters, digits and _ alone.

    Raises Refusal ``bad_schema``: the name goes into statements as it is.
    """
    schema = str(url.query.get("schema", "findsdesk"))
    if not schema.isidentifier() or not schema.isascii() or schema.lower() == "public":
        raise Refusal("bad_schema", N_("{schema} is no name for a schema. Use letters, digits and _."), schema=schema)
    return schema


def _server_engine(url: URL, *, one_moment: bool) -> Engine:
    """Return an engine for PostgreSQL; the excavation's schema is the search path of every connection.

    ``one_moment``: all that a session reads is as it stood at its first statement, as on a file.
    """
    schema = schema_of(url)
    plain = url.difference_update_query(["schema"]).set(drivername="postgresql+psycopg")
    return create_engine(
        plain,
        pool_pre_ping=True,
        isolation_level="REPEATABLE READ" if one_moment else "READ COMMITTED",
        connect_args={"options": f'-csearch_path="{schema}"', "connect_timeout": 5},
    )


def _file_engine(path: Path, *, begin: str, read_only: bool) -> Engine:
    def connect() -> sqlite3.Connection:
        mode = "?mode=rwc" if not read_only else "?mode=ro&immutable=1" if _lies_still(path) else "?mode=ro"
        return sqlite3.connect(
            path.resolve().as_uri() + mode, uri=True, check_same_thread=False, timeout=BUSY_TIMEOUT_MS / 1000
        )

    engine = create_engine(
        "sqlite://",
        creator=connect,
        pool_size=2,
        max_overflow=4,
        poolclass=_queue_pool(),
        execution_options={"findsdesk_begin": begin},
    )

    @event.listens_for(engine, "connect")
    def _on_connect(connection: Any, _record: Any) -> None:
        connection.isolation_level = None
        cursor = connection.cursor()
        cursor.execute(f"PRAGMA busy_timeout={BUSY_TIMEOUT_MS}")
        if not read_only:
            cursor.execute("PRAGMA journal_mode=WAL")
        cursor.execute("PRAGMA synchronous=FULL")
        cursor.execute("PRAGMA foreign_keys=ON")
        cursor.execute("PRAGMA mmap_size=0")
        cursor.close()

    @event.listens_for(engine, "begin")
    def _on_begin(connection: Connection) -> None:
        connection.exec_driver_sql(connection.get_execution_options()["findsdesk_begin"])

    return engine


def _lies_still(path: Path) -> bool:
    """Tell whether a file can change under nobody's hands: nothing may be made beside it, and no log lies there.

    SQLite reads such a file only when it is told so, since it cannot make the files by which readers and writers know
    of each other (its documentation, "Read-Only Databases" under write-ahead logging).
    """
    log = path.with_name(path.name + "-wal")
    own_rights = os.access in os.supports_effective_ids
    return not os.access(path.parent, os.W_OK, effective_ids=own_rights) and not log.exists()


def _queue_pool() -> Any:
    from sqlalchemy.pool import QueuePool

    return QueuePool
