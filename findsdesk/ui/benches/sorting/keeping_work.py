"""Keeps what is typed and in no store: a moment after each change, at once when the bench goes out of sight."""

from __future__ import annotations

from PySide6.QtCore import QTimer

from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.sorting.kept_rows import KeptRows, file_beside
from findsdesk.ui.benches.sorting.row_work import RowWork
from findsdesk.ui.benches.sorting.state import SortingState

_SOON_MS = 300


class KeepingWork:
    """Of one bench at one station."""

    def __init__(self, bench: Bench, state: SortingState, rows: RowWork) -> None:
        self._bench, self._state, self._rows = bench, state, rows
        self._kept: KeptRows | None = None
        self._timer = QTimer(bench)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_SOON_MS)
        self._timer.timeout.connect(self._keep)
        for fields in (rows.new, rows.edit):
            fields.edited.connect(self.keep_soon)

    def find_again(self) -> None:
        """Bring back what was kept when the window was closed last, or went without being closed."""
        desk = self._bench.surroundings.desk
        if desk is None or self._kept is not None:
            return
        self._kept = KeptRows(file_beside(desk.store.path, desk.station_name, desk.store.address))
        self._state.find_again(self._kept.read())

    def keep_soon(self) -> None:
        """Something was typed or became of a row: keep it in a moment."""
        if not self._timer.isActive():
            self._timer.start()

    def keep_now(self) -> None:
        """Keep what is typed before anything else happens."""
        self._timer.stop()
        kept, wanted = self._kept, self._to_write()
        if kept is not None and wanted is not None:
            kept.write(*wanted)

    def _keep(self) -> None:
        if not self._bench.isVisible():
            self.keep_now()
            return
        kept, wanted = self._kept, self._to_write()
        if kept is not None and wanted is not None:
            self._bench.surroundings.lanes.pool(lambda: kept.write(*wanted))

    def _to_write(self) -> tuple[int, str] | None:
        return self._kept.to_write(self._rows.unwritten()) if self._kept is not None else None
