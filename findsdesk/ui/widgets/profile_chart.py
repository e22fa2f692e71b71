"""The date profile painted live beside the work: bars, what looks late hatched, years marked by lines with words.

The picture for paper is drawn by the desk; this one follows each row as it is left.
"""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFontMetricsF, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from findsdesk.domain.years import named_on_an_axis, year_in_words
from findsdesk.ui.colours import CHART
from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets.painting import Drawn, draw_text, fill, focus_frame, hatch, painter_of, pen, text_width
from findsdesk.words import _

_HEIGHT, _WIDTH = 138, 240
_LINES_SHOWN = 2


@dataclass(frozen=True, slots=True)
class ChartBar:
    """What falls into the years [begin, until), and the part of it that looks late."""

    begin: int
    until: int
    share: float
    late: float = 0.0


@dataclass(frozen=True, slots=True)
class ChartLine:
    """A year marked by a line, and its words; ``dashed`` tells a mean from a boundary."""

    year: float
    words: str
    dashed: bool = False


@dataclass(frozen=True, slots=True)
class Chart:
    """A date profile as it is shown; ``unit`` says what is added up, ``empty`` what stands where nothing is dated."""

    bars: tuple[ChartBar, ...] = ()
    lines: tuple[ChartLine, ...] = ()
    unit: str = ""
    empty: str = ""


def bar_words(bar: ChartBar, unit: str) -> str:
    """Return what one bar says: its years and what falls into them, of which ``unit`` names what is added up."""
    late = _(", {late} of it late").format(late=f"{bar.late:.1f}") if bar.late else ""
    return f"{year_in_words(bar.begin)} – {year_in_words(bar.until)}: {bar.share:.1f} {unit}{late}"


class ProfileChart(Drawn):
    """Arrow keys go along the spans of years, Enter or a click opens one."""

    opened = Signal(int, int)
    """The years [begin, until) of the span that was opened."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.chart = Chart()
        self.at = -1
        """The place of the bar under the cursor; -1 before somebody went to one."""
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.setAccessibleName(_("Date profile"))
        self.show_chart(self.chart)

    def show_chart(self, chart: Chart) -> None:
        """Show another profile."""
        self.chart = chart
        self.at = min(self.at, len(chart.bars) - 1)
        self.setAccessibleDescription(self._said())
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.px(_WIDTH), self.theme.px(_HEIGHT))

    def minimumSizeHint(self) -> QSize:
        # As high as it likes to be: else a column of texts would give it their height.
        return QSize(self.theme.px(120), self.theme.px(_HEIGHT))

    def bar_words(self, place: int) -> str:
        """Return what one bar says: its years and what falls into them."""
        return bar_words(self.chart.bars[place], self.chart.unit)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()))
        if step is not None and self.chart.bars:
            turned = -step if self.layoutDirection() == Qt.LayoutDirection.RightToLeft else step
            self._go(self.at + turned)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.at >= 0:
            self._open()
        else:
            super().keyPressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        x = event.position().x()
        places = [place for place, span in enumerate(self._spans()) if span.left() <= x <= span.right()]
        if places:
            self._go(places[0])
            self._open()

    def _go(self, place: int) -> None:
        self.at = max(0, min(len(self.chart.bars) - 1, place))
        self.setToolTip(self.bar_words(self.at))
        self.setAccessibleDescription(self.bar_words(self.at))
        self.update()

    def _open(self) -> None:
        bar = self.chart.bars[self.at]
        self.opened.emit(bar.begin, bar.until)

    def _said(self) -> str:
        """Return the whole profile in words: the years marked and the tallest span."""
        if not self.chart.bars:
            return self.chart.empty
        tallest = max(range(len(self.chart.bars)), key=lambda place: self.chart.bars[place].share)
        return "; ".join((*(line.words for line in self.chart.lines), self.bar_words(tallest)))

    # Painting

    def _plot(self) -> QRectF:
        """Return where the bars stand: below the words of the lines, above the years."""
        small = QFontMetricsF(self.theme.font(Type.SMALL)).height()
        above = small * min(_LINES_SHOWN, len(self.chart.lines)) + self.theme.px(6)
        return QRectF(self.rect()).adjusted(self.theme.px(2), above, -self.theme.px(2), -small - self.theme.px(4))

    def _x(self, year: float) -> float:
        area, bars = self._plot(), self.chart.bars
        first, last = bars[0].begin, bars[-1].until
        share = (year - first) / (last - first)
        return area.right() - share * area.width() if self._turned() else area.left() + share * area.width()

    def _turned(self) -> bool:
        return self.layoutDirection() == Qt.LayoutDirection.RightToLeft

    def _spans(self) -> list[QRectF]:
        """Return the whole height above the years of each bar."""
        area = self._plot()
        edges = [(self._x(bar.begin), self._x(bar.until)) for bar in self.chart.bars]
        return [QRectF(min(pair), area.top(), abs(pair[1] - pair[0]), area.height()) for pair in edges]

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = painter_of(self)
        if not self.chart.bars:
            where = Qt.AlignmentFlag.AlignCenter
            font, ink = self.theme.font(Type.SMALL), self.theme.colour("muted")
            draw_text(painter, QRectF(self.rect()), self.chart.empty, font, ink, where, wrap=True)
        else:
            self._paint_bars(painter)
            self._paint_years(painter)
            self._paint_lines(painter)
        if self.hasFocus():
            focus_frame(painter, QRectF(self.rect()), self.theme.colour("ink"))

    def _paint_bars(self, painter: QPainter) -> None:
        theme, area = self.theme, self._plot()
        top = max(bar.share for bar in self.chart.bars) or 1.0
        solid = theme.colour("ink") if theme.is_sun else QColor(CHART[0])
        late = theme.colour("ink") if theme.is_sun else QColor(CHART[1])
        for place, (bar, span) in enumerate(zip(self.chart.bars, self._spans(), strict=True)):
            inner = span.adjusted(0.5, 0, -0.5, 0)
            high = area.height() * bar.share / top
            part = area.height() * bar.late / top
            fill(painter, QRectF(inner.left(), area.bottom() - high + part, inner.width(), high - part), solid)
            if bar.late:
                over = QRectF(inner.left(), area.bottom() - high, inner.width(), part)
                hatch(painter, over, late, theme.px(5), theme.border())
                painter.setPen(pen(late, theme.border()))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRect(over)
            if place == self.at and self.hasFocus():
                painter.setPen(pen(theme.colour("clay"), 2))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRect(span)
        painter.setPen(pen(theme.colour("edge"), theme.border()))
        painter.drawLine(area.bottomLeft(), area.bottomRight())

    def _paint_years(self, painter: QPainter) -> None:
        font, ink, area = self.theme.font(Type.SMALL), self.theme.colour("muted"), self._plot()
        bars = self.chart.bars
        first, last = bars[0].begin, bars[-1].until
        named = [named_on_an_axis(year) for year in (first, (first + last) // 2, last)]
        words = [year_in_words(year, with_era=first <= 0) for year in named]
        room = QRectF(self.rect().left(), area.bottom(), self.width(), self.height() - area.bottom())
        for place, text in enumerate(reversed(words) if self._turned() else words):
            if place == 1 and sum(text_width(font, word) for word in words) + self.theme.px(40) > room.width():
                continue
            side = (Qt.AlignmentFlag.AlignLeft, Qt.AlignmentFlag.AlignHCenter, Qt.AlignmentFlag.AlignRight)[place]
            draw_text(painter, room, text, font, ink, side | Qt.AlignmentFlag.AlignBottom)

    def _paint_lines(self, painter: QPainter) -> None:
        theme, area, font = self.theme, self._plot(), self.theme.font(Type.SMALL)
        high = QFontMetricsF(font).height()
        # Words run over the lines beside them only where those are lower.
        for place, line in enumerate(sorted(self.chart.lines, key=lambda line: self._x(line.year))):
            x, y = self._x(line.year), high * (place % _LINES_SHOWN) + theme.px(2)
            style = Qt.PenStyle.DashLine if line.dashed else Qt.PenStyle.SolidLine
            painter.setPen(pen(theme.colour("ink"), theme.border(1.4), style))
            painter.drawLine(QPointF(x, y + theme.px(2)), QPointF(x, area.bottom()))
            width = text_width(font, line.words) + 2
            left = min(x + theme.px(4), self.width() - width)
            left = x - width - theme.px(4) if x + theme.px(4) + width > self.width() else left
            box = QRectF(max(0.0, left), y, width, high)
            draw_text(painter, box, line.words, font, theme.colour("ink"), Qt.AlignmentFlag.AlignLeft)
