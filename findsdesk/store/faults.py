"""Faults of the world around the store, sorted from our own bugs: disk full, file locked, server gone, file damaged."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import DatabaseError, IntegrityError, OperationalError
from sqlalchemy.orm.exc import StaleDataError

from findsdesk.domain.refusals import Refusal, StoreFault
from findsdesk.words import N_

_BY_MESSAGE = (
    ("disk is full", "disk_full", N_("The disk is full. Nothing was written; make room and do it again.")),
    (
        "disk i/o error",
        "disk_error",
        N_("The disk does not answer. Nothing was written; check the disk and do it again."),
    ),
    (
        "readonly database",
        "read_only",
        N_("This store can only be read here. Ask for the right to write in its folder."),
    ),
    ("read-only", "read_only", N_("This store can only be read here. Ask for the right to write in its folder.")),
    (
        "unable to open",
        "cannot_open",
        N_("The store cannot be opened. Check that its folder exists and may be written in."),
    ),
    ("database is locked", "locked", N_("Another program is writing in this store. Wait a moment and do it again.")),
    ("malformed", "damaged", N_("The store is damaged. Open the newest good copy from its backups folder.")),
    (
        "not a database",
        "damaged",
        N_("The store is damaged or not a store. Open the newest good copy from its backups folder."),
    ),
    (
        "connection",
        "server_gone",
        N_("The server does not answer. Nothing was written; check the cable and do it again."),
    ),
)


_AT_ONCE = frozenset({"23505", "40001", "40P01"})
"""What a server says where two stations wrote at once: the same key twice, no order of the two, each waits for the
other (PostgreSQL's documentation, appendix "PostgreSQL Error Codes"). In a file such a thing is our own bug."""


def fault_from(error: DatabaseError) -> StoreFault | None:
    """Return the fault behind a driver's error, or None where it is our own bug."""
    words = str(error.orig).lower()
    for piece, code, text in _BY_MESSAGE:
        if piece in words:
            return StoreFault(code, text)
    return None


@contextmanager
def faults_in_words() -> Iterator[None]:
    """Turn driver errors into faults, and a row changed by somebody else meanwhile into a Refusal."""
    try:
        yield
    except StaleDataError as error:
        raise Refusal(
            "changed_meanwhile",
            N_("Somebody else changed this meanwhile. Look at the new values and do it again."),
        ) from error
    except (IntegrityError, OperationalError, DatabaseError) as error:
        if getattr(error.orig, "sqlstate", None) in _AT_ONCE:
            raise Refusal(
                "changed_meanwhile",
                N_("Another station wrote the same at this moment. Nothing was changed here; look, and do it again."),
            ) from error
        if isinstance(error, IntegrityError):
            raise
        fault = fault_from(error)
        if fault is None:
            raise
        raise fault from error
