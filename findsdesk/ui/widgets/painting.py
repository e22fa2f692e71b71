"""What every widget that paints itself shares: the theme at hand, focus frames, hatching, the cut corner of a tag."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QMargins, QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QKeyEvent, QPainter, QPainterPath, QPen
from PySide6.QtWidgets import QAbstractButton, QWidget

from findsdesk.ui.theme import Theme

FOCUS_WIDTH = 3
"""Pixels of the focus frame, in all themes."""


def painter_of(widget: QWidget) -> QPainter:
    """Return a painter with smooth edges for a ``paintEvent``."""
    painter = QPainter(widget)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    # A text runs in its own direction, whatever the direction of the window: "1 of 2" stays "1 of 2".
    painter.setLayoutDirection(Qt.LayoutDirection.LayoutDirectionAuto)
    return painter


def runs_from_right(widget: QWidget) -> bool:
    """Return whether the widget is laid out from right to left."""
    return widget.layoutDirection() == Qt.LayoutDirection.RightToLeft


def margins(widget: QWidget, begin: int, top: int, end: int, bottom: int) -> QMargins:
    """Return margins with the beginning of the line at the side where it is for this widget."""
    return QMargins(end, top, begin, bottom) if runs_from_right(widget) else QMargins(begin, top, end, bottom)


def pen(colour: QColor, width: float, style: Qt.PenStyle = Qt.PenStyle.SolidLine) -> QPen:
    """Return a pen with square corners."""
    made = QPen(colour, width, style)
    made.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    made.setCapStyle(Qt.PenCapStyle.FlatCap)
    return made


def fill(painter: QPainter, area: QRectF | QRect, colour: QColor) -> None:
    """Fill an area with one colour.

    Not by ``fillRect``: it could fill with a gradient too, and the binding would load all there is about those.
    """
    painter.save()
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour)
    painter.drawRect(area)
    painter.restore()


def hatch(painter: QPainter, area: QRectF, ink: QColor, step: float, width: float) -> None:
    """Rule the area with slanting strokes, ``step`` apart."""
    painter.save()
    painter.setClipRect(area)
    painter.setPen(QPen(ink, width))
    x = area.left() - area.height()
    while x < area.right():
        painter.drawLine(QPointF(x, area.bottom()), QPointF(x + area.height(), area.top()))
        x += step
    painter.restore()


def rule(painter: QPainter, area: QRectF, ink: QColor, step: float, width: float) -> None:
    """Rule the area with level lines, ``step`` apart."""
    painter.save()
    painter.setClipRect(area)
    painter.setPen(QPen(ink, width))
    y = area.top() + step
    while y < area.bottom():
        painter.drawLine(QPointF(area.left(), y), QPointF(area.right(), y))
        y += step
    painter.restore()


def tag_outline(area: QRectF, cut: float, right_to_left: bool = False) -> QPainterPath:
    """Return the outline of a paper tag: a rectangle with the two corners at the string cut off."""
    path = QPainterPath()
    path.moveTo(area.left() + cut, area.top())
    path.lineTo(area.right(), area.top())
    path.lineTo(area.right(), area.bottom())
    path.lineTo(area.left() + cut, area.bottom())
    path.lineTo(area.left(), area.bottom() - cut)
    path.lineTo(area.left(), area.top() + cut)
    path.closeSubpath()
    return _mirrored(path, area) if right_to_left else path


def _mirrored(path: QPainterPath, area: QRectF) -> QPainterPath:
    turned = QPainterPath()
    for index in range(path.elementCount()):
        element = path.elementAt(index)
        point = QPointF(area.left() + area.right() - float(element.x), float(element.y))
        turned.moveTo(point) if index == 0 else turned.lineTo(point)
    return turned


def focus_frame(painter: QPainter, area: QRectF, colour: QColor) -> None:
    """Draw the focus frame inside the area."""
    half = FOCUS_WIDTH / 2
    painter.setPen(pen(colour, FOCUS_WIDTH))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(area.adjusted(half, half, -half, -half))


def text_width(font: QFont, text: str) -> float:
    """Return the width of a text in pixels."""
    return QFontMetricsF(font).horizontalAdvance(text)


def fitted(font: QFont, text: str, room: float, smallest: int = 9) -> QFont:
    """Return the font, made smaller until the text stands in ``room`` pixels, but never below ``smallest``."""
    made = QFont(font)
    while made.pixelSize() > smallest and text_width(made, text) > room:
        made.setPixelSize(made.pixelSize() - 1)
    return made


def draw_text(
    painter: QPainter, area: QRectF, text: str, font: QFont, colour: QColor, where: Qt.AlignmentFlag, wrap: bool = False
) -> None:
    """Write a text into an area; left and right are meant as they are said."""
    painter.setFont(font)
    painter.setPen(colour)
    flags = where.value | Qt.AlignmentFlag.AlignAbsolute.value | (Qt.TextFlag.TextWordWrap.value if wrap else 0)
    painter.drawText(area, flags, text)


class Drawn(QWidget):
    """A widget that paints itself from the theme, and again when the theme changes."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        theme.changed.connect(self._new_look)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.LayoutDirectionChange:
            self._new_look()

    def _new_look(self) -> None:
        self.updateGeometry()
        self.update()


class DrawnButton(QAbstractButton):
    """Something drawn that can be pressed, by mouse on release and by Space or Enter."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        theme.changed.connect(self._new_look)

    def _new_look(self) -> None:
        self.updateGeometry()
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if not event.isAutoRepeat():
                self.click()
            return
        super().keyPressEvent(event)
