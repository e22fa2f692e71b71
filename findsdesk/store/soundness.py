"""What the database itself can say of its file: damaged pages, references that lead nowhere."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sqlalchemy.orm import Session


@dataclass(frozen=True, slots=True)
class Dangling:
    """A row that points at one that is not there."""

    table: str
    row_id: int | None
    parent: str


def damage(session: Session) -> tuple[str, ...]:
    """Return what SQLite finds damaged in its file; a server looks after its own files."""
    if session.get_bind().dialect.name != "sqlite":
        return ()
    said = [str(row[0]) for row in session.connection().exec_driver_sql("PRAGMA quick_check(20)")]
    return tuple(line for line in said if line != "ok")


def dangling(session: Session) -> Iterator[Dangling]:
    """Yield each reference that leads nowhere; a server lets none come about."""
    if session.get_bind().dialect.name != "sqlite":
        return
    for table, row_id, parent, _key in session.connection().exec_driver_sql("PRAGMA foreign_key_check"):
        yield Dangling(str(table), row_id, str(parent))
