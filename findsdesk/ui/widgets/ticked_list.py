"""A list of lines with a box each: a click into the box takes the cursor to its line, as a click beside it does."""

from __future__ import annotations

from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QListWidget
from shiboken6 import isValid


class TickedList(QListWidget):
    """The toolkit ticks a line and leaves the cursor where it was: the next key would then be about another line."""

    def mousePressEvent(self, event: QMouseEvent) -> None:
        item = self.itemAt(event.position().toPoint())
        super().mousePressEvent(event)
        # Afterwards: a line half in sight comes into sight, and another would lie under the pointer.
        if item is not None and isValid(item):
            self.setCurrentItem(item)
