"""A list over whose end stands what is refused or asked: nothing below it moves away from under the mouse."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget


class SaidOver(QWidget):
    """Holds lists, of which one is shown, and gives ``asked`` for a refusal that is laid over their lower edge."""

    def __init__(self, *lists: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._lists = QVBoxLayout(self)
        self._lists.setContentsMargins(0, 0, 0, 0)
        for one in lists:
            self._lists.addWidget(one, 1)
        self._said = QWidget(self)
        self.asked = QVBoxLayout(self._said)
        self.asked.setContentsMargins(0, 0, 0, 0)
        self._said.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Lay what is said anew when it comes, goes or is longer."""
        if watched is self._said and event.type() == QEvent.Type.LayoutRequest:
            self._place()
        return super().eventFilter(watched, event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place()

    def _place(self) -> None:
        said, width = self.asked, self.width()
        high = said.heightForWidth(width) if said.hasHeightForWidth() else said.sizeHint().height()
        # Only what is higher than the list at its lowest pushes the form down: better than a cut answer.
        self.setMinimumHeight(high if high > self._lists.minimumSize().height() else 0)
        self._said.setGeometry(0, max(0, self.height() - high), width, high)
        self._said.raise_()
