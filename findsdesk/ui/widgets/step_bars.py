"""The day's bars: how many containers stand at each step, each bar a way to them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QBrush, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets.painting import Drawn, DrawnButton, draw_text, fitted, focus_frame, painter_of, pen
from findsdesk.words import _, grouped

_HEIGHT, _FOOT, _LEAST = 200, 54, 32
_FILLS = {
    "plain": ("band", "ink"),
    "accent": ("act_fill", "act_ink"),
    "water": ("water", "ink"),
    "done": ("ink", "card"),
}


@dataclass(frozen=True, slots=True)
class StepBar:
    """One step: how many, what it is called, a small note, and the fill (plain, accent, water, done)."""

    key: str
    title: str
    amount: int
    note: str = ""
    late: bool = False
    fill: str = "plain"


class _Bar(DrawnButton):
    def __init__(self, theme: Theme, bar: StepBar, most: int) -> None:
        super().__init__(theme)
        self.bar = bar
        self._most = max(1, most)
        words = f"{bar.title}: {grouped(bar.amount)}"
        self.setAccessibleName(f"{words}, {bar.note}" if bar.note else words)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def sizeHint(self) -> QSize:
        return QSize(self.theme.px(100), self.theme.px(_HEIGHT))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.px(64), self.theme.px(140))

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter, bar = self.theme, painter_of(self), self.bar
        foot = theme.px(_FOOT)
        base = float(self.height() - foot)
        rise = base - theme.px(_LEAST) - theme.px(6)
        height = theme.px(_LEAST) + rise * bar.amount / self._most
        side = max(theme.px(6), (self.width() - theme.px(150)) / 2)
        area = QRectF(side, base - height, self.width() - 2 * side, height)
        fill, ink = _FILLS.get(bar.fill, _FILLS["plain"])
        if bar.amount:
            painter.setBrush(QBrush(theme.colour(fill)))
            painter.setPen(pen(theme.colour("ink"), theme.border(1.3)))
            painter.drawRect(area)
        else:
            ink = "ink"
        number = QRectF(area.left(), area.top(), area.width(), theme.px(_LEAST))
        big = fitted(theme.font(Type.TITLE), grouped(bar.amount), area.width() - 6)
        draw_text(painter, number, grouped(bar.amount), big, theme.colour(ink), Qt.AlignmentFlag.AlignCenter)
        painter.setPen(pen(theme.colour("ink"), theme.border(2)))
        painter.drawLine(QPointF(0, base), QPointF(self.width(), base))
        self._write_foot(painter, base)
        if self.hasFocus():
            focus_frame(painter, QRectF(self.rect()), theme.colour("ink"))

    def _write_foot(self, painter: QPainter, base: float) -> None:
        theme, bar = self.theme, self.bar
        room = self.width() - theme.px(4)
        centre = Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignVCenter
        title = QRectF(theme.px(2), base + theme.px(6), room, theme.px(22))
        title_font = fitted(theme.font(Type.BENCH), bar.title, room)
        draw_text(painter, title, bar.title, title_font, theme.colour("ink"), centre)
        note = QRectF(theme.px(2), base + theme.px(28), room, theme.px(20))
        kind = Type.SMALL_BOLD if bar.late else Type.SMALL
        note_font = fitted(theme.font(kind), bar.note, room)
        draw_text(painter, note, bar.note, note_font, theme.colour("madder" if bar.late else "muted"), centre)


class StepBars(Drawn):
    """All bars on one base line."""

    chosen = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._layout = QHBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(0)
        self._bars: list[_Bar] = []
        self.setAccessibleName(_("Where everything stands"))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_bars(self, bars: Sequence[StepBar]) -> None:
        """Show these bars instead of those before."""
        for old in self._bars:
            self._layout.removeWidget(old)
            old.hide()
            old.deleteLater()
        most = max((bar.amount for bar in bars), default=0)
        self._bars = [_Bar(self.theme, bar, most) for bar in bars]
        for drawn in self._bars:
            drawn.clicked.connect(self._told(drawn.bar.key))
            self._layout.addWidget(drawn, 1)

    def _told(self, key: str) -> Callable[[], None]:
        return lambda: self.chosen.emit(key)
