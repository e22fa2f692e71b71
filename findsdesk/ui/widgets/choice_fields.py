"""Choice boxes, date and time fields that the mouse wheel cannot change: the page scrolls instead."""

from __future__ import annotations

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPalette, QPolygonF, QWheelEvent
from PySide6.QtWidgets import QComboBox, QDateEdit, QStyledItemDelegate, QStyleOptionComboBox, QTimeEdit

_ARROW = 1.9
"""What the arrow and the margins of a box take of its width, in heights of its letters."""
_MOST_ROWS = 14
"""So many choices stand in a list at once; beyond, it scrolls."""


class ChoiceBox(QComboBox):
    """A combo box that leaves the wheel to the page, and wears an arrow in the ink of the palette in use.

    The keyboard does not follow the wheel into it either: by default it would.
    """

    def __init__(self) -> None:
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMaxVisibleItems(_MOST_ROWS)
        # The delegate of the toolkit's own list knows nothing of the height that the look gives its rows.
        self.setItemDelegate(QStyledItemDelegate(self))

    def showPopup(self) -> None:
        """Open the list as wide as its longest words."""
        view = self.view()
        bar = view.verticalScrollBar().sizeHint().width() if self.count() > _MOST_ROWS else 0
        view.setMinimumWidth(view.sizeHintForColumn(0) + bar + 2 * view.frameWidth())
        super().showPopup()

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()

    def initStyleOption(self, option: QStyleOptionComboBox) -> None:
        """Let words that have no room end in dots: the style of the toolkit cuts them off within a letter."""
        super().initStyleOption(option)
        room = self.width() - round(self.fontMetrics().height() * _ARROW)
        option.currentText = self.fontMetrics().elidedText(option.currentText, Qt.TextElideMode.ElideRight, room)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        size = max(4.0, self.fontMetrics().height() * 0.24)
        turned = self.layoutDirection() == Qt.LayoutDirection.RightToLeft
        x, y = size * 2.9 if turned else self.width() - size * 2.9, self.height() / 2
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self.palette().color(QPalette.ColorRole.Text))
        tip, side = QPointF(x, y + size * 0.6), size * 0.9
        painter.drawPolygon(QPolygonF([QPointF(x - side, y - size * 0.5), QPointF(x + side, y - size * 0.5), tip]))


class DateField(QDateEdit):
    """A date field that leaves the wheel to the page and shows dates as ISO writes them."""

    def __init__(self) -> None:
        super().__init__()
        self.setDisplayFormat("yyyy-MM-dd")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCalendarPopup(True)

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()


class TimeField(QTimeEdit):
    """A time field that leaves the wheel to the page."""

    def __init__(self) -> None:
        super().__init__()
        self.setDisplayFormat("HH:mm")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()
