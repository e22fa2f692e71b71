"""The line that asks: when it is shown, and what becomes of its answer."""

from __future__ import annotations

import secrets
from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from findsdesk.desk.dossiers import Dossier
from findsdesk.desk.group_rows import GroupRow
from findsdesk.desk.shares import ShareAhead
from findsdesk.desk.sorting_table import EntryRow
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.announcing import announce
from findsdesk.ui.benches.sorting.ask_line import About, Answered, Asking, AskLine
from findsdesk.ui.benches.sorting.askings import (
    answer_asking,
    count_asking,
    explanation_asking,
    lift_asking,
    reopen_asking,
    share_asking,
    vessel_asking,
    why_asking,
)
from findsdesk.ui.benches.sorting.lines import TableLine
from findsdesk.ui.benches.sorting.state import SortingState
from findsdesk.ui.benches.sorting.table_deeds import TableDeeds
from findsdesk.ui.benches.sorting.table_page import TablePage
from findsdesk.ui.benches.sorting.word_page import WordPage
from findsdesk.ui.widgets.dossier_facts import Caution
from findsdesk.ui.widgets.slips import CautionSlip
from findsdesk.words import N_, put

_OVERTAKEN = frozenset({"changed_meanwhile", "row_gone", "share_drawn"})
"""Refusals of an answer about a row that somebody else changed since it was asked."""


class AskingWork:
    """On the table it stands in the place of the row being typed, which is back as it was when the line goes."""

    def __init__(
        self, state: SortingState, table: TablePage, words: WordPage, deeds: TableDeeds, closed: Callable[[], None]
    ) -> None:
        self._state, self._table, self._words = state, table, words
        self._deeds, self._closed = deeds, closed
        self.lost = CautionSlip(table.theme)
        """What was typed in a line that went before it was written."""
        self._on_its_way: tuple[Asking | None, str] = (None, "")
        """What was answered last, and how it is told where it is not written after all."""
        for line in (table.ask, words.ask):
            line.answered.connect(self._answered)
            line.left.connect(self.close_line)

    def _ask(self, asking: Asking) -> None:
        """Ask at the table; the same question once more leaves what is typed, another one says that it went."""
        line = self._table.ask
        if line.asking == asking:
            line.first_focus().setFocus(Qt.FocusReason.OtherFocusReason)
            return
        self._state.not_answered = self._told()
        self.tell_lost()
        self._table.show_asking(True)
        line.ask(asking)

    def ask_explanation(self, about: About) -> None:
        """Ask how many were no sherd, found more, or not found, and why."""
        self._ask(explanation_asking(about, self._state))

    def ask_count(self) -> None:
        """Ask for a count at the table."""
        self._ask(count_asking(self._state))

    def ask_answer(self, entry: EntryRow) -> None:
        """Ask why an explanation is taken back."""
        self._ask(answer_asking(entry, self._state.terms))

    def ask_lift(self, line: TableLine | None) -> None:
        """Ask how many sherds of a row are lifted out as pieces."""
        asking = lift_asking(line, self._state) if line is not None else None
        if asking is None:
            self._deeds.pieces.refuse_to_lift()
            return
        self._ask(asking)

    def ask_vessel(self, line: TableLine | None) -> None:
        """Ask into which vessel a row is gathered; one that is in a vessel is taken out of it."""
        if line is not None and line.row is not None and line.row.vessel is not None:
            self._deeds.pieces.leave_vessel(line.row)
            return
        asking = vessel_asking(line, self._state) if line is not None else None
        if asking is None:
            self._deeds.pieces.refuse_to_gather()
            return
        self._ask(asking)

    def ask_share(self, line: TableLine | None) -> None:
        """Ask where the share of a row starts: by a lot drawn now, or as it is carried on."""
        group_id = line.row.id if line is not None and line.row is not None else None
        self._deeds.pieces.share_ahead(group_id, self._ask_share)

    def _ask_share(self, ahead: ShareAhead) -> None:
        self._ask(share_asking(ahead, secrets.randbelow(ahead.one_in or 1) + 1))

    def ask_why(self, rows: Sequence[GroupRow]) -> None:
        """Ask why the first of these rows is decided against its rule, where the container is settled by now."""
        if rows and self._words.ask.asking is None:
            self._words.ask.ask(why_asking(rows[0], self._state))

    def ask_reopen(self) -> None:
        """Ask why it is opened again."""
        self._words.ask.ask(reopen_asking(self._state))

    def _answered(self, said: Answered) -> None:
        self._on_its_way = (said.asking, self._told())
        self._state.forget_not_answered()
        self.tell_lost()
        self._deeds.answer(said, lambda: self._written(said.asking), lambda no: self._refused(said.asking, no))

    def _written(self, asking: Asking) -> None:
        """Take the line away, unless it asks something else by now."""
        self._on_its_way = (None, "")
        if self._line_of(asking) is not None:
            self.close_line()

    def _refused(self, asking: Asking, refusal: Refusal) -> None:
        """Give the keyboard back to what was refused; where the line is gone, say what is not written."""
        (sent, told), self._on_its_way = self._on_its_way, (None, "")
        line = self._line_of(asking)
        if line is None:
            self._state.not_answered = told if sent is asking else ""
            self.tell_lost()
        elif asking.seen and refusal.code in _OVERTAKEN:
            # Its row is another one by now: no answer to this question can be written.
            self.give_up()
            self.tell_lost()
        elif line.isVisible():
            line.go_to_refused(refusal)

    def _line_of(self, asking: Asking) -> AskLine | None:
        return next((line for line in (self._table.ask, self._words.ask) if line.asking is asking), None)

    def give_up(self) -> None:
        """Something else comes: take the line away, and say what was typed in it and is not written."""
        self._state.not_answered = self._told()
        self.close_line()

    def leave(self, comes: Dossier | None) -> None:
        """Another container comes in hand: say what is typed and goes, or what went when that one was left."""
        left, kept = self._state.dossier, self._state.not_answered_at
        self.give_up()
        if self._state.not_answered and left is not None:
            kept[left.container_id] = self._state.not_answered
        elif comes is not None:
            self._state.not_answered = kept.get(comes.container_id, "")

    def look_again(self) -> None:
        """Take the line away whose row another person changed or removed, where nobody typed in it yet.

        What somebody is typing stays under their hands: its answer is refused, and then the line goes.
        """
        asking = self._table.ask.asking
        if asking is None or not asking.seen or asking is self._on_its_way[0] or self._table.ask.typed():
            return
        rows = {line.row.id: line.row.version for line in self._state.lines.lines if line.row is not None}
        if rows.get(asking.of) != asking.seen:
            self.close_line()

    def is_answering(self) -> bool:
        """Return whether what was answered is on its way; the line goes as soon as it is written."""
        asking = self._on_its_way[0]
        return asking is not None and self._line_of(asking) is not None and self._deeds.is_writing()

    def _told(self) -> str:
        """Return what is typed in the line and neither written nor on its way, in words, or nothing."""
        for line in (self._table.ask, self._words.ask):
            if line.asking is None or (line.asking is self._on_its_way[0] and self._deeds.is_writing()):
                continue
            typed, dossier = line.typed(), self._state.dossier
            if typed and dossier is not None:
                facts = {"number": dossier.number, "what": line.asking.heading, "typed": ", ".join(typed)}
                return put(N_("Not written of {container} {number}: {what}, {typed}."), self._state.terms, facts)
        return ""

    def tell_lost(self) -> None:
        """Say what went with a line before it was written, until something is done after it."""
        words = self._state.not_answered
        if words and self.lost.isHidden():
            announce(self.lost, words)
        self.lost.show_caution(Caution("", words) if words else None)

    def close_line(self) -> None:
        """Take the line away."""
        focus, lines = QApplication.focusWidget(), (self._table.ask, self._words.ask)
        had_keyboard = focus is not None and any(line.isAncestorOf(focus) for line in lines)
        for line in lines:
            line.close_line()
        self._table.show_asking(False)
        if had_keyboard:
            self._closed()
