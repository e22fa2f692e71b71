"""What is typed and in no store, in a file of this station: it outlasts the window and a process that was ended."""

from __future__ import annotations

import hashlib
import logging
import os
import re
import threading
from itertools import count
from pathlib import Path

from findsdesk import places
from findsdesk.desk.desk import Desk

_log = logging.getLogger(__name__)


def file_beside(desk: Desk, what: str = "") -> Path:
    """Return a station's file: beside the store, or for a store on a server among what this station keeps.

    ``what`` tells the files of several benches apart.
    """
    plain = re.sub(r"[^\w-]+", "_", desk.station_name) or "first"
    ending = f"unwritten-{plain}.{what}.json" if what else f"unwritten-{plain}.json"
    store = desk.store.path
    if store is not None:
        return store.with_name(f"{store.stem}.{ending}")
    known_by = hashlib.sha256(desk.store.address.encode()).hexdigest()[:16]
    return places.kept_folder() / f"{known_by}.{ending}"


class KeptFile:
    """One file. ``to_write`` is asked on the window's thread, ``write`` may run on any."""

    def __init__(self, file: Path) -> None:
        self.file = file
        self._numbers = count(1)
        self._written = 0
        self._lock = threading.Lock()
        self._last = ""

    def text(self) -> str | None:
        """Return what was kept, None where there is no file; raises OSError or ValueError where it cannot be read."""
        try:
            self._last = self.file.read_text(encoding="utf-8")
        except FileNotFoundError:
            return None
        return self._last

    def put_aside(self) -> None:
        """Put a file that cannot be understood aside: it is never written over."""
        _log.warning("what is kept in %s cannot be read; the file is put aside", self.file)
        self._last = ""
        try:
            self.file.replace(self.file.with_suffix(".unread"))
        except OSError:
            _log.warning("%s cannot be put aside", self.file)

    def to_write(self, text: str) -> tuple[int, str] | None:
        """Return what is to be written, with its number; None where nothing changed since the last time."""
        if text == self._last:
            return None
        self._last = text
        return next(self._numbers), text

    def write(self, number: int, text: str) -> None:
        """Write the file, unless something newer was written already; without anything to keep there is no file."""
        with self._lock:
            if number < self._written:
                return
            self._written = number
            try:
                if text:
                    self._put(text)
                else:
                    self.file.unlink(missing_ok=True)
            except OSError:
                _log.warning("what is not written cannot be kept in %s", self.file)

    def _put(self, text: str) -> None:
        self.file.parent.mkdir(parents=True, exist_ok=True)
        beside = self.file.with_suffix(".part")
        with beside.open("w", encoding="utf-8") as out:
            out.write(text)
            out.flush()
            os.fsync(out.fileno())
        beside.replace(self.file)
