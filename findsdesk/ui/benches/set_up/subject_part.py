"""One list of the set-up: what is there, and the form that adds to it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.set_up.subjects import Subject
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.widgets.field_form import FieldForm
from findsdesk.ui.widgets.slips import EmptySlip
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.words import _


class SubjectPart(QWidget):
    """What was typed stays until it was added; a refusal stands on the bench."""

    def __init__(self, bench: Bench, subject: Subject, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bench, self.subject = bench, subject
        self.model = ShortTable(subject.columns)
        self.table = TableView(bench.theme, subject.title)
        self.table.setModel(self.model)
        self.empty = EmptySlip(bench.theme, _("Nothing is here yet. Add the first below."))
        self.form = FieldForm(bench.theme, subject.fields, bench.surroundings.terms)
        self.form.show_values(subject.start)
        self.button = QPushButton(subject.button)
        self.button.clicked.connect(self.add)
        self.form.entered.connect(self.add)
        self.when_edited: Callable[[dict[str, Any]], str] | None = None
        self.form.edited.connect(self._say_what_follows)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(bench.theme.px(10))
        layout.addWidget(self.table, 1)
        layout.addWidget(self.empty, 1)
        layout.addWidget(self.form)
        layout.addWidget(self.button)

    def refresh(self) -> None:
        """Read the list again."""
        desk = self.bench.surroundings.desk
        self.bench.read(lambda: self.subject.rows(desk), self._show, self.subject.key)

    def add(self) -> None:
        """Add what the form says; where a field is wrong the caret goes there."""
        values = self.form.read()
        if values is None:
            return
        desk = self.bench.surroundings.desk
        self.bench.deed(lambda: self.subject.add(desk, values), then=lambda _done: self._added(), button=self.button)

    def _added(self) -> None:
        self.form.clear()
        self.form.show_values(self.subject.start)
        self.form.focus_first()
        self.refresh()

    def _show(self, rows: Any) -> None:
        self.model.show_rows(rows)
        self.table.setVisible(bool(rows))
        self.empty.setVisible(not rows)
        if rows:
            self.table.fit_columns()

    def _say_what_follows(self) -> None:
        if self.when_edited is not None:
            key = self.subject.fields[-1].key
            self.form.say_below(key, self.when_edited(self.form.peek()))
