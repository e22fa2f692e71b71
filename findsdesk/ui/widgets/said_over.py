"""A list over whose end stands what is refused or asked: nothing below it moves away from under the mouse."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, Qt
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QScrollArea, QVBoxLayout, QWidget

_LONGEST = "words " * 25
"""As long as a refusal gets: its room is kept where the list is lower."""
_BESIDE_WORDS = 2
"""Heights of a line that the edges of a slip take beside its words, across and down."""


class SaidOver(QWidget):
    """Holds lists, of which one is shown, and gives ``asked`` for a refusal that is laid over their lower edge.

    Where the page is scrolled so that the list is out of sight, the refusal is laid over what is in sight.
    """

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
        self._area: QScrollArea | None = None

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Lay what is said anew when it comes, goes or is longer."""
        if watched is self._said and event.type() == QEvent.Type.LayoutRequest:
            self._place()
        return super().eventFilter(watched, event)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        host = self.parentWidget()
        if host is not None and self._said.parentWidget() is not host:
            # Over all of the part, not over the list alone: it goes where it can be read.
            self._said.setParent(host)
            self._said.show()
            self._area = _area_around(self)
            if self._area is not None:
                for bar in (self._area.verticalScrollBar(), self._area.horizontalScrollBar()):
                    bar.valueChanged.connect(lambda _value: self._place())
        self._place()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._keep_room()
        self._place()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._keep_room()

    def _keep_room(self) -> None:
        """Keep the room of a refusal, so that it pushes nothing down when it comes."""
        line = self.fontMetrics().height()
        width = max(1, self.width() - _BESIDE_WORDS * line)
        words = self.fontMetrics().boundingRect(QRect(0, 0, width, 0), Qt.TextFlag.TextWordWrap.value, _LONGEST)
        high = words.height() + _BESIDE_WORDS * line
        self.setMinimumHeight(high if high > self._lists.minimumSize().height() else 0)

    def _place(self) -> None:
        left, right = 0, self.width()
        over = self._said.parentWidget()
        sight = self._sight() if over is not self else None
        if over is not self:
            left, right = self.x(), self.x() + self.width()
        if sight is not None:
            left, right = max(left, sight.left()), min(right, sight.right() + 1)
        said, width = self.asked, max(1, right - left)
        high = said.heightForWidth(width) if said.hasHeightForWidth() else said.sizeHint().height()
        top = (self.y() if over is not self else 0) + max(0, self.height() - high)
        if sight is not None and high:
            top = max(sight.top(), min(top, sight.top() + sight.height() - high))
        self._said.setGeometry(left, top, width, high)
        self._said.raise_()

    def _sight(self) -> QRect | None:
        """Return what is in sight, as the part in which this stands measures it; None where nothing scrolls."""
        host = self.parentWidget()
        if self._area is None or host is None:
            return None
        view = self._area.viewport()
        return QRect(host.mapFromGlobal(view.mapToGlobal(QPoint(0, 0))), view.size())


def _area_around(widget: QWidget) -> QScrollArea | None:
    """Return the nearest scroll area around a widget, if it stands in one."""
    above = widget.parentWidget()
    while above is not None and not isinstance(above, QScrollArea):
        above = above.parentWidget()
    return above
