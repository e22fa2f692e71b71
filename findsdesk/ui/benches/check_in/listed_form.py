"""One row of the field's list typed by hand."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFormLayout, QLineEdit, QPushButton, QWidget

from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.day_field import DayField
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.words import N_, _


class ListedForm(Card):
    """After a row was written, day, supervisor, square and material stay for the next one."""

    wanted = Signal()
    left = Signal()

    def __init__(self, surroundings: Surroundings) -> None:
        say = surroundings.words
        super().__init__(surroundings.theme, _("One row of the field list"))
        self.number, self.deposit, self.supervisor, self.description = (QLineEdit() for _field in range(4))
        self.day = DayField(_("Date"))
        self.material = ChoiceBox()
        self.write = QPushButton(_("Write this row"))
        self.back = QPushButton(_("Back"))
        self.back.setProperty("quiet", True)
        form = QFormLayout()
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        self._rows: tuple[tuple[str, QWidget], ...] = (
            (say(N_("{Container} number")), self.number),
            (say(N_("{Deposit}")), self.deposit),
            (_("Date"), self.day),
            (_("Supervisor"), self.supervisor),
            (_("Material"), self.material),
            (_("Description"), self.description),
        )
        for words, field in self._rows:
            label = labels.plain(words)
            label.setBuddy(field)
            field.setAccessibleName(words)
            form.addRow(label, field)
        self.body.addLayout(form)
        holder = QWidget()
        row = FlowLayout(self.theme.px(8), self.theme.px(6))
        holder.setLayout(row)
        row.addWidget(self.write)
        row.addWidget(self.back)
        self.body.addWidget(holder)
        self.body.addStretch(1)
        self.write.clicked.connect(self.wanted)
        for line in (self.number, self.deposit, self.day, self.supervisor, self.description):
            line.returnPressed.connect(self.wanted)
        self.back.clicked.connect(self.left)

    def offer_materials(self, materials: Sequence[tuple[str, str]]) -> None:
        """Offer these (key, name) as materials."""
        self.material.clear()
        for key, name in materials:
            self.material.addItem(name, key)

    def begin(self, day: date) -> None:
        """Propose the day, and take the keyboard to the number."""
        if not self.day.text():
            self.day.show_day(day)
        self.number.setFocus()

    def next_row(self) -> None:
        """Make ready for the next row; what rows of one list share stays."""
        for field in (self.number, self.description):
            field.clear()
        self.number.setFocus()
