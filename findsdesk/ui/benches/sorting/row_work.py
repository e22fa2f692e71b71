"""The row being typed and what becomes of it: written, changed, left, put aside when the next container comes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QWidget

from findsdesk.desk.dossiers import Dossier
from findsdesk.domain.balance import Decision
from findsdesk.ui.benches.sorting.gone_rows import removed_words
from findsdesk.ui.benches.sorting.lines import Saved, TableLine, TableLines
from findsdesk.ui.benches.sorting.row_fields import RowFields
from findsdesk.ui.benches.sorting.row_lists import RowLists
from findsdesk.ui.benches.sorting.row_words import doubtful_column
from findsdesk.ui.benches.sorting.state import SortingState
from findsdesk.ui.benches.sorting.table_deeds import TableDeeds
from findsdesk.ui.benches.sorting.table_page import TablePage
from findsdesk.ui.benches.sorting.typed_row import TypedRow, as_typed, understand
from findsdesk.ui.benches.sorting.way_through import goes_on_in
from findsdesk.words import N_, _, put


def _half_changed() -> str:
    return _("Half changed, not written.")


class RowWork:
    """Stands between the fields and the deeds; knows which row is being changed where it stands."""

    def __init__(self, state: SortingState, page: TablePage, deeds: TableDeeds, show: Callable[[], None]) -> None:
        self.state, self.page, self.new, self.edit = state, page, page.fields, page.edit
        self._deeds, self._show = deeds, show
        self.changing: TableLine | None = None
        """The row on the table that is being changed, or None."""
        self._seen: int | None = None
        """The version of that row when it was taken up."""
        self._written: TypedRow | None = None
        """What was written of it then, or None."""
        self.typed_ahead = False
        """What is being typed was begun after the scan of what is in hand now."""
        self._before_scan = TypedRow()
        """What stood half typed when a scan came: of the container before, unless the scan finds nothing."""
        for fields in (self.new, self.edit):
            fields.ask_of(self._above, self._last_reason, lambda: self.state.late_from)
        self.new.finished.connect(self.finish)
        self.new.upwards.connect(page.rows.go_to_last)
        self.new.left.connect(self._escape)
        self.new.edited.connect(self._typed_again)
        self._escaped = self._escaped_change = False
        self.edit.edited.connect(self._changed_again)
        self.edit.typed_past.connect(self._type_past)
        self.edit.finished.connect(self.finish_change)
        self.edit.upwards.connect(self.finish_change)
        self.edit.left.connect(self.leave)
        self.edit.remove_wanted.connect(lambda: self.remove(self.changing))
        self.edit.left_behind.connect(lambda: self.finish_change(stay=True))
        page.rows.taken_up.connect(self.take_up)
        page.rows.removed.connect(self._remove_under_cursor)
        page.rows.below.connect(self._go_below)
        page.rows.typed_on.connect(self._type_on)
        page.remove_wanted.connect(lambda: self.remove(self.changing))
        page.leave_wanted.connect(self.leave)

    @property
    def fields(self) -> RowFields:
        """Return the cells that are being typed in."""
        return self.new if self.changing is None else self.edit

    def first_focus(self) -> QWidget:
        """Return the cell that is to be filled first."""
        return self.fields.cells[goes_on_in(self.fields.columns, self.fields.typed())]

    def at_hand(self) -> TableLine | None:
        """Return the row that a key of the table is about: being changed, under the cursor, else the one said last.

        Where that one waits with a doubt it is no other: what is meant for it reaches no row before it.
        """
        if self.changing is not None:
            return self.changing
        if self.page.rows.hasFocus():
            return self.page.rows.line()
        last, lines = self.state.last, self.state.lines.lines
        return last if last in lines else next((line for line in reversed(lines) if line.row is not None), None)

    def _go_below(self) -> None:
        """Give the keyboard to what stands below the rows: the line that asks, else the row being typed."""
        if self.page.ask.asking is not None:
            self.page.ask.first_focus().setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self.new.begin()

    def _above(self) -> TypedRow | None:
        return self.state.above(self.changing)

    def _last_reason(self, decision: Decision) -> str:
        return self.state.reasons.get(decision, "")

    # One row

    def finish(self) -> None:
        """Enter at the end of the new row: it is on its way, or waits with its doubt; the next one can be typed."""
        typed = self.new.typed()
        self.state.kept_of, self.state.lines.found_again = None, False
        if self.state.looking_up:
            if not typed.is_empty:
                self.state.wait_for_what_comes(typed)
            self._begin_new(TypedRow())
        elif typed.is_empty:
            self.new.begin()
            self._show()
        else:
            self._begin_new(TypedRow())
            self._send(typed)

    def finish_change(self, *, stay: bool = False) -> None:
        """The row that was changed is left: what differs is on its way; ``stay`` leaves the keyboard where it is."""
        line, typed, seen = self.changing, self.edit.typed(), self._seen
        if line is None:
            return
        unchanged = line.saved is Saved.WRITTEN and typed == self.state.texts_of(line)
        gone = self._is_gone(line)
        self._put_down(stay=stay)
        if gone:
            self._keep_what_is_gone(line, typed)
        elif line.waits_changed and typed == self._written:
            self._deeds.steps.give_up(line)
            self._show()
        elif typed.is_empty or unchanged:
            self._show()
        else:
            self._send(typed, line, seen, again=not stay)

    def _is_gone(self, line: TableLine) -> bool:
        """Return whether the row being changed was removed in the store since it was taken up."""
        return self._seen is not None and line.row is None

    def _keep_what_is_gone(self, line: TableLine, typed: TypedRow) -> None:
        """Let what was typed in a row that is no more wait, and take a row off in which nothing was."""
        if typed == self._written:
            self.state.lines.drop(line)
            self.state.told = removed_words(typed, self.state)
        else:
            line.typed, line.said = typed, understand(typed, self.state.lists).facts
            self.state.last, self.state.told = line, ""
        self._show()

    def _send(
        self, typed: TypedRow, line: TableLine | None = None, seen: int | None = None, *, again: bool = False
    ) -> None:
        sent = self.state.sent(typed, line, again=again)
        self._deeds.go_on()
        if sent.saved is Saved.PENDING:
            self._deeds.send(sent, seen)
        else:
            self._show()

    def take_up(self, line: TableLine | None, column: str = "") -> None:
        """Leave the row that is being changed and take one up where it stands, in its doubtful cell if it has one."""
        self.finish_change(stay=True)
        if line is not None:
            self._when_written(line, lambda: self._take_up(line, column))

    def _when_written(self, line: TableLine, call: Callable[[], None]) -> None:
        """Do something to a row as soon as nothing else is done to it, if it still stands here then."""
        self._deeds.in_turn.when_written(line, lambda: call() if line in self.state.lines.lines else None)

    def _take_up(self, line: TableLine, column: str = "") -> None:
        self.changing = self.state.held = line
        self._seen, self._escaped_change = line.row.version if line.row else None, False
        self._written = as_typed(line.row, self.state.lists) if line.row else None
        self.edit.show_typed(self.state.texts_of(line))
        self.edit.mark_mistakes()
        self.page.rows.edit_row(self.edit, self.page.edit_below, line)
        self._show()
        self.edit.go_to(doubtful_column(line, self.state.lists) or column)

    def leave(self) -> None:
        """Leave the row that was taken up as it was; a change that waits is given up at the second time."""
        line = self.changing
        if line is None:
            self.new.begin()
        elif line.waits_changed and not self._escaped_change:
            self._escaped_change = True
            self.page.edit_below.say(
                self.edit.columns[0], _("Esc once more gives this up: the row stays as it is written")
            )
            return
        else:
            gone, typed = self._is_gone(line), self.edit.typed()
            self._put_down()
            if gone:
                self._keep_what_is_gone(line, typed)
                if line in self.state.lines.lines:
                    self._deeds.remove(line)
            elif line.waits_changed:
                self._deeds.steps.give_up(line)
        self._show()

    def _changed_again(self) -> None:
        self._escaped_change = False

    def _put_down(self, *, stay: bool = False) -> None:
        had_keyboard = self.edit.has_keyboard() or self.edit.write.hasFocus()
        self.changing = self._seen = self.state.held = None
        self.edit.passes_letters_on = False
        self.page.rows.edit_row(self.edit, self.page.edit_below, None)
        if self.new.isVisible() and had_keyboard and not stay:
            self.new.begin()

    def _begin_new(self, typed: TypedRow) -> None:
        self.new.show_typed(typed)
        if self.new.isVisible() and (self.new.has_keyboard() or self.new.write.hasFocus()):
            self.new.begin()

    def _remove_under_cursor(self, line: TableLine) -> None:
        """Remove the row under the cursor; the cursor stays among the rows as long as there are any."""
        self._when_written(line, lambda: self._deeds.remove(line))

    def next_decision(self) -> None:
        """F4: the next decision of the row that is being typed or changed, or of the written row under the cursor."""
        if self.changing is None and self.page.rows.hasFocus():
            line = self.page.rows.line()
            if line is not None:
                self._when_written(line, lambda: self._decide_otherwise(line))
            return
        self.fields.next_decision()

    def _decide_otherwise(self, line: TableLine) -> None:
        self._take_up(line)
        self.edit.passes_letters_on = True
        self.edit.go_to("decision")
        self.edit.next_decision()

    def _type_past(self, event: QKeyEvent) -> None:
        """A letter in the decision of a row that F4 opened is meant for the row being typed: the row is left."""
        self.finish_change()
        self.new.begin()
        self._type_on(event)

    def _typed_again(self) -> None:
        self._escaped = False

    def _escape(self) -> None:
        """Escape goes to the cell that is still empty; a second one empties the row, which Ctrl+Z brings back."""
        typed = self.new.typed()
        if not (self._escaped and not typed.is_empty):
            self.new.begin()
            self._escaped = not typed.is_empty
            if self._escaped:
                self.page.below.say(self.new.columns[0], _("Esc once more empties this row"))
            return
        self._escaped = False
        line = TableLine(typed=typed, said=understand(typed, self.state.lists).facts)
        line.waits_because("half_typed", _("Half typed. F2 goes on with it."))
        self.new.show_typed(TypedRow())
        self._deeds.remove(line)
        self.new.begin()

    def remove(self, line: TableLine | None) -> None:
        """Remove a row from the table."""
        if line is None or line.saved is Saved.PENDING:
            return
        if self.changing is line:
            self._put_down()
        self._deeds.remove(line)
        self.new.begin()

    def at_rest(self) -> bool:
        """Return whether nothing is half typed or half changed."""
        if self.changing is not None and self.edit.typed() != self.state.texts_of(self.changing):
            return False
        return self.new.typed().is_empty

    @staticmethod
    def _type_on(event: QKeyEvent) -> None:
        field = QApplication.focusWidget()
        if field is not None:
            QApplication.sendEvent(field, event)

    def go_to_doubt(self) -> None:
        """Take up the next row that waits, in the cell that is doubtful; behind them those that say no reason."""
        doubtful = [*self.state.lines.waiting(), *self.state.lines.wanting_why()]
        if not doubtful:
            return
        place = doubtful.index(self.changing) + 1 if self.changing in doubtful else 0
        self.take_up(doubtful[place % len(doubtful)])

    def unwritten(self) -> dict[int, TableLines]:
        """Return all that is typed here and in no store, by container."""
        half = self._before_scan if self.state.looking_up else self.new.typed()
        rows, here = self.state.unwritten(half), self.state.dossier
        line, typed = self.changing, self.edit.typed()
        if line is None or here is None or typed == self.state.texts_of(line):
            return rows
        changed = replace(line, typed=typed, saved=Saved.WAITS, doubt_code="half_changed", doubt=_half_changed())
        lines = [changed if one is line else one for one in self.state.lines.lines]
        kept = rows.get(here.container_id, TableLines(number=here.number))
        return {**rows, here.container_id: replace(kept, lines=lines)}

    def use_lists(self, lists: RowLists) -> None:
        """Hold against the lists that were read what was typed before they were; what is right is written."""
        anew = self.state.judged_anew(lists)
        self.page.use_lists(self.state)
        for line in anew:
            if line is not self.changing and line.typed is not None:
                self._send(line.typed, line)

    # The next scan

    def look_up_begins(self) -> None:
        """Something was scanned: what is typed from now on is for what comes."""
        if not self.state.looking_up and self.changing is None:
            self._before_scan = self.new.typed()
            if not self._before_scan.is_empty:
                self._begin_new(TypedRow())
        self.state.look_up_begins()

    def has_typed_ahead(self) -> bool:
        """Return whether a row was finished or begun for what is being looked up."""
        return self.state.rows_wait or (self.state.looking_up and not self.new.typed().is_empty)

    def take(self, dossier: Dossier | None) -> None:
        """Take a container in hand; a row half typed for the one before stays with that one."""
        half, self._before_scan = self._before_scan, TypedRow()
        typed = self.new.typed()
        if self.state.is_in_hand(dossier):
            self.state.take(dossier, TypedRow())
            self._give_back(half)
            return
        if self.changing is not None:
            self._keep_change()
            half, typed = typed, TypedRow()
        elif not self.state.looking_up and half.is_empty:
            half, typed = typed, TypedRow()
        come = self.state.take(dossier, half)
        self.typed_ahead = not typed.is_empty
        if self.typed_ahead:
            # Typed since the scan, for what has come; its own half row, if it had one, waits on.
            self.state.lines.half_typed = come if come is not None and not come.is_empty else None
        else:
            self._begin_new(come or TypedRow())

    def _keep_change(self) -> None:
        """Let a row that was half changed wait on its table."""
        line, typed = self.changing, self.edit.typed()
        self._put_down(stay=True)
        if line is not None and typed != self.state.texts_of(line):
            line.typed, line.said = typed, understand(typed, self.state.lists).facts
            line.waits_because("half_changed", _half_changed())

    def _give_back(self, half: TypedRow) -> None:
        """The same container came again, or nothing: what stood half typed is back, or waits beside the new row."""
        if half.is_empty:
            return
        if self.new.typed().is_empty:
            self._begin_new(half)
            if self.new.isVisible():
                self.new.begin()
            return
        self.state.sent_half(half)

    def look_up_ended(self, found: bool, *, readable: bool) -> None:
        """A look-up ended; rows finished meanwhile are written for what came, or wait where nothing did."""
        rows = self.state.look_up_ended()
        if not found:
            half, self._before_scan = self._before_scan, TypedRow()
            self._give_back(half)
        for typed in rows:
            if found and readable:
                self._send(typed)
                continue
            line = self.state.sent(typed)
            number = self.state.dossier.number if self.state.dossier else ""
            line.waits_because(
                "whose_row", put(N_("Typed after the scan. Is it of {number}?"), None, {"number": number})
            )
        if rows or not found:
            self._show()
