"""A page that scrolls only when its parts cannot be made any lower.

A plain page in a scroll area asks for the height its wrapped texts would need at their narrowest, and so scrolls while
there is room.
"""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QScrollArea, QVBoxLayout, QWidget


class ScrollPage(QWidget):
    """The page inside; lay it out as any widget."""

    def heightForWidth(self, width: int) -> int:
        layout = self.layout()
        if layout is None:
            return super().heightForWidth(width)
        return layout.minimumHeightForWidth(width) if layout.hasHeightForWidth() else layout.minimumSize().height()

    def minimumSizeHint(self) -> QSize:
        layout = self.layout()
        if layout is None:
            return super().minimumSizeHint()
        least = layout.minimumSize()
        return QSize(least.width(), 0) if layout.hasHeightForWidth() else least


def scrolled(page: ScrollPage, sideways: bool = True) -> QScrollArea:
    """Return a scroll area around the page that paints no ground of its own."""
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    if not sideways:
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    # A viewport of our own: asking Qt for its own makes the binding load every kind of widget there is, 15 ms at start.
    viewport = QWidget()
    viewport.setAutoFillBackground(False)
    area.setViewport(viewport)
    area.setWidget(page)
    page.setAutoFillBackground(False)
    return area


def in_a_page(widget: QWidget) -> QScrollArea:
    """Return a scroll area in which one widget stands at the top and is scrolled up and down."""
    page = ScrollPage()
    column = QVBoxLayout(page)
    column.setContentsMargins(0, 0, 0, 0)
    column.addWidget(widget)
    column.addStretch(1)
    return scrolled(page, sideways=False)
