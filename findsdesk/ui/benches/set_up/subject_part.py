"""One list of the set-up: what is there, and the form that adds to it or changes one of them."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.set_up.subject import Entry, Subject, Values
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.field_form import FieldForm
from findsdesk.ui.widgets.said_over import SaidOver
from findsdesk.ui.widgets.slips import EmptySlip
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.words import _, put

_ALWAYS = 3
"""Columns that stand however narrow the list is."""


class SubjectPart(QWidget):
    """What was typed stays until it is written; a refusal stands over the end of the list and moves nothing."""

    def __init__(self, bench: Bench, subject: Subject, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bench, self.subject = bench, subject
        self.entries: tuple[Entry, ...] = ()
        self.at_hand: Entry | None = None
        """What is being changed; None while something new is typed."""
        self.when_edited: Callable[[Values], str] | None = None
        theme = bench.theme
        self.model = ShortTable(subject.columns)
        self.table = TableView(theme, subject.title)
        self.table.setModel(self.model)
        if len(subject.columns) > _ALWAYS:
            self.table.may_leave_out(range(len(subject.columns) - 1, _ALWAYS - 1, -1))
        self.empty = EmptySlip(theme, subject.nothing)
        self.card = Card(theme, subject.adding)
        self.form = FieldForm(theme, subject.fields, bench.surroundings.terms)
        self.over = SaidOver(self.table, self.empty)
        self.asked = self.over.asked
        self.button = act_button(subject.button)
        self.other = QPushButton(_("Leave it"))
        self.hint = labels.muted(_("Enter on a row changes it."), small=True)
        self._wire()
        self._lay_out()
        self._begin()

    def refresh(self) -> None:
        """Read the list again; what somebody types stays."""
        desk = self.bench.surroundings.desk
        self.bench.read(lambda: self.subject.entries(desk), self._show, self.subject.key)

    def write(self) -> None:
        """Add or change what the form says; where a field is wrong the caret goes there."""
        values = self.form.read()
        if values is None:
            return
        desk, entry, subject = self.bench.surroundings.desk, self.at_hand, self.subject
        change = subject.change

        def work() -> object:
            return subject.add(desk, values) if entry is None or change is None else change(desk, entry, values)

        self.bench.deed(work, then=self._written, button=self.button)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.at_hand is not None:
            self._leave()
        else:
            super().keyPressEvent(event)

    def _open(self, row_id: object) -> None:
        """Show one of the list in the form, to be changed."""
        found = [entry for entry in self.entries if entry.row.row_id == row_id]
        if not found or self.subject.change is None:
            return
        self.bench.refusals.clear()
        self.at_hand = found[0]
        self.card.say_heading(put(self.subject.changing, None, {"name": self.at_hand.name}))
        self.button.setText(_("Write the changes"))
        self.form.show_values(self.at_hand.values)
        self._show_parts()
        self.form.focus_first()

    def _leave(self) -> None:
        """Leave what is being changed as it was; what was refused of it goes too."""
        self.bench.refusals.clear()
        self._begin()
        self.table.setFocus()

    def _begin(self) -> None:
        """Show the form for something new."""
        self.at_hand = None
        self.card.say_heading(self.subject.adding)
        self.button.setText(self.subject.button)
        self.form.clear()
        self.form.show_values(self.subject.start)
        self._show_parts()

    def _written(self, done: object) -> None:
        said = self.subject.said(done)
        self.bench.surroundings.say(Answer(Tone.DONE, _("Written"), f": {said}" if said else ""))
        self._begin()
        self.form.focus_first()
        self.refresh()

    def _show(self, entries: Sequence[Entry]) -> None:
        self.entries = tuple(entries)
        self.model.show_rows([entry.row for entry in entries])
        self.table.setVisible(bool(entries))
        self.empty.setVisible(not entries)
        self._show_parts()
        if entries:
            self.table.fit_columns()

    def _show_parts(self) -> None:
        changing = self.at_hand is not None
        self.other.setVisible(changing)
        self.hint.setVisible(self.subject.change is not None and bool(self.entries) and not changing)
        for key in self.subject.later:
            self.form.show_field(key, changing)
        for key in self.subject.first:
            self.form.show_field(key, not changing)
        self._say_what_follows()

    def _say_what_follows(self) -> None:
        if self.when_edited is not None:
            last = self.subject.fields[-1]
            self.form.say_below(last.key, f"{self.when_edited(self.form.peek())}\n{last.help}".strip())

    def _wire(self) -> None:
        self.button.clicked.connect(self.write)
        self.other.clicked.connect(self._leave)
        self.form.entered.connect(self.write)
        self.form.edited.connect(self._say_what_follows)
        self.table.opened.connect(self._open)

    def _lay_out(self) -> None:
        buttons = QHBoxLayout()
        buttons.addWidget(self.button)
        buttons.addWidget(self.other)
        buttons.addWidget(self.hint, 1)
        buttons.addStretch(0)
        self.card.body.addWidget(self.form)
        self.card.body.addLayout(buttons)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(self.bench.theme.px(10))
        self.table.setMinimumHeight(self.bench.theme.px(108))
        layout.addWidget(self.over, 1)
        layout.addWidget(self.card)


def add_beside(part: SubjectPart, further: QWidget) -> None:
    """Put a further button, or several, below the list of a subject."""
    layout = part.layout()
    if isinstance(layout, QVBoxLayout):
        layout.insertWidget(1, further, alignment=Qt.AlignmentFlag.AlignLeading)
