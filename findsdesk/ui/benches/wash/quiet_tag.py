"""The tag behind "More": the rarer acts as a list, and the questions of the one that was chosen."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFormLayout,
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from findsdesk.domain.refusals import Refusal
from findsdesk.ui.benches.wash.quiet_acts import Answers, Kind, Question
from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.number_field import NumberField, pieces
from findsdesk.ui.widgets.painting import margins
from findsdesk.ui.widgets.paper_tag import PaperTag
from findsdesk.words import Terms, _, put

ROW_HEIGHT = 38
_TICKED, _NOT_TICKED = "✓  ", "–  "
"""Before each of several: a sign beside the colour of what is chosen."""


def _list_of_rows(theme: Theme, name: str) -> QListWidget:
    rows = QListWidget()
    rows.setAccessibleName(name)
    rows.setUniformItemSizes(True)
    rows.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    rows.setMinimumHeight(theme.px(ROW_HEIGHT * 4))
    return rows


class QuietList(PaperTag):
    """The acts that may be done now; arrow keys and Enter, or the mouse."""

    chosen = Signal(str)
    left = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._name = labels.bold(_("More"))
        self.rows = _list_of_rows(theme, _("More"))
        self.rows.itemActivated.connect(self._choose)
        self.rows.itemClicked.connect(self._choose)
        self._back = QPushButton(_("Back"))
        self._back.setProperty("yard", "plain")
        self._back.clicked.connect(self.left)
        self._whole = QVBoxLayout(self)
        self._whole.addWidget(self._name)
        self._whole.addWidget(self.rows, 1)
        self._whole.addWidget(self._back)
        self.setFocusProxy(self.rows)
        self._space()

    def show_acts(self, name: str, acts: Sequence[tuple[str, str]]) -> None:
        """Show these (key, words) for the thing of that name."""
        self._name.setText(name)
        self.rows.clear()
        for key, words in acts:
            item = QListWidgetItem(words)
            item.setData(Qt.ItemDataRole.UserRole, key)
            item.setSizeHint(QSize(0, self.theme.px(ROW_HEIGHT)))
            self.rows.addItem(item)
        self.rows.setCurrentRow(0)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def _choose(self, item: QListWidgetItem) -> None:
        self.chosen.emit(str(item.data(Qt.ItemDataRole.UserRole)))

    def _space(self) -> None:
        px = self.theme.px
        self._name.setFont(self.theme.font(Type.TAG))
        self._whole.setContentsMargins(margins(self, px(36), px(22), px(20), px(15)))
        self._whole.setSpacing(px(11))
        for row in range(self.rows.count()):
            self.rows.item(row).setSizeHint(QSize(0, px(ROW_HEIGHT)))

    def _new_look(self) -> None:
        self._space()
        super()._new_look()


class QuietForm(PaperTag):
    """The questions of one act, top to bottom; Enter goes on to the next and writes at the last."""

    asked_to_write = Signal(object)
    """The answers, by key."""
    refused = Signal(object)
    """A number that is none: the Refusal."""
    left = Signal()

    def __init__(self, theme: Theme, terms: Callable[[], Terms], parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._terms = terms
        self._name, self._title = labels.bold(wrap=True), labels.bold(wrap=True)
        self._fields: dict[str, tuple[Question, QWidget]] = {}
        self._holder = QWidget()
        self._form = QFormLayout(self._holder)
        self._form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapAllRows)
        self.write_button = QPushButton()
        self.write_button.setProperty("act", True)
        self.write_button.setProperty("yard", "plain")
        self.write_button.clicked.connect(self.write)
        self._back = QPushButton(_("Back"))
        self._back.setProperty("yard", "plain")
        self._back.clicked.connect(self.left)
        row = QHBoxLayout()
        row.addWidget(self.write_button, 2)
        row.addWidget(self._back, 1)
        self._whole = QVBoxLayout(self)
        for part in (self._name, self._title, self._holder):
            self._whole.addWidget(part)
        self._whole.addStretch(1)
        self._whole.addLayout(row)
        self._space()

    def ask(self, name: str, title: str, questions: Sequence[Question], button: str) -> None:
        """Ask these questions about the thing of that name; title and button are in words."""
        self._name.setText(name)
        self._title.setText(title)
        self.write_button.setText(button)
        while self._form.rowCount():
            self._form.removeRow(0)
        self._fields = {question.key: (question, self._field(question)) for question in questions}
        for question, field in self._fields.values():
            label = labels.plain(self._put(question.label))
            label.setBuddy(field)
            self._form.addRow(label, field)
        first = next(iter(self._fields.values()), None)
        (first[1] if first else self.write_button).setFocus()

    def wants_tag(self) -> bool:
        """Return whether one of the questions is answered by a scan."""
        return any(question.kind is Kind.TAG for question, _field in self._fields.values())

    def take_tag(self, code: str, number: str) -> None:
        """Put a scanned container into the question that wants it, and go on to the next."""
        for question, field in self._fields.values():
            if question.kind is Kind.TAG and isinstance(field, QLineEdit):
                field.setText(number)
                field.setProperty("code", code)
                field.setProperty("number", number)
                self._go_on(field)
                return

    def write(self) -> None:
        """Ask to write what stands in the fields."""
        try:
            self.asked_to_write.emit(self.answers())
        except Refusal as refusal:
            self.refused.emit(refusal)

    def answers(self) -> Answers:
        """Return the answers by key; refuses a number that is none."""
        return {key: _answer(field) for key, (_question, field) in self._fields.items()}

    def field(self, key: str) -> QWidget:
        """Return the field of a question."""
        return self._fields[key][1]

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._go_on(self.focusWidget())
        else:
            super().keyPressEvent(event)

    def _put(self, text: str) -> str:
        return put(text, self._terms())

    def _field(self, question: Question) -> QWidget:
        words = self._put(question.label)
        if question.kind is Kind.NUMBER:
            number = NumberField(pieces(), words, self._terms())
            number.entered.connect(lambda _value: self._go_on(number))
            return number
        if question.kind is Kind.CHOICE:
            box = ChoiceBox()
            box.setAccessibleName(words)
            box.setEditable(question.free)
            for value, text in question.choices:
                box.addItem(self._put(text), value)
            return box
        if question.kind is Kind.SEVERAL:
            return self._several(question, words)
        line = QLineEdit()
        line.setAccessibleName(words)
        return line

    def _several(self, question: Question, words: str) -> QListWidget:
        rows = _list_of_rows(self.theme, words)
        rows.setSelectionMode(QListWidget.SelectionMode.MultiSelection)
        for value, text in question.choices:
            item = QListWidgetItem(_NOT_TICKED + text)
            item.setData(Qt.ItemDataRole.UserRole, value)
            item.setSizeHint(QSize(0, self.theme.px(ROW_HEIGHT)))
            rows.addItem(item)
        rows.itemSelectionChanged.connect(lambda: _show_ticks(rows))
        return rows

    def tick(self, key: str, values: Sequence[str]) -> None:
        """Tick these among several."""
        rows = self._fields[key][1]
        if isinstance(rows, QListWidget):
            for row in range(rows.count()):
                item = rows.item(row)
                item.setSelected(item.data(Qt.ItemDataRole.UserRole) in values)

    def _go_on(self, here: QWidget | None) -> None:
        """Go to the next question, or write after the last."""
        fields = [field for _question, field in self._fields.values()]
        place = next((i for i, field in enumerate(fields) if here is not None and _holds(field, here)), len(fields) - 1)
        if place + 1 < len(fields):
            fields[place + 1].setFocus(Qt.FocusReason.TabFocusReason)
        else:
            self.write()

    def _space(self) -> None:
        px = self.theme.px
        self._name.setFont(self.theme.font(Type.TAG))
        self._whole.setContentsMargins(margins(self, px(36), px(22), px(20), px(15)))
        self._whole.setSpacing(px(11))
        self._form.setVerticalSpacing(px(6))
        self._form.setContentsMargins(0, 0, 0, 0)

    def _new_look(self) -> None:
        self._space()
        super()._new_look()


def _show_ticks(rows: QListWidget) -> None:
    for row in range(rows.count()):
        item = rows.item(row)
        text = item.text().removeprefix(_TICKED).removeprefix(_NOT_TICKED)
        item.setText((_TICKED if item.isSelected() else _NOT_TICKED) + text)


def _holds(field: QWidget, here: QWidget) -> bool:
    return field is here or field.isAncestorOf(here)


def _answer(field: QWidget) -> object:
    if isinstance(field, NumberField):
        return field.value()
    if isinstance(field, ChoiceBox):
        typed = field.currentText().strip()
        if field.isEditable() and typed != field.itemText(field.currentIndex()):
            return typed
        return field.currentData()
    if isinstance(field, QListWidget):
        rows = (field.item(row) for row in range(field.count()))
        return tuple(row.data(Qt.ItemDataRole.UserRole) for row in rows if row.isSelected())
    if not isinstance(field, QLineEdit):
        return None
    # What was scanned is meant by its code; a number typed over it is looked up as any number.
    text = field.text().strip()
    return field.property("code") if text and text == field.property("number") else text
