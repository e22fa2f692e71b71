"""A layout for the rows of a form: each label beside what it names, or above it where there is little room."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QRect, QSize
from PySide6.QtWidgets import QLabel, QLayoutItem, QWidget

from findsdesk.ui.widgets.item_layout import ItemLayout

_MOST_OF_LABELS = 30
"""Per cent of the width that labels beside their fields take at most; longer ones wrap."""


class FormRows(ItemLayout):
    """Each row is as high as its wrapped lines and texts ask at the width it has, whatever it was before.

    The form layout of the toolkit keeps a row at the height it had when texts in it come or go, and cuts them.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._heights: dict[int, int] = {}
        self._across, self._down = 12, 8
        self._above = False
        self.setContentsMargins(0, 0, 0, 0)

    def add_row(self, label: QWidget, field: QWidget) -> None:
        """Add a row at the end; a row whose field is hidden takes no room."""
        self.addWidget(label)
        self.addWidget(field)

    def set_gaps(self, across: int, down: int) -> None:
        """Set the gaps between label and field and between rows, in pixels."""
        self._across, self._down = across, down
        self.invalidate()

    def set_above(self, above: bool) -> None:
        """Set every label above its field, or beside it where both have room."""
        if above != self._above:
            self._above = above
            self.invalidate()

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        # Asked for many times in each pass of the window's layout; the answer holds until an item changes.
        if width not in self._heights:
            self._heights[width] = self._arrange(QRect(0, 0, width, 0), place=False)
        return self._heights[width]

    def minimumHeightForWidth(self, width: int) -> int:
        return self.heightForWidth(width)

    def invalidate(self) -> None:
        self._heights.clear()
        super().invalidate()

    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        self._arrange(rect, place=True)

    def sizeHint(self) -> QSize:
        fields = max((field.sizeHint().width() for _label, field in self._rows()), default=0)
        beside = max((_in_one_line(label) for label, _field in self._rows()), default=0) + self._across
        width = fields if self._above else beside + fields
        return QSize(width, self.heightForWidth(width))

    def minimumSize(self) -> QSize:
        """Return the least width with every label above its field; what height that needs the width decides."""
        least = max((field.minimumSize().width() for _label, field in self._rows()), default=0)
        return QSize(least, max((field.minimumSize().height() for _label, field in self._rows()), default=0))

    def _rows(self) -> Iterator[tuple[QLayoutItem, QLayoutItem]]:
        pairs = zip(self._items[::2], self._items[1::2], strict=True)
        return ((label, field) for label, field in pairs if not field.isEmpty())

    def _label_width(self, width: int) -> int:
        """Return how wide the column of labels is: as their words ask, and where that is much, at most so wide."""
        asked = max((_in_one_line(label) for label, _field in self._rows()), default=0)
        return min(asked, width * _MOST_OF_LABELS // 100)

    def _arrange(self, area: QRect, *, place: bool) -> int:
        """Lay the rows one below the other; return how high they are together."""
        labels, y = self._label_width(area.width()), 0
        for label, field in self._rows():
            beside = area.width() - labels - self._across
            y += self._down if y else 0
            if self._above or field.minimumSize().width() > beside:
                above = _height(label, area.width())
                self._place(label, area, QRect(0, y, area.width(), above), place)
                y += above + self._down // 2
                beside, left = area.width(), 0
            else:
                above, left = 0, labels + self._across
            height = _height(field, beside)
            if not above:
                # A label stands in the middle of its field's first line, also where more lines follow.
                needed = _height(label, labels)
                height = max(height, needed)
                self._place(label, area, QRect(0, y, labels, max(needed, min(height, needed * 7 // 4))), place)
            self._place(field, area, QRect(left, y, beside, height), place)
            y += height
        return y

    def _place(self, item: QLayoutItem, area: QRect, room: QRect, place: bool) -> None:
        if place:
            left = area.width() - room.x() - room.width() if self.is_turned() else room.x()
            item.setGeometry(room.translated(area.x() + left - room.x(), area.y()))


def _in_one_line(item: QLayoutItem) -> int:
    label = item.widget()
    if not isinstance(label, QLabel):
        return item.sizeHint().width()
    return label.fontMetrics().boundingRect(label.text()).width() + 2 * label.margin() + 3


def _height(item: QLayoutItem, width: int) -> int:
    wanted = item.heightForWidth(width) if item.hasHeightForWidth() else item.sizeHint().height()
    return max(wanted, item.minimumSize().height())
