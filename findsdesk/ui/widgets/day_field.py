"""A field for a day that may stay empty, typed as people write dates; shown as ISO writes them once it is left."""

from __future__ import annotations

from datetime import date

from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from findsdesk.domain.written_dates import written_date
from findsdesk.words import _


class DayField(QLineEdit):
    """Reads 2026-07-14, 14.7.2026, 14/07/26, 14 July 2026; day before month where both could be meant."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setPlaceholderText(_("year-month-day"))
        self.textEdited.connect(lambda: self._mark(wrong=False))

    def day(self) -> date | None:
        """Return the day typed, or None where there is none or it cannot be read."""
        written = written_date(self.text().strip())
        return written.reading("dmy") if written else None

    def show_day(self, day: date | None) -> None:
        """Show a day, or nothing."""
        self.setText(day.isoformat() if day else "")
        self._mark(wrong=False)

    def unreadable(self) -> bool:
        """Return whether something stands here that is no day."""
        return bool(self.text().strip()) and self.day() is None

    def judge(self) -> None:
        """Mark what is no day, as on leaving the field."""
        self._mark(wrong=self.unreadable())

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        day = self.day()
        if day is not None:
            self.show_day(day)
        self.judge()

    def _mark(self, *, wrong: bool) -> None:
        self.setProperty("wrong", wrong)
        self.style().unpolish(self)
        self.style().polish(self)
