"""The search of a list: Down and Enter lead to its rows."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QLineEdit


class SearchField(QLineEdit):
    """Says as much of what is searched as it has room for: a long text or a short one."""

    down = Signal()

    def __init__(self, long: str, short: str) -> None:
        super().__init__()
        self._long, self._short = long, short
        self.setAccessibleName(long)
        self.setClearButtonEnabled(True)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Say more of what is searched where there is room for it."""
        super().resizeEvent(event)
        room = self.width() - 3 * self.fontMetrics().height()
        self.setPlaceholderText(self._long if self.fontMetrics().horizontalAdvance(self._long) < room else self._short)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Down:
            self.down.emit()
            return
        super().keyPressEvent(event)
