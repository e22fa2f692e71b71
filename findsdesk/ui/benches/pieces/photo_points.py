"""Points of a rim on a photograph: two ends of a scale first, then points along the rim; by mouse or by keyboard."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QImage, QImageReader, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QWheelEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from findsdesk.domain.rim_points import Point
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets.painting import focus_frame, painter_of
from findsdesk.words import _

_LONGEST = 3200
"""A photograph is shown with at most so many pixels along its longer side: finer than anybody points."""
_NEARER, _NEAREST = 1.25, 16.0
"""How much nearer one step of the wheel or a key goes, and the nearest, as times the whole picture."""
_PLUS = (Qt.Key.Key_Plus, Qt.Key.Key_Equal)
_STEP, _LEAP = 1, 20
"""Pixels of the picture that an arrow key moves the cross, and with Shift."""
_ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}


_NOTCH = 120
"""The toolkit's units of one notch of a wheel."""


def _begin(room: float, size: float, middle: float) -> float:
    """Return where a picture begins in its room: in the middle where it is smaller, else with no gap at its edges."""
    return (room - size) / 2 if size <= room else min(0.0, max(room - size, room / 2 - middle))


class PointedPhoto(QWidget):
    """Points are kept in pixels of the picture, wherever and however large it is shown."""

    moved = Signal()
    """A point was set or taken away."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.image = QImage()
        self.points: list[Point] = []
        self.zoom = 1.0
        """1 shows the whole picture; it is never less."""
        self._cross = QPointF()
        self._middle = QPointF()
        """The point of the picture that is to stand in the middle, as far as its edges allow."""
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(_("Photograph to mark the rim on"))
        self.setAccessibleDescription(
            _(
                "Arrows move the cross, Enter marks, Backspace takes the last mark away, "
                "+ goes nearer, − farther, 0 shows all of it."
            )
        )

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
        self.zoom, self._middle = 1.0, self._cross
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

    def go_nearer(self, times: float, at: QPointF | None = None) -> None:
        """Show the picture so many times larger; what lies under ``at`` (of the widget, else the cross) stays there."""
        area = self._area()
        if area.isEmpty():
            return
        at = at or self._place(self._cross)
        under = self._picture_point(at)
        self.zoom = min(max(self.zoom * times, 1.0), _NEAREST)
        size = self._area().width() / self.image.width()
        self._middle = under - (at - QPointF(self.width() / 2, self.height() / 2)) / size
        self.update()

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
            if not QRectF(self.rect()).contains(self._place(self._cross)):
                self._middle = self._cross
            self.update()
        elif key in _PLUS:
            self.go_nearer(_NEARER)
        elif key == Qt.Key.Key_Minus:
            self.go_nearer(1 / _NEARER)
        elif key == Qt.Key.Key_0:
            self.go_nearer(1 / _NEAREST)
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
        at = self._picture_point(event.position())
        self._cross = at
        self.mark(at.x(), at.y())

    def wheelEvent(self, event: QWheelEvent) -> None:
        turned = event.angleDelta().y() / _NOTCH
        if turned and not self.image.isNull():
            self.go_nearer(_NEARER**turned, event.position())
            event.accept()
        else:
            event.ignore()

    def _picture_point(self, at: QPointF) -> QPointF:
        """Return the point of the picture that stands at a place of the widget."""
        area = self._area()
        return (at - area.topLeft()) * (self.image.width() / area.width())

    def _place(self, point: QPointF) -> QPointF:
        """Return where a point of the picture stands in the widget."""
        area = self._area()
        return area.topLeft() + point * (area.width() / self.image.width())

    def _area(self) -> QRectF:
        """Return where the picture stands in the widget."""
        if self.image.isNull():
            return QRectF()
        size = self.image.size().scaled(self.size(), Qt.AspectRatioMode.KeepAspectRatio).toSizeF() * self.zoom
        scale = size.width() / self.image.width()
        left = _begin(self.width(), size.width(), self._middle.x() * scale)
        return QRectF(left, _begin(self.height(), size.height(), self._middle.y() * scale), size.width(), size.height())

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
