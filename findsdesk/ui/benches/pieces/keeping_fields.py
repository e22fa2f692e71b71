"""Keeps what is typed at pieces and not written, finds it again, and lets go what was typed at a piece that is gone."""

from __future__ import annotations

from collections.abc import Callable

from findsdesk.desk.pieces import there_of
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.pieces.kept_fields import WHAT, KeptFields, text_of
from findsdesk.ui.benches.pieces.state import PiecesState
from findsdesk.ui.keeping import Keeping
from findsdesk.ui.kept_file import file_beside


class KeepingFields(Keeping):
    """Of one bench of pieces at one station; what was kept before is in the state from the beginning."""

    def __init__(self, bench: Bench, state: PiecesState) -> None:
        super().__init__(bench, lambda: text_of(state.unwritten))
        self._state = state
        self.file = kept = KeptFields(file_beside(bench.surroundings.desk, WHAT))
        state.unwritten = kept.read()

    def look_what_is_gone(self, then: Callable[[], None]) -> None:
        """Ask which of the pieces are laid back meanwhile; ``then`` shows the state without them."""
        desk, kept = self._bench.surroundings.desk, frozenset(self._state.unwritten)

        def show(there: frozenset[int]) -> None:
            for piece_id in kept - there:
                self._state.unwritten.pop(piece_id, None)
            if kept - there:
                then()

        if kept:
            self._bench.read(lambda: there_of(desk, kept), show, topic="pieces kept")
