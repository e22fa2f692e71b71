"""A form that opens on a page of a bench for one act and is put away again; refusals stand in it while it is open."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.field_form import FieldForm
from findsdesk.words import _


class AskingForm(Card):
    """Hidden until somebody begins; Escape leaves it."""

    wanted = Signal()
    """The act is to be written."""
    left = Signal()

    def __init__(self, bench: Bench, heading: str, write: str) -> None:
        super().__init__(bench.theme, heading)
        self.bench = bench
        self.fields: FieldForm | None = None
        self.write = act_button(write)
        self.leave_it = QPushButton(_("Leave it"))
        self._asked = QVBoxLayout()
        buttons = QHBoxLayout()
        buttons.addWidget(self.write)
        buttons.addWidget(self.leave_it)
        buttons.addStretch(1)
        self.body.addLayout(self._asked)
        self.body.addLayout(buttons)
        self.write.clicked.connect(self.wanted)
        self.leave_it.clicked.connect(self.leave)
        self.hide()

    def begin(self, fields: FieldForm) -> None:
        """Open with these fields; what was open before goes."""
        self.leave()
        self.fields = fields
        self.body.insertWidget(0, fields)
        fields.entered.connect(self.wanted)
        self.bench.stand_refusals(self._asked)
        self.show()
        fields.focus_first()

    def leave(self) -> None:
        """Put the form away."""
        if self.fields is not None:
            self.body.removeWidget(self.fields)
            self.fields.hide()
            self.fields.deleteLater()
            self.fields = None
            self.bench.refusals.clear()
            self.bench.stand_refusals()
            self.hide()
            self.left.emit()

    def read(self) -> dict[str, Any] | None:
        """Return what was typed, or None while something in it is wrong or nothing is asked."""
        return self.fields.read() if self.fields else None

    def first_field(self) -> QWidget | None:
        """Return the first field of an open form."""
        return next(iter(self.fields.entries.values())).widget if self.fields else None

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.leave()
            return
        super().keyPressEvent(event)
