"""Beside the big tag where they are wanted: grams with the count, and the time at which a paper list was written."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import QDate, QTime, Signal
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.choice_fields import DateField, TimeField
from findsdesk.ui.widgets.number_field import NumberField, grams
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import _


class GramsRow(QWidget):
    """Grams of what is counted; wet ones are kept and stay out of the balance."""

    entered = Signal()
    """Enter: write the count with these grams."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.field = NumberField(grams(), _("Grams"))
        self.wet = QCheckBox(_("weighed wet"))
        self.wet.setToolTip(_("Wet grams are kept and stay out of the balance."))
        self.field.entered.connect(lambda _value: self.entered.emit())
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(labels.muted(_("Grams"), wrap=False))
        row.addWidget(self.field, 1)
        row.addWidget(self.wet)
        self.hide()

    def tenths(self) -> int | None:
        """Return the grams as tenths, or None for none; refuses what is no weight."""
        return self.field.value() if not self.isHidden() else None

    def clear(self) -> None:
        """Empty the field; wet stays as it was said last."""
        self.field.set_value(None)


class PaperTime(QWidget):
    """What is written now happened at this time: a paper list is being entered."""

    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._around: WordsAround | None = None
        self.day, self.time = DateField(), TimeField()
        self.time.setMinimumWidth(self.time.fontMetrics().horizontalAdvance("00:00") * 2)
        self.day.setAccessibleName(_("Day on the paper"))
        self.time.setAccessibleName(_("Time on the paper"))
        stop = QPushButton(_("No more"))
        stop.setProperty("quiet", True)
        stop.clicked.connect(self.leave)
        row = QHBoxLayout()
        for part in (self.day, self.time, stop):
            row.addWidget(part)
        row.addStretch(1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(labels.bold(_("From paper: what is written now happened on"), wrap=True))
        whole.addLayout(row)
        self.hide()

    def begin(self, around: WordsAround) -> None:
        """Begin to enter from paper, at first with the present time."""
        self._around = around
        now = around.now.astimezone(around.zone)
        self.day.setDate(QDate(now.year, now.month, now.day))
        self.time.setTime(QTime(now.hour, now.minute))
        self.show()
        self.time.setFocus()

    def leave(self) -> None:
        """End entering from paper."""
        self._around = None
        self.hide()
        self.left.emit()

    def moment(self) -> datetime | None:
        """Return when it happened, in the excavation's time zone, or None where nothing is entered from paper."""
        if self._around is None:
            return None
        day, time = self.day.date(), self.time.time()
        return datetime(day.year(), day.month(), day.day(), time.hour(), time.minute(), tzinfo=self._around.zone)
