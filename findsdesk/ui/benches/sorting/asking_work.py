"""The line that asks: when it is shown, and what becomes of its answer."""

from __future__ import annotations

import secrets
from collections.abc import Callable

from PySide6.QtWidgets import QApplication

from findsdesk.desk.shares import ShareAhead
from findsdesk.desk.sorting_table import EntryRow
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.benches.sorting.ask_line import About, Answered
from findsdesk.ui.benches.sorting.askings import (
    answer_asking,
    count_asking,
    explanation_asking,
    lift_asking,
    reopen_asking,
    share_asking,
    vessel_asking,
)
from findsdesk.ui.benches.sorting.lines import TableLine
from findsdesk.ui.benches.sorting.state import SortingState
from findsdesk.ui.benches.sorting.table_deeds import TableDeeds
from findsdesk.ui.benches.sorting.table_page import TablePage
from findsdesk.ui.benches.sorting.word_page import WordPage


class AskingWork:
    """On the table it stands in the place of the row being typed, which is back as it was when the line goes."""

    def __init__(
        self, state: SortingState, table: TablePage, words: WordPage, deeds: TableDeeds, closed: Callable[[], None]
    ) -> None:
        self._state, self._table, self._words = state, table, words
        self._deeds, self._closed = deeds, closed
        for line in (table.ask, words.ask):
            line.answered.connect(self._answered)
            line.left.connect(self.close_line)

    def ask_explanation(self, about: About) -> None:
        """Ask how many were no sherd, found more, or not found, and why."""
        self._table.show_asking(True)
        self._table.ask.ask(explanation_asking(about, self._state))

    def ask_count(self) -> None:
        """Ask for a count at the table."""
        self._table.show_asking(True)
        self._table.ask.ask(count_asking(self._state))

    def ask_answer(self, entry: EntryRow) -> None:
        """Ask why an explanation is taken back."""
        self._table.show_asking(True)
        self._table.ask.ask(answer_asking(entry))

    def ask_lift(self, line: TableLine | None) -> None:
        """Ask how many sherds of a row are lifted out as pieces."""
        asking = lift_asking(line, self._state) if line is not None else None
        if asking is None:
            self._deeds.pieces.refuse_to_lift()
            return
        self._table.show_asking(True)
        self._table.ask.ask(asking)

    def ask_vessel(self, line: TableLine | None) -> None:
        """Ask into which vessel a row is gathered; one that is in a vessel is taken out of it."""
        if line is not None and line.row is not None and line.row.vessel is not None:
            self._deeds.pieces.leave_vessel(line.row)
            return
        asking = vessel_asking(line, self._state) if line is not None else None
        if asking is None:
            self._deeds.pieces.refuse_to_gather()
            return
        self._table.show_asking(True)
        self._table.ask.ask(asking)

    def ask_share(self, line: TableLine | None) -> None:
        """Ask where the share of a row starts: by a lot drawn now, or as it is carried on."""
        group_id = line.row.id if line is not None and line.row is not None else None
        self._deeds.pieces.share_ahead(group_id, self._ask_share)

    def _ask_share(self, ahead: ShareAhead) -> None:
        self._table.show_asking(True)
        self._table.ask.ask(share_asking(ahead, secrets.randbelow(ahead.one_in or 1) + 1))

    def ask_reopen(self) -> None:
        """Ask why it is opened again."""
        self._words.ask.ask(reopen_asking(self._state))

    def _answered(self, said: Answered) -> None:
        self._deeds.answer(said, self.close_line, self._refused)

    def _refused(self, refusal: Refusal) -> None:
        """Give the keyboard back to what was refused, where the line still stands."""
        for line in (self._table.ask, self._words.ask):
            if line.asking is not None and line.isVisible():
                line.go_to_refused(refusal)

    def close_line(self) -> None:
        """Take the line away."""
        focus, lines = QApplication.focusWidget(), (self._table.ask, self._words.ask)
        had_keyboard = focus is not None and any(line.isAncestorOf(focus) for line in lines)
        for line in lines:
            line.close_line()
        self._table.show_asking(False)
        if had_keyboard:
            self._closed()
