"""Takes back what was done last at the table, and does it again: a row that was in no store, else an act."""

from __future__ import annotations

from collections.abc import Callable

from findsdesk.desk import sorting
from findsdesk.desk.sorting_table import table_of
from findsdesk.desk.taking_back import InTurn
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.sorting import table_words
from findsdesk.ui.benches.sorting.keys_in_turn import KeysInTurn
from findsdesk.ui.benches.sorting.lines import Removed, TableLine
from findsdesk.ui.benches.sorting.piece_deeds import Say
from findsdesk.ui.benches.sorting.state import SortingState
from findsdesk.words import N_

_NO_ROWS: frozenset[int] = frozenset()


class StepsBack:
    """``say`` tells what was done, ``show`` shows it, ``read`` reads the container afresh."""

    def __init__(
        self,
        bench: Bench,
        state: SortingState,
        say: Say,
        show: Callable[[], None],
        read: Callable[[], None],
        in_turn: KeysInTurn,
    ) -> None:
        self._bench, self._state = bench, state
        self._around = bench.surroundings
        self._say, self._show, self._read = say, show, read
        self._in_turn = in_turn

    def take_off(self, line: TableLine) -> None:
        """Take a row off that is in no store; its turn to come back is behind what is being written now."""
        self._when_known_since(self._state.lines.take_off(line, self._state.turn.since))

    def give_up(self, line: TableLine) -> None:
        """Let a row stand as it is written; what it was changed to can come back in turn."""
        self._when_known_since(self._state.lines.give_up(line, self._state.turn.since))
        row = table_words.row_words(line, self._state)
        self._say(N_("Given up, as written: {row}"), row=row)

    def _when_known_since(self, off: Removed) -> None:
        """Let what was taken off or given up have its turn behind what is being written now."""

        def known(turn: InTurn) -> None:
            off.since = turn.since

        self._around.lanes.deed(self._look_whose_turn(), then=known)

    def take_back(self) -> None:
        """Bring a removed row back that was in no store, or take back one's last act here: what was done last."""
        self._when_known(self._take_back)

    def do_again(self) -> None:
        """Do again what was taken back last."""
        self._when_known(self._do_again)

    def _when_known(self, call: Callable[[], None]) -> None:
        """Call when it is known what was done last here, where rows were removed that were in no store."""
        lines = self._state.lines
        if not (lines.removed or lines.back_again):
            call()
            return

        def known(turn: InTurn) -> None:
            self._state.turn_is(turn)
            call()

        self._in_turn.look_up(self._look_whose_turn(), known)

    def _look_whose_turn(self) -> Callable[[], InTurn]:
        desk, code = self._around.desk, self._code()
        return lambda: table_of(desk, code, only=_NO_ROWS).turn

    def _code(self) -> str:
        return self._state.dossier.code if self._state.dossier is not None else ""

    def _take_back(self) -> None:
        desk, code, lines = self._around.desk, self._code(), self._state.lines
        if lines.to_bring_back(self._state.turn.since) is None:
            self._bench.deed(lambda: sorting.take_back_last(desk, code), then=self._taken_back)
            return
        self._say(N_("Brought back: {what}"), what=table_words.row_words(lines.bring_back(), self._state))
        self._show()

    def _do_again(self) -> None:
        desk, code, lines = self._around.desk, self._code(), self._state.lines
        again = lines.to_remove_again(self._state.turn.since)
        if again is None:
            self._bench.deed(lambda: sorting.do_again(desk, code), then=self._done_again)
            return
        done = N_("Given up again: {what}") if again.change_of else N_("Removed again: {what}")
        self._say(done, what=table_words.row_words(lines.remove_again(), self._state))
        self._show()

    def _taken_back(self, done: sorting.TakenBack) -> None:
        self._say(N_("Taken back: {what}"), what=_what(done))
        self._read()

    def _done_again(self, done: sorting.TakenBack) -> None:
        self._say(N_("Done again: {what}"), what=_what(done))
        self._read()


def _what(done: sorting.TakenBack) -> str:
    return table_words.done_words(done.deed, done.told)
