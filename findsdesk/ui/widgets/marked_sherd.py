"""A sherd drawn to scale with the mark it bears: how long the mark becomes, and the size under which none is inked."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QFont, QFontMetricsF, QPainter, QPainterPath, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets.painting import Drawn, draw_text, fitted, painter_of, pen, text_width
from findsdesk.words import _

_SHERD_MM = (34.0, 18.0)
"""A sherd of middling size, on which a mark of two lines is at home."""
_GAP_MM = 6.0
_CAPITAL_SHARE = 0.729
"""Height of a capital letter of the bundled fonts, as a share of the letter size."""
_SHADE_CLAY, _SHADE_INK = "#D9A27E", "#1F2A44"


class MarkedSherd(Drawn):
    """Everything is drawn to one scale, so that a long mark is seen to be long."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.lines: tuple[str, ...] = ()
        self.length_mm = 0.0
        self.smallest_mm = 20
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def show_mark(self, lines: tuple[str, ...], length_mm: float, smallest_mm: int) -> None:
        """Show a mark: its lines, the length of the longest, and the smallest sherd that is marked, in millimetres."""
        self.lines, self.length_mm, self.smallest_mm = lines, length_mm, smallest_mm
        said = _("Mark {mark}, {length} mm long on a sherd of {sherd} mm")
        self.setAccessibleName(said.format(mark=" / ".join(lines), length=round(length_mm), sherd=round(_SHERD_MM[0])))
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.px(420), self.theme.px(150))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.px(230), self.theme.px(104))

    def _scale(self) -> float:
        """Return the pixels of one millimetre: the sherd, a gap and the smallest sherd side by side."""
        wide = max(_SHERD_MM[0], self.length_mm + 8) + _GAP_MM + self.smallest_mm
        return min((self.width() - self.theme.px(4)) / wide, (self.height() - self.theme.px(24)) / _SHERD_MM[1])

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, scale = painter_of(self), self._scale()
        long_mm = max(_SHERD_MM[0], self.length_mm + 8)
        top = (self.height() - self.theme.px(22) - _SHERD_MM[1] * scale) / 2
        sherd = QRectF(self.theme.px(2), top, long_mm * scale, _SHERD_MM[1] * scale)
        small = QRectF(0, 0, self.smallest_mm * scale * 0.98, self.smallest_mm * scale * 0.55)
        small.moveBottomLeft(QPointF(sherd.right() + _GAP_MM * scale, sherd.bottom()))
        self._draw_sherd(painter, sherd)
        self._draw_sherd(painter, small)
        self._draw_mark(painter, sherd, scale)
        font, text = self.theme.font(Type.SMALL), _("under {mm} mm: slip bag").format(mm=self.smallest_mm)
        width = min(text_width(font, text) + 2, self.width())
        left = min(small.center().x() - width / 2, self.width() - width)
        below = QRectF(left, small.bottom() + self.theme.px(3), width, self.theme.px(20))
        draw_text(
            painter, below, text, fitted(font, text, width), self.theme.colour("ink"), Qt.AlignmentFlag.AlignCenter
        )

    def _draw_sherd(self, painter: QPainter, area: QRectF) -> None:
        theme = self.theme
        painter.setBrush(QBrush(theme.colour("card")) if theme.is_sun else QBrush(Qt.BrushStyle.NoBrush))
        if not theme.is_sun:
            painter.setBrush(QBrush(_SHADE_CLAY))
        painter.setPen(pen(theme.colour("ink"), theme.border(1.6)))
        painter.drawPath(_outline(area))

    def _draw_mark(self, painter: QPainter, sherd: QRectF, scale: float) -> None:
        if not self.lines:
            return
        theme, ink = self.theme, self.theme.colour("ink")
        font = self._lettering(scale)
        height = QFontMetricsF(font).capHeight() * 1.9
        length = self.length_mm * scale
        words = QRectF(0, 0, sherd.width(), height * len(self.lines))
        words.moveCenter(QPointF(sherd.center().x(), sherd.center().y() - sherd.height() * 0.06))
        # The length stands below the lines, and on the sherd, too, where it is drawn low.
        words.moveTop(min(words.top(), sherd.bottom() - words.height() - theme.px(25)))
        for place, line in enumerate(self.lines):
            row = QRectF(words.left(), words.top() + place * height, words.width(), height)
            draw_text(painter, row, line, font, ink, Qt.AlignmentFlag.AlignCenter)
        y = words.bottom() + theme.px(3)
        begin, end = sherd.center().x() - length / 2, sherd.center().x() + length / 2
        painter.setPen(pen(ink, theme.border()))
        painter.drawLine(QPointF(begin, y), QPointF(end, y))
        for x in (begin, end):
            painter.drawLine(QPointF(x, y - theme.px(3)), QPointF(x, y + theme.px(3)))
        said = QRectF(begin - theme.px(40), y + theme.px(2), length + theme.px(80), theme.px(18))
        text = _("{length} mm").format(length=round(self.length_mm))
        draw_text(painter, said, text, theme.font(Type.SMALL_BOLD), ink, Qt.AlignmentFlag.AlignCenter)

    def _lettering(self, scale: float) -> QFont:
        """Return the font in which the longest line becomes as long as it will be by hand."""
        font = self.theme.font(Type.BASE, mono=True)
        longest = max(self.lines, key=len)
        font.setPixelSize(100)
        font.setPixelSize(max(8, int(100 * self.length_mm * scale / QFontMetricsF(font).horizontalAdvance(longest))))
        return font


def _outline(area: QRectF) -> QPainterPath:
    """Return a broken edge above and at the sides, and the curve of the wall below."""
    left, top, width, height = area.left(), area.top(), area.width(), area.height()
    path = QPainterPath(QPointF(left, top + height * 0.82))
    for across, down in ((0.04, 0.42), (0.13, 0.2), (0.27, 0.06), (0.48, 0.0), (0.66, 0.07), (0.82, 0.02), (0.95, 0.3)):
        path.lineTo(left + width * across, top + height * down)
    path.lineTo(left + width, top + height * 0.74)
    path.lineTo(left + width * 0.97, top + height * 0.92)
    path.quadTo(left + width * 0.5, top + height * 1.08, left, top + height * 0.82)
    path.closeSubpath()
    return path
