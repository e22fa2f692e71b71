"""A list of lines with a box each: a click into the box takes the cursor to its line, as a click beside it does."""

from __future__ import annotations

from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QListWidget


class TickedList(QListWidget):
    """The toolkit ticks a line and leaves the cursor where it was: the next key would then be about another line."""

    def mousePressEvent(self, event: QMouseEvent) -> None:
        item = self.itemAt(event.position().toPoint())
        if item is not None:
            # The box is ticked when the button is let go: a list that scrolled before would have another line there.
            scrolls = self.hasAutoScroll()
            self.setAutoScroll(False)
            self.setCurrentItem(item)
            self.setAutoScroll(scrolls)
        super().mousePressEvent(event)
