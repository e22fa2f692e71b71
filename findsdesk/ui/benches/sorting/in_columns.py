"""The columns of the table: one share of the width each, for the rows and for the fields below them alike."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from PySide6.QtCore import QRect, QSize
from PySide6.QtWidgets import QWidget

from findsdesk.ui.widgets.item_layout import ItemLayout

SHARES = {
    "ware": 56,
    "part": 124,
    "form": 64,
    "surface": 74,
    "decoration": 80,
    "condition": 86,
    "pieces": 62,
    "grams": 72,
    "rim": 66,
    "base": 66,
    "decision": 162,
    "reason": 193,
    "note": 74,
    "row": 88,
}
"""What each column asks for, in parts of the width; the last is the row's own, behind all others.

Where the usual columns stand on a screen 1366 pixels wide it is about the pixels that the longest words ask for.
"""

CROWDED = 9
"""Columns beyond which cells leave less room around what stands in them."""


def column_widths(width: int, columns: Sequence[str]) -> list[int]:
    """Return the width of each column and of the row's own in pixels; together they are the width."""
    shares = [SHARES[column] for column in (*columns, "row")]
    edges = [round(width * sum(shares[:place]) / sum(shares)) for place in range(len(shares) + 1)]
    return [right - left for left, right in pairwise(edges)]


class InColumns(ItemLayout):
    """Sets its items one to a column, with a small gap between them."""

    def __init__(self, width_of: Callable[[], int], parent: QWidget | None = None) -> None:
        """``width_of`` returns the width that the columns of the table share, in pixels."""
        super().__init__(parent)
        self._width_of = width_of
        self.columns: tuple[str, ...] = ()
        self.gap = 4

    def show_columns(self, columns: Sequence[str], widgets: Sequence[QWidget]) -> None:
        """Set these widgets, one to each column and one behind them, in the place of those before."""
        while self.count():
            self.takeAt(0)
        self.columns = tuple(columns)
        for widget in widgets:
            self.addWidget(widget)
        self.invalidate()

    def sizeHint(self) -> QSize:
        return QSize(0, max((item.sizeHint().height() for item in self._items), default=0))

    def minimumSize(self) -> QSize:
        return QSize(0, max((item.minimumSize().height() for item in self._items), default=0))

    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        turned = self.is_turned()
        width = min(self._width_of(), rect.width()) or rect.width()
        x = 0
        for item, room in zip(self._items, column_widths(width, self.columns), strict=False):
            height = min(rect.height(), item.sizeHint().height())
            left = rect.right() + 1 - x - room if turned else rect.left() + x
            top = rect.top() + (rect.height() - height) // 2
            item.setGeometry(QRect(left + (self.gap if turned else 0), top, room - self.gap, height))
            x += room
