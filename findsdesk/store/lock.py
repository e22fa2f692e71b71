"""One program at a time writes a store's file: a lock beside it, held while it is open, that says who has it."""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path
from typing import IO

from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_


class StoreLock:
    """The lock on one store's file; the operating system lets it go when the program ends, however it ends."""

    def __init__(self, store_file: Path) -> None:
        self.path = store_file.with_suffix(".lock")
        self._held: IO[str] | None = None

    def take(self, *, person: str, station: str) -> None:
        """Take the lock; raises Refusal ``store_in_use`` naming who has it."""
        self.path.touch(exist_ok=True)
        handle = self.path.open("r+", encoding="utf-8")
        try:
            _lock(handle)
        except OSError:
            holder = self._holder(handle)
            handle.close()
            raise Refusal(
                "store_in_use",
                N_(
                    "Station {station} ({person}) has this store open. "
                    "Close it there first; until then it can only be read."
                ),
                **holder,
            ) from None
        self._held = handle
        self.name_holder(person=person, station=station)

    def name_holder(self, *, person: str, station: str) -> None:
        """Write who has the store open now, for whoever is refused it: others sit down without opening it again."""
        if self._held is not None:
            self._held.seek(0)
            self._held.truncate()
            self._held.write(json.dumps({"person": person, "station": station, "process": os.getpid()}))
            self._held.flush()

    def release(self) -> None:
        """Let the lock go; the file stays, since removing it would race with the next taker."""
        if self._held is not None:
            self._held.close()
            self._held = None

    @staticmethod
    def _holder(handle: IO[str]) -> dict[str, str]:
        try:
            holder = json.loads(handle.read(1000))
            return {"person": str(holder["person"]), "station": str(holder["station"])}
        except (ValueError, KeyError, OSError):
            return {"person": "?", "station": "?"}


if sys.platform == "win32":
    import msvcrt

    _LOCKED_BYTE = 1_000_000
    """The byte that is locked lies behind the text, so that the text can still be read."""

    def _lock(handle: IO[str]) -> None:
        handle.seek(_LOCKED_BYTE)
        msvcrt.locking(handle.fileno(), msvcrt.LK_NBLCK, 1)
        handle.seek(0)

else:
    import fcntl

    def _lock(handle: IO[str]) -> None:
        fcntl.flock(handle.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
