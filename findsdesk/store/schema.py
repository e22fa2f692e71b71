"""The store's schema: making it, telling its version, and bringing an older one up after a verified copy."""

from __future__ import annotations

import zlib
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, inspect, text
from sqlalchemy.schema import CreateSchema, DropSchema

from findsdesk.domain.refusals import Refusal, StoreFault
from findsdesk.store.search_index import make_index
from findsdesk.store.session import Store
from findsdesk.words import N_

NEWEST = "0001"
KNOWN = ("0001",)
"""All revisions this program knows, oldest first."""
_VERSIONS = Path(__file__).parent / "migrations" / "versions"


def newest_state() -> int:
    """Return the check sum of what makes the newest revision's tables: until the first release it has many states.

    From then on the file of a revision is never changed again.
    """
    made_by = (_VERSIONS / f"first_schema_{NEWEST}.py").read_bytes()
    if b"\r" in made_by:
        made_by = made_by.replace(b"\r\n", b"\n")
    return zlib.crc32(made_by[made_by.index(b"def upgrade") :]) & 0x7FFFFFFF


def revision_of(connection: Connection) -> str | None:
    """Return the schema revision of a store, or None where there is no store yet."""
    if not inspect(connection).has_table("alembic_version"):
        return None
    return connection.execute(text("SELECT version_num FROM alembic_version")).scalar()


def state_of(connection: Connection) -> int:
    """Return the state of a store's tables, 0 where none: in a file's header, or said of a server's table."""
    if connection.dialect.name == "sqlite":
        return int(connection.exec_driver_sql("PRAGMA user_version").scalar() or 0)
    return int(connection.exec_driver_sql("SELECT obj_description('alembic_version'::regclass)").scalar() or 0)


def check_revision(store: Store) -> bool:
    """Tell whether the store must be brought up; it is asked as one that is read, so that nothing is written.

    Refusals: ``newer_store``, ``other_state``. StoreFault: ``not_a_store``.
    """
    with store.reading() as session:
        connection = session.connection()
        revision = revision_of(connection)
        same = revision != NEWEST or state_of(connection) == newest_state()
    if revision is None:
        raise StoreFault(
            "not_a_store", N_("{name} is not a store of this program. Choose another file."), name=store.name
        )
    if revision not in KNOWN:
        raise Refusal(
            "newer_store",
            N_(
                "{name} was written by a newer version of this program. Open it with that version; nothing was changed."
            ),
            name=store.name,
        )
    if not same:
        raise Refusal(
            "other_state",
            N_(
                "{name} was made by another build before the first release. "
                "Export its data package with that build; take it in here as a new store."
            ),
            name=store.name,
        )
    return revision != NEWEST


def holds_tables(store: Store) -> bool:
    """Tell whether anything lies in the schema of a store on a server."""
    with store.engine.connect() as connection:
        return bool(inspect(connection).get_table_names(schema=store.schema))


def empty_schema(store: Store) -> None:
    """Take away a schema on a server that was found empty and could not be filled."""
    with store.engine.begin() as connection:
        connection.execute(DropSchema(store.schema, cascade=True, if_exists=True))


def bring_up(store: Store) -> None:
    """Make the schema, or bring an older one up; foreign keys are off while tables are rebuilt and checked after."""
    on_file = store.path is not None
    with store.engine.connect() as connection:
        if on_file:
            _foreign_keys(connection, "OFF")
        try:
            with connection.begin():
                if not on_file:
                    connection.execute(text("SELECT pg_advisory_xact_lock(7301)"))
                    connection.execute(CreateSchema(store.schema, if_not_exists=True))
                _upgrade(connection)
                _carry_state(connection)
                make_index(connection)
                if on_file and connection.exec_driver_sql("PRAGMA foreign_key_check").first() is not None:
                    raise StoreFault(
                        "damaged", N_("The store is damaged. Open the newest good copy from its backups folder.")
                    )
        finally:
            if on_file:
                _foreign_keys(connection, "ON")


def _upgrade(connection: Connection) -> None:
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parent / "migrations"))
    config.attributes["connection"] = connection
    command.upgrade(config, "head")


def _carry_state(connection: Connection) -> None:
    if connection.dialect.name == "sqlite":
        connection.exec_driver_sql(f"PRAGMA user_version={newest_state()}")
    else:
        connection.exec_driver_sql(f"COMMENT ON TABLE alembic_version IS '{newest_state()}'")


def _foreign_keys(connection: Connection, state: str) -> None:
    """Switch SQLite's foreign keys on the driver's own connection: inside a transaction the pragma does nothing."""
    raw: Any = connection.connection.driver_connection
    raw.execute(f"PRAGMA foreign_keys={state}")
