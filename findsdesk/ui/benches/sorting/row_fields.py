"""The row being typed: its cells under the columns of the table, and the keys that lead through them.

Enter goes from cell to cell in the order of the columns and in the last one hands the row over; the arrow down repeats
what stands above. No key waits for the store.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit, QPushButton, QSizePolicy, QWidget

from findsdesk.domain.balance import Decision
from findsdesk.ui.benches.sorting import cells
from findsdesk.ui.benches.sorting.cell_keys import CellKeys
from findsdesk.ui.benches.sorting.choice_field import ChoiceField
from findsdesk.ui.benches.sorting.deciding import Deciding
from findsdesk.ui.benches.sorting.in_columns import CROWDED, InColumns, column_widths
from findsdesk.ui.benches.sorting.row_lists import RowLists
from findsdesk.ui.benches.sorting.typed_row import MISSING, TypedRow, understand
from findsdesk.ui.benches.sorting.way_through import MUST_BE_FILLED, asks_why, goes_on_in, next_column
from findsdesk.ui.surroundings import Surroundings
from findsdesk.words import _

_AROUND_THE_WORD = 44
"""Pixels a button wants around its word."""


class RowFields(QWidget):
    """The cells of the columns that are typed; the button writes for who works by mouse."""

    finished = Signal()
    """Enter at the end: the row is to be written."""
    upwards = Signal()
    """The arrow up: to the rows above."""
    take_back_wanted = Signal()
    do_again_wanted = Signal()
    remove_wanted = Signal()
    pasted = Signal(str)
    """Several cells or rows were pasted."""
    left = Signal()
    """Escape: leave what is being changed."""
    left_behind = Signal()
    """The keyboard went elsewhere."""
    looked_at = Signal(object)
    """The cell that has the keyboard: a ``ChoiceField``, or None for one without a list."""
    edited = Signal()
    typed_past = Signal(object)
    """A letter typed in the decision of a row that F4 opened: it is meant for another row."""

    def __init__(
        self, surroundings: Surroundings, lists: RowLists, width_of: Callable[[], int], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._terms = surroundings.terms
        self._lists = lists
        self.columns: tuple[str, ...] = ()
        self._above: Callable[[], TypedRow | None] = lambda: None
        self.cells = cells.make_cells(surroundings)
        self._keyboards = {column: cells.keyboard_of(cell) for column, cell in self.cells.items()}
        self._column_of: dict[QObject, str] = {widget: column for column, widget in self._keyboards.items()}
        self._width_of = width_of
        self.write = QPushButton(_("Write"))
        self.write.setAccessibleName(_("Write"))
        self.write.clicked.connect(self.finish)
        self.deciding = Deciding(self.cells, self.typed)
        self.deciding.changed.connect(self.edited)
        for cell in (*self.cells.values(), self.write):
            cell.setParent(self)
        for column, widget in self._keyboards.items():
            self._listen(column, widget)
        self._keys = CellKeys(self)
        self._shown, self._in_a_row = TypedRow(), False
        self.passes_letters_on = False
        self.came_by_repeating = ""
        """The cell the arrow down went on to, as long as no other key was pressed."""
        self._layout = InColumns(width_of, self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.use_lists(lists, "")

    def _listen(self, column: str, widget: QWidget) -> None:
        widget.installEventFilter(self)
        if isinstance(widget, ChoiceField):
            widget.looked_at.connect(self.looked_at)
        if isinstance(widget, QLineEdit):
            widget.textEdited.connect(lambda _text: self._typed_in(column))

    def ask_of(
        self,
        above: Callable[[], TypedRow | None],
        last_reason: Callable[[Decision], str],
        late_from: Callable[[], int | None],
    ) -> None:
        """Tell where the row above, the reason given last, and the year from which on things look late are found."""
        self._above = above
        self.deciding.last_reason, self.deciding.late_from = last_reason, late_from

    def stand_in_a_row(self) -> None:
        """Stand over a row of the table: leaving it writes it, so that no button is wanted."""
        self._in_a_row = True
        self.setAutoFillBackground(True)
        self.write.hide()
        self.hide()

    def use_lists(self, lists: RowLists, security: str) -> None:
        """Fill the cells from these lists, in the columns they say; what is typed stays."""
        self._lists = lists
        for column, choices in lists.columns.items():
            cell = self.cells[column]
            if isinstance(cell, ChoiceField):
                cell.choices = choices
        self.deciding.use_lists(lists, security)
        if self.columns != lists.of_table.columns:
            self.columns = lists.of_table.columns
            self._show_columns()

    def _show_columns(self) -> None:
        for column, cell in self.cells.items():
            cell.setVisible(column in self.columns)
            cells.mark(cell, "crowded", len(self.columns) > CROWDED)
        shown: list[QWidget] = [self.cells[column] for column in self.columns]
        self._layout.show_columns(self.columns, [*shown, self.write])
        for before, after in zip([*shown, self.write], [*shown[1:], self.write], strict=False):
            QWidget.setTabOrder(before, after)
        self.updateGeometry()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Let the button say less where its column is narrow."""
        super().resizeEvent(event)
        width = column_widths(self._width_of() or self.width(), self.columns)[-1]
        whole = QFontMetrics(self.write.font()).horizontalAdvance(_("Write"))
        self.write.setText(_("Write") if whole + _AROUND_THE_WORD <= width else "↵")

    # What is typed

    def decided(self) -> Decision:
        """Return the decision that is chosen."""
        return self.deciding.decision()

    def typed(self) -> TypedRow:
        """Return what stands in the cells, without what was only completed."""
        texts = {column: cells.text_of(cell) for column, cell in self.cells.items() if column != "decision"}
        rule, proposed = self.deciding.by_rules()
        return TypedRow(decision=self.decided(), own=self.deciding.own, rule=rule, proposed=proposed, **texts)

    def show_typed(self, typed: TypedRow) -> None:
        """Put a row into the cells."""
        self._shown = typed
        for column, cell in self.cells.items():
            if column != "decision":
                cells.show_text(cell, typed.text(column))
                cells.mark_wrong(cell, False)
        self.deciding.show(typed)
        at_hand = self.cells.get(self.column_at_hand())
        if isinstance(at_hand, ChoiceField):
            # The keyboard does not come to it anew: the words below are told by what stands there now.
            self.looked_at.emit(at_hand)
        self.edited.emit()

    def begin(self) -> None:
        """Give the keyboard to the cell in which the row goes on."""
        self.cells[goes_on_in(self.columns, self.typed())].setFocus(Qt.FocusReason.OtherFocusReason)

    def go_to(self, column: str) -> None:
        """Give the keyboard to the cell of a column, or to the first one where that is not typed."""
        column = column if column in self.columns else self.columns[0]
        self.cells[column].setFocus(Qt.FocusReason.OtherFocusReason)
        widget = self._keyboards[column]
        if isinstance(widget, QLineEdit):
            widget.selectAll()

    def column_at_hand(self) -> str:
        """Return the column that has the keyboard, or nothing."""
        return next((column for column, widget in self._keyboards.items() if widget.hasFocus()), "")

    def has_keyboard(self) -> bool:
        """Return whether one of the cells has the keyboard."""
        return bool(self.column_at_hand())

    def next_decision(self) -> None:
        """Go to the next decision, with the reason that was given for it last."""
        self.deciding.next()

    def mistakes(self) -> dict[str, str]:
        """Return what is wrong in the cells that were left, in words by their columns.

        In a row that was finished once also what is missing, and the cell at hand as long as it is as it was.
        """
        typed, at_hand = self.typed(), self.column_at_hand()
        if self._in_a_row and at_hand and typed.text(at_hand) == self._shown.text(at_hand):
            at_hand = ""
        return {
            doubt.column: doubt.in_words(self._terms)
            for doubt in reversed(understand(typed, self._lists).doubts)
            if doubt.column and doubt.column != at_hand and (self._in_a_row or doubt.code not in MISSING)
        }

    def mark_mistakes(self) -> None:
        """Mark what is wrong in the cells that were left."""
        wrong = self.mistakes()
        for column, cell in self.cells.items():
            cells.mark_wrong(cell, column in wrong)

    def hint(self) -> str:
        """Return what may be typed in the cell that has the keyboard, where no list says so."""
        column = self.column_at_hand()
        if column in ("rim", "base") and not self._lists.has_circle(column, self.typed().part):
            return _("This part has none of it: Enter passes by")
        if column == "decision" and self.passes_letters_on:
            return _("F4: the next decision; Tab: why; letters: the new row, or why where a discard needs it")
        return cells.hint_of(column)

    def _typed_in(self, column: str) -> None:
        if column == "reason":
            self.deciding.reason_typed()
        elif column not in ("pieces", "grams", "rim", "base", "note"):
            self.deciding.propose()
        self.edited.emit()

    # Keys

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        column = self._column_of.get(watched, "")
        if event.type() == QEvent.Type.FocusIn and column:
            if isinstance(watched, QLineEdit):
                watched.selectAll()
            if not isinstance(watched, ChoiceField):
                self.looked_at.emit(None)
        if event.type() == QEvent.Type.FocusOut and column:
            QTimer.singleShot(0, self, self._look_who_has_the_keyboard)
        if event.type() != QEvent.Type.KeyPress or not isinstance(event, QKeyEvent) or not column:
            return False
        return self._keys.press(column, event)

    def _look_who_has_the_keyboard(self) -> None:
        """Mark what is wrong in the cells that were left, and tell when the keyboard left them all."""
        self.mark_mistakes()
        focus = QApplication.focusWidget()
        elsewhere = focus is not None and not self.isAncestorOf(focus)
        if elsewhere and QApplication.activePopupWidget() is None:
            self.left_behind.emit()

    def forward(self, column: str) -> None:
        """Go to the next cell; in the last one the row is finished."""
        cell = self.cells[column]
        came, self.came_by_repeating = self.came_by_repeating, ""
        if came == column and not self.typed().text(column).strip():
            return
        if isinstance(cell, ChoiceField):
            cell.take()
        wanted = next_column(self.columns, column, self.typed(), self._lists)
        if wanted:
            self._stop_at(wanted)
        else:
            self.finish()

    def _stop_at(self, column: str) -> None:
        self.cells[column].setFocus(Qt.FocusReason.TabFocusReason)
        widget = self._keyboards[column]
        if isinstance(widget, QLineEdit):
            widget.selectAll()
        self.edited.emit()

    def finish(self) -> None:
        """Hand the row over; a discard is first asked why in its cell, so that no key typed next falls elsewhere."""
        column = self.column_at_hand()
        cell = self.cells.get(column)
        if isinstance(cell, ChoiceField):
            cell.take()
        if column != "reason" and asks_why(self.typed(), self._lists):
            self._stop_at("reason")
        else:
            self.finished.emit()

    def asks_why(self) -> bool:
        """Return whether the keyboard is where the reason of a discard is still asked for."""
        return self.column_at_hand() == "reason" and asks_why(self.typed(), self._lists)

    def wants_why(self) -> bool:
        """Return whether a discard stands here that still needs its reason."""
        return "reason" in self.columns and asks_why(self.typed(), self._lists)

    def back(self, column: str) -> None:
        """Go to the cell before."""
        place = self.columns.index(column)
        self.cells[self.columns[max(0, place - 1)]].setFocus(Qt.FocusReason.BacktabFocusReason)

    def as_above(self, column: str) -> None:
        """Repeat what stands above in this cell, and go on where the next one must be filled and is empty.

        An Enter pressed there out of habit passes nothing by: who presses it and who does not both stay in step.
        """
        above = self._above()
        if above is None:
            return
        cell = self.cells[column]
        if isinstance(cell, QComboBox):
            self.deciding.decide(above.decision, above.reason)
            return
        cells.show_text(cell, above.text(column))
        self._typed_in(column)
        after = next_column(self.columns, column, self.typed(), self._lists)
        if after in MUST_BE_FILLED and not self.typed().text(after).strip():
            self._stop_at(after)
            self.came_by_repeating = after
            return
        widget = self._keyboards[column]
        if isinstance(widget, QLineEdit):
            widget.selectAll()
