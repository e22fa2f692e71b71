"""The drawn date profile with bars that open: by a click, or by the arrow keys and Enter."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QHelpEvent, QKeyEvent, QMouseEvent, QPaintEvent
from PySide6.QtWidgets import QToolTip, QWidget

from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets.painting import focus_frame, painter_of, pen
from findsdesk.ui.widgets.profile_chart import ChartBar, bar_words
from findsdesk.ui.widgets.sharp_picture import SharpPicture

Box = tuple[float, float, float, float]
"""Left, top, right and bottom of the plot as shares of the picture's width and height."""


class ProfilePicture(SharpPicture):
    """Shows the picture that goes on paper too; what it says under the pointer and the keys are the screen's."""

    opened = Signal(int, int)
    """The years [begin, until) of the bar that was opened."""

    def __init__(self, theme: Theme, name: str, height: int, parent: QWidget | None = None) -> None:
        super().__init__(theme, name, height, parent)
        self.bars: tuple[ChartBar, ...] = ()
        self.at = -1
        """The place of the bar the arrow keys went to; -1 before they went to one."""
        self._unit, self._said = "", ""
        self._box: Box = (0, 0, 1, 1)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def show_profile(self, png: bytes, said: str, box: Box, bars: tuple[ChartBar, ...], unit: str) -> None:
        """Show a picture, what it says in words, and the bars that stand in its plot from edge to edge."""
        self.bars, self._box, self._unit, self._said = bars, box, unit, said
        self.at = min(self.at, len(bars) - 1)
        self.show_picture(png, said)

    def span(self, place: int) -> QRectF:
        """Return where the whole height of a bar's years lies in the widget."""
        bar, area = self.bars[place], self._plot()
        first, last = self.bars[0].begin, self.bars[-1].until
        left, right = (area.left() + area.width() * (year - first) / (last - first) for year in (bar.begin, bar.until))
        return QRectF(left, area.top(), right - left, area.height())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        # Years run from left to right in every language: the picture is the one on paper.
        step = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()))
        if step is not None and self.bars:
            self._go(max(0, min(len(self.bars) - 1, self.at + step)))
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.at >= 0:
            self._open()
        else:
            super().keyPressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        place = self._under(event.position())
        if place is not None:
            self._go(place)
            self._open()

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            place = self._under(QPointF(event.pos()))
            if place is not None:
                QToolTip.showText(event.globalPos(), bar_words(self.bars[place], self._unit), self)
                return True
        return super().event(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not self.hasFocus():
            return
        painter = painter_of(self)
        if 0 <= self.at < len(self.bars):
            painter.setPen(pen(self.theme.colour("clay"), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(self.span(self.at))
        focus_frame(painter, QRectF(self.rect()), self.theme.colour("ink"))

    def _plot(self) -> QRectF:
        where, (left, top, right, bottom) = self.where(), self._box
        return QRectF(
            where.left() + left * where.width(),
            where.top() + top * where.height(),
            (right - left) * where.width(),
            (bottom - top) * where.height(),
        )

    def _under(self, point: QPointF) -> int | None:
        return next((place for place in range(len(self.bars)) if self.span(place).contains(point)), None)

    def _go(self, place: int) -> None:
        self.at = place
        self.setAccessibleDescription(f"{bar_words(self.bars[place], self._unit)}; {self._said}")
        self.update()

    def _open(self) -> None:
        bar = self.bars[self.at]
        self.opened.emit(bar.begin, bar.until)
