"""The form for a find without a readable tag: what it is, where it is said to come from, what stood beside it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFormLayout, QLineEdit, QPushButton, QWidget

from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.words import N_, _


class UntaggedForm(Card):
    """Gives the find a provisional number; nothing typed is lost if that is refused."""

    wanted = Signal()
    left = Signal()

    def __init__(self, surroundings: Surroundings) -> None:
        say = surroundings.words
        super().__init__(surroundings.theme, _("A find without a readable tag"))
        self.material = ChoiceBox()
        self.deposit, self.neighbours = QLineEdit(), QLineEdit()
        self.neighbours.setPlaceholderText(_("130 and 132"))
        self.register = QPushButton(_("Give it a provisional number"))
        self.back = QPushButton(_("Back"))
        self.back.setProperty("quiet", True)
        text = N_("It keeps its provisional number until somebody knows which {container} it is.")
        self.body.addWidget(labels.muted(say(text)))
        form = QFormLayout()
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        for words, field in (
            (_("Material"), self.material),
            (say(N_("{Deposit}, if known")), self.deposit),
            (_("What stands beside it"), self.neighbours),
        ):
            label = labels.plain(words)
            label.setBuddy(field)
            field.setAccessibleName(words)
            form.addRow(label, field)
        self.body.addLayout(form)
        holder = QWidget()
        row = FlowLayout(self.theme.px(8), self.theme.px(6))
        holder.setLayout(row)
        row.addWidget(self.register)
        row.addWidget(self.back)
        self.body.addWidget(holder)
        self.body.addStretch(1)
        self.register.clicked.connect(self.wanted)
        for field in (self.deposit, self.neighbours):
            field.returnPressed.connect(self.wanted)
        self.back.clicked.connect(self.left)

    def offer_materials(self, materials: Sequence[tuple[str, str]]) -> None:
        """Offer these (key, name) as materials."""
        self.material.clear()
        for key, name in materials:
            self.material.addItem(name, key)

    def clear(self) -> None:
        """Empty the form after the find was written."""
        self.deposit.clear()
        self.neighbours.clear()
        self.material.setCurrentIndex(0)
