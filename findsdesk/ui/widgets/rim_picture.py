"""A picture of a rim: the whole circle, the part that is there, its chord and height or the points it was drawn by."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from findsdesk.desk.rim_tools import RimReading
from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets.painting import painter_of
from findsdesk.words import _

_SIDE = 200
"""Pixels at 100 per cent."""
_SIXTEENTH = 16
"""The toolkit counts angles in sixteenths of a degree."""


class RimPicture(QWidget):
    """Draws what is measured; the words for it stand in its accessible description."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.reading: RimReading | None = None
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        self.setAccessibleName(_("Picture of the rim"))
        theme.changed.connect(self.updateGeometry)

    def show_reading(self, reading: RimReading | None) -> None:
        """Draw a rim, or an empty circle."""
        self.reading = reading
        said = "" if reading is None else f"{reading.diameter_mm}{_unsure(reading, ' ± ')} mm"
        self.setAccessibleDescription(said)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.px(_SIDE), self.theme.px(_SIDE))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.px(120), self.theme.px(120))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = painter_of(self)
        theme, reading = self.theme, self.reading
        side = min(self.width(), self.height()) - theme.px(16)
        area = QRectF((self.width() - side) / 2, (self.height() - side) / 2, side, side)
        dashed = QPen(theme.colour("edge"), max(1.0, theme.border()), Qt.PenStyle.DashLine)
        painter.setPen(dashed)
        painter.drawEllipse(area)
        if reading is None:
            return
        self._preserved(painter, area, reading)
        painter.setPen(theme.colour("ink"))
        painter.setFont(theme.font(Type.BOLD))
        middle = Qt.AlignmentFlag.AlignCenter
        painter.drawText(area, middle, f"Ø {reading.diameter_mm} mm" + _unsure(reading, "\n± "))

    def _preserved(self, painter: QPainter, area: QRectF, reading: RimReading) -> None:
        """Draw the part that is there at the top, with its chord, or the points where they were marked."""
        theme = self.theme
        thick = QPen(theme.colour("clay"), theme.px(5))
        thick.setCapStyle(Qt.PenCapStyle.FlatCap)
        painter.setPen(thick)
        half = math.degrees(reading.half_angle)
        painter.drawArc(area, round((90 - half) * _SIXTEENTH), round(2 * half * _SIXTEENTH))
        if reading.circle is None:
            self._chord(painter, area, reading)
        else:
            self._points(painter, area, reading)

    def _chord(self, painter: QPainter, area: QRectF, reading: RimReading) -> None:
        radius, angle = area.width() / 2, reading.half_angle
        centre = area.center()
        y = centre.y() - radius * math.cos(angle)
        across = radius * math.sin(angle)
        painter.setPen(QPen(self.theme.colour("teal"), max(1.5, self.theme.border())))
        painter.drawLine(QPointF(centre.x() - across, y), QPointF(centre.x() + across, y))
        painter.drawLine(QPointF(centre.x(), y), QPointF(centre.x(), area.top()))

    def _points(self, painter: QPainter, area: QRectF, reading: RimReading) -> None:
        """Draw the points turned so that the middle of the rim lies at the top."""
        assert reading.circle is not None
        x, y, radius = reading.circle
        scale = area.width() / 2 / radius
        angles = [math.atan2(py - y, px - x) for px, py in reading.points]
        turn = -math.pi / 2 - math.atan2(sum(map(math.sin, angles)), sum(map(math.cos, angles)))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self.theme.colour("ink"))
        for (px, py), angle in zip(reading.points, angles, strict=True):
            away = math.dist((px, py), (x, y)) * scale
            at = area.center() + QPointF(away * math.cos(angle + turn), away * math.sin(angle + turn))
            painter.drawEllipse(at, self.theme.px(3), self.theme.px(3))
        painter.setBrush(Qt.BrushStyle.NoBrush)


def _unsure(reading: RimReading, before: str) -> str:
    """Return what a diameter is unsure by, '' where nothing tells it."""
    return "" if reading.uncertainty_mm is None else f"{before}{reading.uncertainty_mm}"
