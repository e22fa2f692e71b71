"""Keeps what is typed at a bench and in no store: a moment after each change, at once when the bench goes."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QTimer

from findsdesk.ui.bench import Bench
from findsdesk.ui.kept_file import KeptFile

_SOON_MS = 300


class Keeping:
    """Of one bench at one station; ``text_of`` gives what is to be kept, '' while there is nothing."""

    def __init__(self, bench: Bench, text_of: Callable[[], str]) -> None:
        self._bench, self._text_of = bench, text_of
        self.file: KeptFile | None = None
        """Known once a store is open."""
        self._timer = QTimer(bench)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_SOON_MS)
        self._timer.timeout.connect(self._keep)

    def keep_soon(self) -> None:
        """Something was typed or written: keep what is left in a moment."""
        if not self._timer.isActive():
            self._timer.start()

    def keep_now(self) -> None:
        """Keep what is typed before anything else happens."""
        self._timer.stop()
        kept, wanted = self.file, self._to_write()
        if kept is not None and wanted is not None:
            kept.write(*wanted)

    def _keep(self) -> None:
        if not self._bench.isVisible():
            self.keep_now()
            return
        kept, wanted = self.file, self._to_write()
        if kept is not None and wanted is not None:
            self._bench.surroundings.lanes.pool(lambda: kept.write(*wanted))

    def _to_write(self) -> tuple[int, str] | None:
        return self.file.to_write(self._text_of()) if self.file is not None else None
