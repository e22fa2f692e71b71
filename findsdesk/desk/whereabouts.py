"""Where everything of an excavation lies: its store, the copies beside it, its photos."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from findsdesk.desk.desk import Desk
from findsdesk.desk.photo_folders import where_photos_lie
from findsdesk.desk.restoring import KeptCopy, kept_copies
from findsdesk.store.backup import backups_folder


@dataclass(frozen=True, slots=True)
class Whereabouts:
    """Paths as they are on this computer; a store on a server has none but its name, and is copied there."""

    store: str
    on_server: bool
    read_only: bool
    copies_folder: Path | None
    copies: tuple[KeptCopy, ...]
    photos_folder: Path | None
    """None where this station was told no folder for the photographs of a store on a server."""
    now: datetime

    @property
    def newest(self) -> KeptCopy | None:
        """Return the newest copy."""
        return self.copies[0] if self.copies else None


def whereabouts(desk: Desk) -> Whereabouts:
    """Return where the store and its copies lie."""
    path = desk.store.path
    return Whereabouts(
        store=str(path) if path is not None else desk.store.name,
        on_server=path is None,
        read_only=desk.store.read_only,
        copies_folder=backups_folder(path) if path is not None else None,
        copies=kept_copies(path) if path is not None else (),
        photos_folder=where_photos_lie(desk),
        now=desk.clock(),
    )
