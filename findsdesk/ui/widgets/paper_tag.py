"""A big paper tag: the frame of whatever is written about the one thing in hand."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets.painting import Drawn, painter_of, pen, tag_outline


def draw_paper_tag(painter: QPainter, theme: Theme, widget: QWidget) -> None:
    """Fill a widget with a paper tag: two corners cut off at the string's end, and the hole."""
    weight = theme.border(1.6)
    area = QRectF(widget.rect()).adjusted(weight, weight, -weight, -weight)
    turned = widget.layoutDirection() == Qt.LayoutDirection.RightToLeft
    outline = tag_outline(area, theme.px(21), turned)
    painter.fillPath(outline, QBrush(theme.colour("card")))
    painter.setPen(pen(theme.colour("ink"), weight))
    painter.drawPath(outline)
    hole_x = area.right() - theme.px(20) if turned else area.left() + theme.px(20)
    painter.setBrush(QBrush(theme.colour("ground")))
    painter.drawEllipse(QPointF(hole_x, area.top() + theme.px(41)), theme.px(6), theme.px(6))


class PaperTag(Drawn):
    """A widget on a paper tag; lay parts out inside as in any widget."""

    def paintEvent(self, event: QPaintEvent) -> None:
        draw_paper_tag(painter_of(self), self.theme, self)
