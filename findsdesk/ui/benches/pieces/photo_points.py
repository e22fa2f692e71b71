"""Points of a rim on a photograph: two ends of a scale first, then points along the rim; by mouse or by keyboard."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QImage, QImageReader, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from findsdesk.domain.rim_points import Point
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets.painting import focus_frame, painter_of
from findsdesk.words import _

_LONGEST = 1600
"""A photograph is shown with at most so many pixels along its longer side: finer than anybody points."""
_STEP, _LEAP = 1, 20
"""Pixels of the picture that an arrow key moves the cross, and with Shift."""
_ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}


class PointedPhoto(QWidget):
    """Points are kept in pixels of the picture, wherever and however large it is shown."""

    moved = Signal()
    """A point was set or taken away."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.image = QImage()
        self.points: list[Point] = []
        self._cross = QPointF()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(_("Photograph to mark the rim on"))
        self.setAccessibleDescription(_("Arrows move the cross, Enter marks, Backspace takes the last mark away."))

    def show_photo(self, path: Path) -> bool:
        """Show a photograph without marks; return whether it could be read."""
        reader = QImageReader(str(path))
        reader.setAutoTransform(True)
        size = reader.size()
        longer = max(size.width(), size.height())
        if longer > _LONGEST:
            reader.setScaledSize(size.scaled(_LONGEST, _LONGEST, Qt.AspectRatioMode.KeepAspectRatio))
        self.image = reader.read()
        self.points = []
        self._cross = QPointF(self.image.width() / 2, self.image.height() / 2)
        self.updateGeometry()
        self.update()
        self.moved.emit()
        return not self.image.isNull()

    @property
    def scale(self) -> tuple[Point, Point] | None:
        """Return the two ends of the scale, once both are marked."""
        return (self.points[0], self.points[1]) if len(self.points) >= 2 else None

    @property
    def rim(self) -> list[Point]:
        """Return the points along the rim."""
        return self.points[2:]

    def mark(self, x: float, y: float) -> None:
        """Set the next point, in pixels of the picture."""
        self.points.append((x, y))
        self.update()
        self.moved.emit()

    def unmark(self) -> None:
        """Take the last point away."""
        if self.points:
            self.points.pop()
            self.update()
            self.moved.emit()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.px(420), self.theme.px(300))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.px(200), self.theme.px(140))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key in _ARROWS and not self.image.isNull():
            far = _LEAP if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else _STEP
            dx, dy = _ARROWS[key]
            self._cross = QPointF(
                min(max(self._cross.x() + far * dx, 0), self.image.width()),
                min(max(self._cross.y() + far * dy, 0), self.image.height()),
            )
            self.update()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space) and not self.image.isNull():
            self.mark(self._cross.x(), self._cross.y())
        elif key == Qt.Key.Key_Backspace:
            self.unmark()
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        area = self._area()
        if event.button() != Qt.MouseButton.LeftButton or not area.contains(event.position()):
            return
        at = (event.position() - area.topLeft()) * (self.image.width() / area.width())
        self._cross = at
        self.mark(at.x(), at.y())

    def _area(self) -> QRectF:
        """Return where the picture stands in the widget."""
        if self.image.isNull():
            return QRectF()
        size = self.image.size().scaled(self.size(), Qt.AspectRatioMode.KeepAspectRatio)
        return QRectF(
            (self.width() - size.width()) / 2, (self.height() - size.height()) / 2, size.width(), size.height()
        )

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = painter_of(self)
        area = self._area()
        if not area.isEmpty():
            painter.drawImage(area, self.image)
            factor = area.width() / self.image.width()

            def place(x: float, y: float) -> QPointF:
                return area.topLeft() + QPointF(x * factor, y * factor)

            self._draw_marks(painter, place)
        if self.hasFocus():
            focus_frame(painter, QRectF(self.rect()), self.theme.colour("ink"))

    def _draw_marks(self, paint: QPainter, at: Callable[[float, float], QPointF]) -> None:
        size = float(self.theme.px(6))
        if self.scale is not None:
            paint.setPen(QPen(self.theme.colour("teal"), self.theme.px(3)))
            paint.drawLine(at(*self.scale[0]), at(*self.scale[1]))
        for number, point in enumerate(self.points):
            paint.setPen(QPen(self.theme.colour("teal" if number < 2 else "clay"), self.theme.px(3)))
            middle = at(*point)
            paint.drawLine(middle - QPointF(size, size), middle + QPointF(size, size))
            paint.drawLine(middle - QPointF(size, -size), middle + QPointF(size, -size))
        if self.hasFocus():
            paint.setPen(QPen(self.theme.colour("madder"), 2))
            middle = at(self._cross.x(), self._cross.y())
            paint.drawLine(middle - QPointF(2 * size, 0), middle + QPointF(2 * size, 0))
            paint.drawLine(middle - QPointF(0, 2 * size), middle + QPointF(0, 2 * size))
