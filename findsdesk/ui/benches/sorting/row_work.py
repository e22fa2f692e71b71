"""The row being typed and what becomes of it: written, changed, left, put aside when the next container comes."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QWidget

from findsdesk.desk.dossiers import Dossier
from findsdesk.domain.balance import Decision
from findsdesk.ui.benches.sorting.lines import Saved, TableLine
from findsdesk.ui.benches.sorting.state import SortingState
from findsdesk.ui.benches.sorting.table_deeds import TableDeeds
from findsdesk.ui.benches.sorting.table_page import TablePage
from findsdesk.ui.benches.sorting.typed_row import TypedRow, understand
from findsdesk.words import N_, _, put


class RowWork:
    """Stands between the fields and the deeds; knows which row the fields are about."""

    def __init__(self, state: SortingState, page: TablePage, deeds: TableDeeds, show: Callable[[], None]) -> None:
        self.state, self.page, self.fields = state, page, page.fields
        self._deeds, self._show = deeds, show
        self.changing: TableLine | None = None
        """The row on the table that the fields are about, or None for a new one."""
        self._new_row = TypedRow()
        """A new row that was begun when a row above it was taken up to be changed."""
        self._before_scan = TypedRow()
        """What stood half typed when a scan came: of the container before, unless the scan finds nothing."""
        self.fields.ask_of(self._above, self._last_reason)
        self.fields.finished.connect(self.finish)
        self.fields.upwards.connect(page.rows.go_to_last)
        self.fields.left.connect(self.leave)
        page.rows.opened.connect(lambda row_id: self.take_up(self._line(row_id)))
        page.rows.removed.connect(lambda row_id: self.remove(self._line(row_id)))
        page.rows.below.connect(self.fields.begin)
        page.rows.typed_on.connect(self._type_on)
        page.remove_wanted.connect(lambda: self.remove(self.changing))
        page.leave_wanted.connect(self.leave)

    def first_focus(self) -> QWidget:
        """Return the field that is to be filled first."""
        typed = self.fields.typed()
        for text, field in ((typed.ware, self.fields.ware), (typed.part, self.fields.part)):
            if not text:
                return field
        return self.fields.count if not typed.count else self.fields.ware

    def _above(self) -> TypedRow | None:
        return self.state.above(self.changing)

    def _last_reason(self, decision: Decision) -> str:
        return self.state.reasons.get(decision, "")

    def _line(self, row_id: object) -> TableLine | None:
        return next((line for line in self.state.lines.lines if line.act_id == row_id), None)

    # One row

    def finish(self) -> None:
        """Enter at the end of the row: it is on its way, or waits with its doubt; the next one can be typed."""
        typed, line = self.fields.typed(), self.changing
        self.state.kept_of = None
        if self.state.looking_up and line is None:
            if not typed.is_empty:
                self.state.wait_for_what_comes(typed)
            self._begin_row(TypedRow())
            return
        unchanged = line is not None and line.saved is Saved.WRITTEN and typed == self.state.texts_of(line)
        if typed.is_empty or unchanged:
            self.leave()
            return
        self._begin_row(self._taken_new_row())
        self._send(typed, line)

    def _send(self, typed: TypedRow, line: TableLine | None = None) -> None:
        sent = self.state.sent(typed, line)
        if sent.saved is Saved.PENDING:
            self._deeds.send(sent)
        self._show()

    def take_up(self, line: TableLine | None, column: str = "ware") -> None:
        """Take a row of the table into the fields to change it; one that is being written is left alone."""
        if line is None or line.saved is Saved.PENDING:
            return
        if self.changing is None:
            self._new_row = self.fields.typed()
        self.changing = line
        self.fields.show_typed(self.state.texts_of(line))
        self._show()
        self.fields.go_to(column)

    def leave(self) -> None:
        """Leave the row that was taken up as it was; the new one begun before it is back."""
        if self.changing is not None:
            self._begin_row(self._taken_new_row())
        else:
            self.fields.begin()
        self._show()

    def _taken_new_row(self) -> TypedRow:
        new, self._new_row = self._new_row, TypedRow()
        return new

    def _begin_row(self, typed: TypedRow) -> None:
        self.changing = None
        self.fields.show_typed(typed)
        if self.fields.isVisible() and (self.fields.has_keyboard() or self.fields.write.hasFocus()):
            self.fields.begin()

    def remove(self, line: TableLine | None) -> None:
        """Remove a row from the table."""
        if line is None or line.saved is Saved.PENDING:
            return
        if self.changing is line:
            self._begin_row(self._taken_new_row())
        self._deeds.remove(line)
        self.fields.begin()

    def at_rest(self) -> bool:
        """Return whether nothing is half typed or half changed."""
        typed = self.fields.typed()
        return typed.is_empty if self.changing is None else typed == self.state.texts_of(self.changing)

    @staticmethod
    def _type_on(event: QKeyEvent) -> None:
        field = QApplication.focusWidget()
        if field is not None:
            QApplication.sendEvent(field, event)

    def go_to_doubt(self) -> None:
        """Take up the next row that waits, in the field that is doubtful."""
        waiting = self.state.lines.waiting()
        if not waiting:
            return
        place = waiting.index(self.changing) + 1 if self.changing in waiting else 0
        line = waiting[place % len(waiting)]
        doubts = understand(self.state.texts_of(line), self.state.lists).doubts
        self.take_up(line, (doubts[0].column if doubts else None) or "ware")

    # The next scan

    def look_up_begins(self) -> None:
        """Something was scanned: what is typed from now on is for what comes."""
        if not self.state.looking_up and self.changing is None:
            self._before_scan = self.fields.typed()
            if not self._before_scan.is_empty:
                self._begin_row(TypedRow())
        self.state.look_up_begins()

    def take(self, dossier: Dossier | None) -> None:
        """Take a container in hand; a row half typed for the one before stays with that one."""
        half, self._before_scan = self._before_scan, TypedRow()
        typed = self.fields.typed()
        if self.state.is_in_hand(dossier):
            self.state.take(dossier, TypedRow())
            self._give_back(half)
            return
        if self.changing is not None:
            half = self._keep_change(typed)
            typed = TypedRow()
        elif not self.state.looking_up and half.is_empty:
            half, typed = typed, TypedRow()
        come = self.state.take(dossier, half)
        if not typed.is_empty:
            # Typed since the scan, for what has come; its own half row, if it had one, waits on.
            self.state.lines.half_typed = come if come is not None and not come.is_empty else None
            self.changing = None
        else:
            self._begin_row(come or TypedRow())

    def _keep_change(self, typed: TypedRow) -> TypedRow:
        """Let a row that was half changed wait on its table; return the new row that was begun before."""
        line, self.changing = self.changing, None
        if line is not None and typed != self.state.texts_of(line):
            line.typed, line.said = typed, understand(typed, self.state.lists).facts
            line.waits_because("half_changed", _("Half changed, not written."))
        return self._taken_new_row()

    def _give_back(self, half: TypedRow) -> None:
        """The same container came again, or nothing: what stood half typed is back, or waits beside the new row."""
        if half.is_empty:
            return
        if self.fields.typed().is_empty:
            self._begin_row(half)
            if self.fields.isVisible():
                self.fields.begin()
            return
        line = self.state.sent(half)
        line.waits_because("half_typed", _("Half typed. F2 goes on with it."))

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
