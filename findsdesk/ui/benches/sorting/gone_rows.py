"""Rows that somebody removed while they were changed here, or stood large here: who it was is said."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.sorting.row_words import in_short
from findsdesk.ui.benches.sorting.state import SortingState
from findsdesk.ui.benches.sorting.typed_row import TypedRow
from findsdesk.words import _


def removed_words(typed: TypedRow, state: SortingState) -> str:
    """Return that a row was removed by somebody else."""
    return _("Removed meanwhile: {row}").format(row=in_short(typed, state.lists))


def say_what_is_gone(bench: Bench, state: SortingState, show: Callable[[], None]) -> None:
    """Say large that the row said last was removed, and beside each that waits for it who removed it."""
    if state.last_gone is not None and not state.told:
        # Else the row that is the last by now would stand large as if it had been said.
        state.told = removed_words(state.last_gone, state)
    state.last_gone = None
    desk = bench.surroundings.desk
    gone = {line.removed_row: line for line in state.lines.lines if line.removed_row}
    if desk is None or not gone:
        return

    def read() -> Mapping[int, str]:
        from findsdesk.desk.rows_there import who_removed

        return {row_id: who_removed(desk, row_id) for row_id in gone}

    def tell(found: Mapping[int, str]) -> None:
        for row_id, line in gone.items():
            if line.doubt_code == "row_gone":
                line.waits_as_gone(found[row_id])
        show()

    for line in gone.values():
        line.removed_row = 0
    bench.read(read, tell)
