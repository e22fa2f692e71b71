"""Keeps the rows that are typed and in no store, and finds them again."""

from __future__ import annotations

from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.sorting.kept_rows import KeptRows, text_of
from findsdesk.ui.benches.sorting.row_work import RowWork
from findsdesk.ui.benches.sorting.state import SortingState
from findsdesk.ui.keeping import Keeping
from findsdesk.ui.kept_file import file_beside


class KeepingWork(Keeping):
    """Of one sorting table at one station."""

    def __init__(self, bench: Bench, state: SortingState, rows: RowWork) -> None:
        super().__init__(bench, lambda: text_of(rows.unwritten()))
        self._state = state
        for fields in (rows.new, rows.edit):
            fields.edited.connect(self.keep_soon)

    def find_again(self) -> None:
        """Bring back what was kept when the window was closed last, or went without being closed."""
        desk = self._bench.surroundings.desk
        if desk is None or self.file is not None:
            return
        self.file = kept = KeptRows(file_beside(desk))
        self._state.find_again(kept.read())
