"""The preview of a list or table: every row with what becomes of it, the matching of columns, and what is asked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from findsdesk.ui.bench import act_button
from findsdesk.ui.models.cells import Column, TableRow
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.list_question import ListQuestion
from findsdesk.ui.widgets.slips import EmptySlip, RefusalSlip
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.words import _, plural

_FATE = 2
"""The column that says what becomes of a row."""
_STAYS = 3
"""Columns that stand however narrow the table is."""
_WIDEST_BOX = 158
"""A box for a column is no wider, in pixels at 100 per cent: tables have a dozen columns and more."""


@dataclass(frozen=True, slots=True)
class PreviewState:
    """The preview in words."""

    title: str
    summary: str
    notes: tuple[str, ...]
    headings: tuple[str, ...]
    rows: tuple[TableRow, ...]
    left_out: int
    act: str
    can_take: bool
    refusal: str
    question: str
    choices: tuple[tuple[str, str, str], ...]
    """(code of the question, choice, its words)."""
    matching: tuple[tuple[str, str], ...]
    """(header, column or "")."""
    missing: tuple[str, ...]
    sheets: tuple[str, ...]
    sheet: str


class GivenPart(QWidget):
    """Where is told what all rows of a list have in common that lacks a column for it."""

    given = Signal(str, str)
    """A column and its value."""

    def show_missing(self, columns: Sequence[str]) -> None:
        """Ask for these columns."""
        self.setVisible(bool(columns))


class TablePreview(QWidget):
    """Shows a ``PreviewState``; nothing is written before "Take in" is pressed."""

    taken = Signal()
    left = Signal()
    matched = Signal(object)
    """The whole matching, header to column, after one was changed."""
    answered = Signal(str, str)
    """A question's code and the choice."""
    given = Signal(str, str)
    """A column and the value told for all rows."""
    sheet_chosen = Signal(str)

    def __init__(self, theme: Theme, given_fields: GivenPart) -> None:
        super().__init__()
        self.theme = theme
        self.state: PreviewState | None = None
        self.name, self.summary = labels.bold(), labels.plain()
        self.refusal = RefusalSlip(theme)
        self.question = ListQuestion(theme)
        self.question.answered.connect(self.answered)
        self.given_fields = given_fields
        self.given_fields.given.connect(self.given)
        self.sheets = ChoiceBox()
        self.sheets.setAccessibleName(_("Sheet"))
        self.sheets.activated.connect(lambda _place: self.sheet_chosen.emit(self.sheets.currentText()))
        self.match_title = labels.group(_("Which column holds what; change it here"))
        self._matching = QWidget()
        self._flow = FlowLayout(theme.px(14), theme.px(6))
        self._matching.setLayout(self._flow)
        self.boxes: dict[str, ChoiceBox] = {}
        self.notes: QLabel = labels.muted()
        self.table = TableView(theme, _("Rows of the list"))
        self.model: ShortTable | None = None
        self._headings: tuple[str, ...] = ()
        self.nothing = EmptySlip(theme, _("The rows show here as soon as the list can be read."))
        self.more = labels.muted()
        self.of_row = labels.headed()
        self.table.picked.connect(self._say_of_row)
        self.take = act_button("")
        self.take.clicked.connect(self.taken)
        self.leave = QPushButton(_("Leave it"))
        self.leave.clicked.connect(self.left)
        self.foot = QHBoxLayout()
        """The row of buttons; what a bench adds to it stands between taking in and leaving."""
        self._columns: tuple[tuple[str, str], ...] = ()
        self._offered_anew = False
        self._lay_out()

    def offer_columns(self, columns: Sequence[tuple[str, str]]) -> None:
        """Offer these (column, name) for each header."""
        if self._columns != tuple(columns):
            self._columns = tuple(columns)
            self._offered_anew = True

    def show_state(self, state: PreviewState) -> None:
        """Show the list as it would go in now."""
        self.state = state
        self.name.setText(state.title)
        self.summary.setText(state.summary)
        self.summary.setVisible(bool(state.summary))
        if state.refusal:
            self.refusal.refuse(state.refusal)
        else:
            self.refusal.clear()
        self.question.show_question(state.question, state.choices)
        self.given_fields.show_missing(state.missing)
        self._show_sheets(state)
        self._show_matching(state)
        self.notes.setText("\n".join(state.notes))
        self.notes.setVisible(bool(state.notes))
        self._show_rows(state)
        self.take.setText(state.act)
        self.take.setVisible(bool(state.rows))
        self.take.setEnabled(state.can_take)

    def rest(self, resting: bool) -> None:
        """Let everything rest that would change what goes in, while it goes in."""
        for part in (self.question, self.given_fields, self.sheets, self._matching, self.leave):
            part.setEnabled(not resting)

    def _show_sheets(self, state: PreviewState) -> None:
        self.sheets.clear()
        self.sheets.addItems(list(state.sheets))
        self.sheets.setCurrentText(state.sheet)
        self.sheets.setVisible(len(state.sheets) > 1)

    def _show_matching(self, state: PreviewState) -> None:
        if self._offered_anew or list(self.boxes) != [header for header, _column in state.matching]:
            self._offered_anew = False
            while self._flow.count():
                item = self._flow.takeAt(0)
                widget = item.widget() if item else None
                if widget is not None:
                    widget.hide()
                    widget.deleteLater()
            self.boxes = {header: self._box(header) for header, _column in state.matching}
        for header, column in state.matching:
            box = self.boxes[header]
            box.setCurrentIndex(box.findData(column))
        self.match_title.setVisible(bool(state.matching))
        self._matching.setVisible(bool(state.matching))

    def _box(self, header: str) -> ChoiceBox:
        box = ChoiceBox()
        for column, name in self._columns:
            box.addItem(name, column)
        box.setAccessibleName(header)
        box.setMaximumWidth(self.theme.px(_WIDEST_BOX))
        box.activated.connect(lambda _place: self._match())
        pair = QWidget()
        row = QVBoxLayout(pair)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(self.theme.px(2))
        label = labels.muted(f"“{header}”", wrap=False, small=True)
        label.setBuddy(box)
        row.addWidget(label)
        row.addWidget(box)
        self._flow.addWidget(pair)
        return box

    def _match(self) -> None:
        self.matched.emit({header: str(box.currentData() or "") for header, box in self.boxes.items()})

    def _show_rows(self, state: PreviewState) -> None:
        if self.model is None or self._headings != state.headings:
            self._headings = state.headings
            columns = [Column(title, grows=place == _FATE) for place, title in enumerate(state.headings)]
            self.model = ShortTable(columns, self)
            self.table.setModel(self.model)
            self.table.may_leave_out(range(len(columns) - 1, _STAYS - 1, -1))
        self.model.show_rows(state.rows)
        self.table.fit_columns()
        self.table.setVisible(bool(state.rows))
        self.nothing.setVisible(not state.rows)
        self.more.setText(plural("{n} row more is not shown", "{n} rows more are not shown", state.left_out))
        self.more.setVisible(bool(state.left_out))
        self._say_of_row(state.rows[0].row_id if state.rows else None)

    def _say_of_row(self, line: object) -> None:
        """Write out what becomes of the row at hand, which the table may have to cut."""
        row = next((one for one in self.state.rows if one.row_id == line), None) if self.state else None
        asks = row is not None and row.late
        self.of_row.setText(labels.rich(_("Line {line}: ").format(line=line), row.said) if row and asks else "")
        self.of_row.setVisible(asks)

    def _lay_out(self) -> None:
        head = QGridLayout()
        head.addWidget(self.name, 0, 0)
        head.addWidget(self.sheets, 0, 1)
        head.addWidget(self.summary, 1, 0, 1, 2)
        head.setColumnStretch(0, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(self.theme.px(8))
        column.addLayout(head)
        for part in (self.refusal, self.question, self.given_fields, self.match_title, self._matching, self.notes):
            column.addWidget(part)
        column.addWidget(self.table, 1)
        column.addWidget(self.nothing, 1)
        column.addWidget(self.of_row)
        column.addWidget(self.more)
        self.foot.addWidget(self.take)
        self.foot.addWidget(self.leave)
        self.foot.addStretch(1)
        column.addLayout(self.foot)
