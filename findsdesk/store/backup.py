"""Verified copies of a store: made by SQLite's own backup, opened again, checked, and named by moment and head."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from findsdesk.domain.refusals import StoreFault
from findsdesk.store.journal import short_head
from findsdesk.store.session import SUFFIX
from findsdesk.words import N_

KEPT = 60
"""How many copies are kept; the oldest go first."""


@dataclass(frozen=True, slots=True)
class Copy:
    """One verified copy."""

    path: Path
    made_at: datetime
    acts: int


def backups_folder(store_file: Path) -> Path:
    """Return the folder beside a store in which its copies lie."""
    return store_file.with_suffix(".backups")


def copy_store(store_file: Path, now: datetime, head: str) -> Copy:
    """Copy the store, open the copy, check it and count its acts; raises StoreFault ``copy_failed``.

    A copy of the same head is not made twice: the newest one is checked and returned.
    """
    folder = backups_folder(store_file)
    name = f"{store_file.stem}-{now.astimezone(UTC):%Y%m%dT%H%M%SZ}-{short_head(head)}{SUFFIX}"
    target = folder / name
    try:
        folder.mkdir(exist_ok=True)
        same = [path for path in _copies(folder) if path.stem.endswith(short_head(head))]
        if same:
            target = same[-1]
        else:
            _copy(store_file, target)
        acts = _check(target)
    except (OSError, sqlite3.Error) as error:
        raise StoreFault(
            "copy_failed",
            N_("No good copy could be made in {folder}: {why}. Check the disk."),
            folder=str(folder),
            why=str(error),
        ) from error
    for old in _copies(folder)[:-KEPT]:
        old.unlink(missing_ok=True)
    return Copy(target, now, acts)


def _copy(source_file: Path, target: Path) -> None:
    beside = target.with_suffix(".part")
    beside.unlink(missing_ok=True)
    with (
        closing(sqlite3.connect(f"{source_file.resolve().as_uri()}?mode=ro", uri=True)) as source,
        closing(sqlite3.connect(beside)) as copy,
    ):
        source.backup(copy)
        copy.execute("PRAGMA journal_mode=DELETE")
    beside.replace(target)


def _check(copy_file: Path) -> int:
    with closing(sqlite3.connect(f"{copy_file.resolve().as_uri()}?mode=ro", uri=True)) as copy:
        verdict = copy.execute("PRAGMA quick_check").fetchone()[0]
        broken = copy.execute("PRAGMA foreign_key_check").fetchone()
        if verdict != "ok" or broken is not None:
            raise sqlite3.DatabaseError(f"the copy does not pass its check ({verdict})")
        return int(copy.execute("SELECT count(*) FROM act").fetchone()[0])


def _copies(folder: Path) -> list[Path]:
    return sorted(folder.glob(f"*{SUFFIX}"))


def copies_of(store_file: Path) -> tuple[Path, ...]:
    """Return the copies that lie beside a store, the newest first; the store itself may be damaged or gone."""
    return tuple(reversed(_copies(backups_folder(store_file))))


def put_back(copy_file: Path, into: Path) -> int:
    """Check a copy and write it as a new store; returns its acts. Raises StoreFault ``bad_copy``, FileExistsError."""
    if into.exists():
        raise FileExistsError(into)
    try:
        acts = _check(copy_file)
        into.parent.mkdir(parents=True, exist_ok=True)
        _copy(copy_file, into)
    except (OSError, sqlite3.Error) as error:
        raise StoreFault(
            "bad_copy",
            N_("The copy {name} cannot be used: {why}. Choose an older one."),
            name=copy_file.name,
            why=str(error),
        ) from error
    return acts
