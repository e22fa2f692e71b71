"""Choice boxes, date and time fields that the mouse wheel cannot change: the page scrolls instead."""

from __future__ import annotations

from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QComboBox, QDateEdit, QTimeEdit


class ChoiceBox(QComboBox):
    """A combo box that leaves the wheel to the page."""

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()


class DateField(QDateEdit):
    """A date field that leaves the wheel to the page and shows dates as ISO writes them."""

    def __init__(self) -> None:
        super().__init__()
        self.setDisplayFormat("yyyy-MM-dd")
        self.setCalendarPopup(True)

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()


class TimeField(QTimeEdit):
    """A time field that leaves the wheel to the page."""

    def __init__(self) -> None:
        super().__init__()
        self.setDisplayFormat("HH:mm")

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()
