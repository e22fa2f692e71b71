"""A layout that sets its items side by side and begins a new line where there is no more room."""

from __future__ import annotations

from PySide6.QtCore import QMargins, QPoint, QRect, QSize
from PySide6.QtWidgets import QWidget

from findsdesk.ui.widgets.item_layout import ItemLayout


class FlowLayout(ItemLayout):
    """Items keep their preferred size; lines run in the direction of the language."""

    def __init__(self, across: int = 12, down: int = 6, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._heights: dict[int, int] = {}
        self._across, self._down = across, down
        self.setContentsMargins(QMargins(0, 0, 0, 0))

    def set_gaps(self, across: int, down: int) -> None:
        """Set the gaps between items and between lines, in pixels."""
        self._across, self._down = across, down
        self.invalidate()

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        # Asked for many times in each pass of the window's layout; the answer holds until an item changes.
        if width not in self._heights:
            self._heights[width] = self._arrange(QRect(0, 0, width, 0), place=False)
        return self._heights[width]

    def invalidate(self) -> None:
        self._heights.clear()
        super().invalidate()

    def minimumHeightForWidth(self, width: int) -> int:
        return self.heightForWidth(width)

    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        self._arrange(rect, place=True)

    def sizeHint(self) -> QSize:
        shown = [item.sizeHint() for item in self._items if not item.isEmpty()]
        width = sum(size.width() for size in shown) + self._across * max(0, len(shown) - 1)
        return QSize(width, max((size.height() for size in shown), default=0))

    def minimumSize(self) -> QSize:
        least = QSize()
        for item in self._items:
            if not item.isEmpty():
                least = least.expandedTo(item.minimumSize())
        return least

    def _arrange(self, area: QRect, place: bool) -> int:
        turned = self.is_turned()
        x, y, line_height = 0, 0, 0
        for item in self._items:
            if item.isEmpty():
                continue
            size = item.sizeHint()
            size.setWidth(min(size.width(), max(area.width(), 1)))
            if x and x + size.width() > area.width():
                x, y, line_height = 0, y + line_height + self._down, 0
            if place:
                left = area.right() + 1 - x - size.width() if turned else area.left() + x
                item.setGeometry(QRect(QPoint(left, area.top() + y), size))
            x += size.width() + self._across
            line_height = max(line_height, size.height())
        return y + line_height
