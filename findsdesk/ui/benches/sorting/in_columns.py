"""The columns of the table: one share of the width each, for the rows and for the fields below them alike."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from PySide6.QtCore import QRect, QSize
from PySide6.QtWidgets import QWidget

from findsdesk.ui.widgets.item_layout import ItemLayout

SHARES = (12, 16, 10, 11, 16, 22, 13)
"""Hundredths of the width: ware, part, count, grams, decision, why, row."""


def column_widths(width: int) -> list[int]:
    """Return the width of each column in pixels; together they are the width."""
    edges = [round(width * sum(SHARES[:place]) / sum(SHARES)) for place in range(len(SHARES) + 1)]
    return [right - left for left, right in pairwise(edges)]


class InColumns(ItemLayout):
    """Sets its items one to a column, with a small gap between them."""

    def __init__(self, width_of: Callable[[], int], parent: QWidget | None = None) -> None:
        """``width_of`` returns the width that the columns of the table share, in pixels."""
        super().__init__(parent)
        self._width_of = width_of
        self.gap = 4

    def add_all(self, widgets: Sequence[QWidget]) -> None:
        """Add one widget to each column."""
        for widget in widgets:
            self.addWidget(widget)

    def sizeHint(self) -> QSize:
        return QSize(0, max((item.sizeHint().height() for item in self._items), default=0))

    def minimumSize(self) -> QSize:
        return QSize(0, max((item.minimumSize().height() for item in self._items), default=0))

    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        turned = self.is_turned()
        width = min(self._width_of(), rect.width()) or rect.width()
        x = 0
        for item, room in zip(self._items, column_widths(width), strict=False):
            height = min(rect.height(), item.sizeHint().height())
            left = rect.right() + 1 - x - room if turned else rect.left() + x
            top = rect.top() + (rect.height() - height) // 2
            item.setGeometry(QRect(left + (self.gap if turned else 0), top, room - self.gap, height))
            x += room
