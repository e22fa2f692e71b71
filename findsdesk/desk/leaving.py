"""Leaving a store after a short call: a copy is made where the newest one is old, not after every single act."""

from __future__ import annotations

from datetime import timedelta

from findsdesk.desk.desk import Desk
from findsdesk.desk.restoring import kept_copies

COPY_OLDER_THAN = timedelta(hours=1)
"""Copies are kept in a fixed number; one after each act of a morning would push out those of the days before."""


def leave(desk: Desk) -> None:
    """Close a store that was opened for a single call; the closing copy is made where the newest is an hour old."""
    path = desk.store.path
    copies = kept_copies(path) if path is not None else ()
    if copies and not desk.store.read_only and desk.clock() - copies[0].made_at < COPY_OLDER_THAN:
        desk.let_go()
    else:
        desk.close()
