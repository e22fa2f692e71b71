"""The search of a list: Down and Enter lead to its rows."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QLineEdit

from findsdesk.words import _


class SearchField(QLineEdit):
    """Says as much of what is searched as it has room for."""

    down = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName(_("Search, old numbers too"))
        self.setClearButtonEnabled(True)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Say more of what is searched where there is room for it."""
        super().resizeEvent(event)
        long, room = _("Search, old numbers too"), self.width() - 3 * self.fontMetrics().height()
        self.setPlaceholderText(long if self.fontMetrics().horizontalAdvance(long) < room else _("Search"))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Down:
            self.down.emit()
            return
        super().keyPressEvent(event)
