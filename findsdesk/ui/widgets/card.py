"""A card: a panel of paper with a small heading, on which a bench lays a part of its own."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QBrush, QPaintEvent
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.painting import painter_of, pen


class Card(QFrame):
    """Put parts into ``body``."""

    def __init__(self, theme: Theme, heading: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.heading = labels.group(heading)
        self.body = QVBoxLayout()
        self._layout = QVBoxLayout(self)
        self._layout.addWidget(self.heading)
        # Only now: shown before it has a parent it would be a window of its own for a moment and take the keyboard.
        self.heading.setVisible(bool(heading))
        self._layout.addLayout(self.body, 1)
        self.setAccessibleName(heading)
        self._space()
        theme.changed.connect(self._space)

    def say_heading(self, text: str) -> None:
        """Write another heading."""
        self.heading.setText(text)
        self.heading.setVisible(bool(text))
        self.setAccessibleName(text)

    def _space(self) -> None:
        px = self.theme.px
        self._layout.setContentsMargins(px(15), px(12), px(15), px(12))
        self._layout.setSpacing(px(8))
        self.body.setSpacing(px(8))
        self.update()

    def minimumSizeHint(self) -> QSize:
        """Ask for no height of its own: wrapped texts would ask for what they need at their narrowest."""
        least = self._layout.minimumSize()
        return QSize(least.width(), 0) if self._layout.hasHeightForWidth() else least

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = painter_of(self)
        width = self.theme.border()
        painter.setBrush(QBrush(self.theme.colour("card")))
        painter.setPen(pen(self.theme.colour("ink" if self.theme.is_sun else "line"), width))
        half = width / 2
        area = QRectF(self.rect()).adjusted(half, half, -half, -half)
        painter.drawRoundedRect(area, self.theme.px(3), self.theme.px(3))
