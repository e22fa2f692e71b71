"""Rows of field lists that wait with a question: each is put right and taken in, or left out with a reason."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QBoxLayout, QFormLayout, QLineEdit, QPushButton, QWidget

from findsdesk.desk.new_containers import IssuedTag
from findsdesk.desk.rows_set_aside import AsideRow, answer_row, drop_row, rows_set_aside
from findsdesk.desk.shipped import material_named
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.check_in.state import materials
from findsdesk.ui.models.cells import Column, TableRow, plain_cells
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.day_field import DayField
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.slips import EmptySlip
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _


@dataclass(frozen=True, slots=True)
class _Waiting:
    """What one reading brings."""

    rows: tuple[AsideRow, ...]


class AsidePart(QWidget):
    """The waiting rows beside the form for the one at hand. What is typed stays when an answer is refused."""

    left = Signal()

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.bench = bench
        self.rows: tuple[AsideRow, ...] = ()
        self.at_hand: AsideRow | None = None
        say = bench.surroundings.words
        columns = (_("List"), say(N_("{Container}")), say(N_("{Deposit}")), _("What is asked"))
        self.model = ShortTable([Column(title, grows=place == 3) for place, title in enumerate(columns)])
        self.table = TableView(bench.theme, _("Rows that wait with a question"))
        self.table.setModel(self.model)
        self.table.picked.connect(self._pick)
        self.none = EmptySlip(
            bench.theme, _("No row waits. Rows with a question are set aside here, the others go in.")
        )
        self.form = Card(bench.theme)
        self.asked = labels.plain()
        self.number, self.deposit, self.square, self.answer = (QLineEdit() for _field in range(4))
        self.day = DayField(_("Date"))
        self.material = ChoiceBox()
        for key, name in materials(WordsAround.of(bench.surroundings.desk)):
            self.material.addItem(name, key)
        self.take = act_button(_("So it is: take it in"))
        self.drop = QPushButton(_("Leave it out"))
        self.back = QPushButton(_("Back to the pallet"))
        self._wire()
        self._lay_out()

    def refresh(self) -> None:
        """Read the waiting rows again."""
        desk = self.bench.surroundings.desk
        self.bench.read(lambda: _Waiting(rows_set_aside(desk)), self._show, topic="aside")

    def make_wide(self, wide: bool) -> None:
        """Set the form beside the rows, or below them."""
        directions = QBoxLayout.Direction
        self._parts.setDirection(directions.LeftToRight if wide else directions.TopToBottom)

    def _show(self, waiting: _Waiting) -> None:
        self.rows = waiting.rows
        terms = self.bench.surroundings.terms
        self.model.show_rows(
            [
                TableRow(
                    one.id,
                    plain_cells(
                        f"{one.file_name}, {one.row.line}",
                        one.row.number,
                        one.row.deposit,
                        " ".join(doubt.in_words(terms) for doubt in one.row.doubts),
                    ),
                )
                for one in waiting.rows
            ]
        )
        for part in (self.table, self.form):
            part.setVisible(bool(self.rows))
        self.none.setVisible(not self.rows)
        known = {row.id for row in self.rows}
        if self.at_hand is None or self.at_hand.id not in known:
            self.at_hand = None
            if self.rows:
                self.table.selectRow(0)
                self._pick(self.rows[0].id)

    def _pick(self, row_id: object) -> None:
        row = next((one for one in self.rows if one.id == row_id), None)
        if row is None or (self.at_hand is not None and self.at_hand.id == row.id):
            return
        self.at_hand = row
        terms = self.bench.surroundings.terms
        self.form.say_heading(f"{row.file_name}, {row.row.line}")
        self.asked.setText("\n".join(doubt.in_words(terms) for doubt in row.row.doubts))
        self.number.setText(row.row.number)
        self.deposit.setText(row.row.deposit)
        self.square.setText(row.row.square)
        self.day.show_day(row.row.collected_on)
        self.material.setCurrentIndex(self.material.findData(material_named(row.row.material)))
        self.answer.clear()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def _take(self) -> None:
        row, desk = self.at_hand, self.bench.surroundings.desk
        if row is None:
            return
        number, deposit, square = self.number.text(), self.deposit.text(), self.square.text()
        day, answer = self.day.day(), self.answer.text().strip()
        chosen = self.material.currentData()
        material = str(chosen) if chosen else None
        row_id = row.id
        self.bench.deed(
            lambda: answer_row(
                desk,
                row_id,
                number=number,
                deposit=deposit,
                square=square,
                collected_on=day,
                material=material,
                answer=answer,
            ),
            then=self._taken,
            button=self.take,
        )

    def _taken(self, tag: IssuedTag) -> None:
        say = self.bench.surroundings.words
        self.bench.surroundings.say(Answer(Tone.DONE, say(N_("{Container} {number} is listed"), number=tag.number)))
        self.refresh()

    def _drop(self) -> None:
        row, desk = self.at_hand, self.bench.surroundings.desk
        if row is not None:
            row_id, reason = row.id, self.answer.text()
            self.bench.deed(lambda: drop_row(desk, row_id, reason=reason), then=self._dropped, button=self.drop)

    def _dropped(self, _nothing: None) -> None:
        self.bench.surroundings.say(Answer(Tone.DONE, _("Row left out")))
        self.refresh()

    def _wire(self) -> None:
        self.take.clicked.connect(self._take)
        self.drop.clicked.connect(self._drop)
        self.back.clicked.connect(self.left)
        for field in (self.number, self.deposit, self.square, self.day, self.answer):
            field.returnPressed.connect(self._take)

    def _lay_out(self) -> None:
        say, theme = self.bench.surroundings.words, self.bench.theme
        form = QFormLayout()
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        rows: tuple[tuple[str, QWidget], ...] = (
            (say(N_("{Container} number")), self.number),
            (say(N_("{Deposit}")), self.deposit),
            (say(N_("{Square}")), self.square),
            (_("Date"), self.day),
            (_("Material"), self.material),
            (_("Answer, or why it is left out"), self.answer),
        )
        for words, field in rows:
            label = labels.plain(words)
            label.setBuddy(field)
            field.setAccessibleName(words)
            form.addRow(label, field)
        self.form.body.addWidget(self.asked)
        self.form.body.addLayout(form)
        holder = QWidget()
        flow = FlowLayout(theme.px(8), theme.px(6))
        holder.setLayout(flow)
        for button in (self.take, self.drop, self.back):
            flow.addWidget(button)
        self.form.body.addWidget(holder)
        self.form.body.addStretch(1)
        self._parts = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._parts.setContentsMargins(0, 0, 0, 0)
        self._parts.setSpacing(theme.px(14))
        self._parts.addWidget(self.table, 5)
        self._parts.addWidget(self.form, 4)
        self._parts.addWidget(self.none, 1)
