"""The row being typed: its fields under the columns of the table, and the keys that lead through them.

Enter goes to the next field that has something to say and at the end hands the row over; the arrow down repeats what
stands above. No key waits for the store.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QPushButton, QSizePolicy, QWidget

from findsdesk.domain.balance import Decision
from findsdesk.ui.benches.sorting.choice_field import ChoiceField, OwnWordsField
from findsdesk.ui.benches.sorting.choices import DECISIONS, WordLists
from findsdesk.ui.benches.sorting.in_columns import InColumns
from findsdesk.ui.benches.sorting.typed_row import TypedRow
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.number_field import NumberField, grams, pieces
from findsdesk.words import _

_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_OFTEN = Qt.KeyboardModifier.KeypadModifier
"""The number pad says so of its keys; they are the same keys all the same."""


class RowFields(QWidget):
    """Ware, part, count, grams, decision, why; the button writes for who works by mouse."""

    finished = Signal()
    """Enter at the end: the row is to be written."""
    upwards = Signal()
    """The arrow up: to the rows above."""
    take_back_wanted = Signal()
    left = Signal()
    """Escape: leave what is being changed."""
    looked_at = Signal(object)
    """The field that has the keyboard: a ``ChoiceField``, or None for a number or the decision."""
    edited = Signal()

    def __init__(self, surroundings: Surroundings, width_of: Callable[[], int], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._lists = WordLists.of(())
        self._above: Callable[[], TypedRow | None] = lambda: None
        self._last_reason: Callable[[Decision], str] = lambda _decision: ""
        self.ware, self.part = ChoiceField(_("Ware")), ChoiceField(_("Part"))
        self.count = NumberField(pieces(), _("Count"), surroundings.terms)
        self.grams = NumberField(grams(), _("Grams"), surroundings.terms)
        self.grams.set_unit("")
        self.decision = ChoiceBox()
        self.decision.setAccessibleName(_("Decision"))
        self.reason = OwnWordsField(_("Why"))
        self.write = QPushButton(_("Write"))
        self.write.clicked.connect(self.finished)
        for number in (self.count, self.grams):
            # There is no room beside the field: what is wrong with a number is said on the line below.
            number.said().setMaximumSize(0, 0)
        self._order: tuple[QWidget, ...] = (
            self.ware, self.part, self.count.line, self.grams.line, self.decision, self.reason,
        )  # fmt: skip
        for field in self._order:
            field.installEventFilter(self)
        for line in (self.ware, self.part, self.reason):
            line.looked_at.connect(self.looked_at)
        for edit in (self.ware, self.part, self.reason, self.count.line, self.grams.line):
            edit.textEdited.connect(lambda _text: self.edited.emit())
        layout = InColumns(width_of, self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.add_all((self.ware, self.part, self.count, self.grams, self.decision, self.reason, self.write))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.use_lists(self._lists)

    def ask_of(self, above: Callable[[], TypedRow | None], last_reason: Callable[[Decision], str]) -> None:
        """Tell where the row above and the reason given last are found."""
        self._above, self._last_reason = above, last_reason

    def use_lists(self, lists: WordLists) -> None:
        """Fill the fields from these lists; what is typed stays."""
        self._lists = lists
        self.ware.choices, self.part.choices = lists.wares, lists.parts
        if not self.decision.count():
            for decision in DECISIONS:
                self.decision.addItem(lists.decisions[decision], decision)
            self.decision.currentIndexChanged.connect(self._decided)
        self.reason.choices = lists.reasons[self.decided()]

    # What is typed

    def decided(self) -> Decision:
        """Return the decision that is chosen."""
        return Decision(self.decision.currentData())

    def typed(self) -> TypedRow:
        """Return what stands in the fields, without what was only completed."""
        return TypedRow(
            ware=self.ware.typed(),
            part=self.part.typed(),
            count=self.count.line.text(),
            grams=self.grams.line.text(),
            decision=self.decided(),
            reason=self.reason.typed(),
        )

    def show_typed(self, typed: TypedRow) -> None:
        """Put a row into the fields."""
        self.ware.show_text(typed.ware)
        self.part.show_text(typed.part)
        for field, text in ((self.count, typed.count), (self.grams, typed.grams)):
            field.set_value(None)
            field.line.setText(text)
        self.decision.setCurrentIndex(DECISIONS.index(typed.decision))
        self.reason.show_text(typed.reason)
        self.edited.emit()

    def begin(self) -> None:
        """Give the keyboard to the first field that is still empty."""
        texts = {self.ware: self.ware.text(), self.part: self.part.text(), self.count.line: self.count.line.text()}
        empty = next((field for field, text in texts.items() if not text), self.ware)
        empty.setFocus(Qt.FocusReason.OtherFocusReason)

    def go_to(self, column: str) -> None:
        """Give the keyboard to the field of that column."""
        fields: dict[str, ChoiceField | NumberField] = {
            "part": self.part, "count": self.count, "grams": self.grams, "reason": self.reason,
        }  # fmt: skip
        field = fields.get(column, self.ware)
        field.setFocus(Qt.FocusReason.OtherFocusReason)
        line = field.line if isinstance(field, NumberField) else field
        line.selectAll()

    def has_keyboard(self) -> bool:
        """Return whether one of the fields has the keyboard."""
        return any(field.hasFocus() for field in self._order)

    def next_decision(self) -> None:
        """Go to the next decision, with the reason that was given for it last."""
        self.decision.setCurrentIndex((self.decision.currentIndex() + 1) % len(DECISIONS))

    def wrong(self) -> str:
        """Return what is wrong with a number that was typed, or nothing."""
        return self.count.wrong() or self.grams.wrong()

    def words_wanted(self) -> ChoiceField | None:
        """Return the field that has the keyboard, if it is filled from a list."""
        return next((field for field in (self.ware, self.part, self.reason) if field.hasFocus()), None)

    def hint(self) -> str:
        """Return what may be typed in the field that has the keyboard, where no list says so."""
        if self.count.line.hasFocus():
            return _("How many pieces, whole")
        if self.grams.line.hasFocus():
            return _("Dry grams, or nothing. Enter writes the row.")
        return _("F4 goes to the next decision. Enter writes the row.") if self.decision.hasFocus() else ""

    def _decided(self) -> None:
        decision = self.decided()
        self.reason.choices = self._lists.reasons[decision]
        self.reason.show_text("" if decision is Decision.KEEP else self._last_reason(decision))
        self.edited.emit()

    # Keys

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.FocusIn and watched in (self.count.line, self.grams.line, self.decision):
            if isinstance(watched, QLineEdit):
                watched.selectAll()
            self.looked_at.emit(None)
        if event.type() != QEvent.Type.KeyPress or not isinstance(event, QKeyEvent):
            return False
        return isinstance(watched, QWidget) and self._key(watched, event)

    def _key(self, field: QWidget, event: QKeyEvent) -> bool:
        key, held = event.key(), event.modifiers() & ~_OFTEN
        modifiers = Qt.KeyboardModifier
        if key in _ENTER and event.isAutoRepeat():
            # A key whose release was lost must not write rows by itself.
            return True
        if key in _ENTER and held == modifiers.NoModifier:
            self._forward(field)
        elif key in _ENTER and held == modifiers.ShiftModifier:
            self._back(field)
        elif key == Qt.Key.Key_Down and held == modifiers.NoModifier:
            self._as_above(field)
        elif key == Qt.Key.Key_Up and held == modifiers.NoModifier:
            self.upwards.emit()
        elif key == Qt.Key.Key_Z and held == modifiers.ControlModifier:
            self.take_back_wanted.emit()
        elif key == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            return False
        return True

    def _forward(self, field: QWidget) -> None:
        """Go to the next field that has something to say; at the end the row is finished."""
        if isinstance(field, ChoiceField):
            field.take()
        asks_why = self.decided() is Decision.DISCARD and not self.reason.text().strip()
        if field is self.decision:
            asks_why = self.decided() is not Decision.KEEP and not self.reason.text().strip()
        if field in (self.ware, self.part, self.count.line):
            self._order[self._order.index(field) + 1].setFocus(Qt.FocusReason.TabFocusReason)
        elif asks_why and field is not self.reason:
            self.reason.setFocus(Qt.FocusReason.TabFocusReason)
        else:
            self.finished.emit()

    def _back(self, field: QWidget) -> None:
        place = self._order.index(field)
        self._order[max(0, place - 1)].setFocus(Qt.FocusReason.BacktabFocusReason)

    def _as_above(self, field: QWidget) -> None:
        """Repeat what stands above in this field, and go on to the next; the row is not finished by it."""
        above = self._above()
        if above is None:
            return
        if field is self.decision:
            self.decision.setCurrentIndex(DECISIONS.index(above.decision))
            self.reason.show_text(above.reason)
        elif isinstance(field, ChoiceField):
            field.show_text({self.ware: above.ware, self.part: above.part}.get(field, above.reason))
        elif isinstance(field, QLineEdit):
            field.setText(above.count if field is self.count.line else above.grams)
        self.edited.emit()
        if field in (self.ware, self.part, self.count.line):
            self._forward(field)
        elif isinstance(field, QLineEdit):
            field.selectAll()
