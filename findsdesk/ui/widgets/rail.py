"""The bench rail: paper tags on a string, each with a line of what waits there, the open one in clay."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QSizePolicy, QVBoxLayout, QWidget

from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.painting import (
    DrawnButton,
    draw_text,
    fill,
    fitted,
    focus_frame,
    margins,
    painter_of,
    pen,
    tag_outline,
)
from findsdesk.words import _

WIDTH = 190
_TALL, _LOW, _GAP = 50, 34, 7


class RailTag(NamedTuple):
    """One bench on the rail."""

    key: str
    title: str
    waits: str = ""


class BenchTag(DrawnButton):
    """One paper tag. Checked while its bench is open."""

    def __init__(self, theme: Theme, tag: RailTag, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.key = tag.key
        self.low = False
        self.waits = ""
        self.setText(tag.title)
        self.setCheckable(True)
        self.setAutoExclusive(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.show_waits(tag.waits)

    def show_waits(self, waits: str) -> None:
        """Write what waits at the bench on its tag."""
        self.waits = waits
        self.setAccessibleName(f"{self.text()}: {waits}" if waits else self.text())
        self.setToolTip(waits)
        self.update()

    def make_low(self, low: bool) -> None:
        """Leave the line of what waits out where the window is low."""
        if low != self.low:
            self.low = low
            self.updateGeometry()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.px(WIDTH), self.theme.px(_LOW if self.low else _TALL))

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter = self.theme, painter_of(self)
        px, open_now = theme.px, self.isChecked()
        turned = self.layoutDirection() == Qt.LayoutDirection.RightToLeft
        if turned:
            painter.translate(self.width(), 0)
            painter.scale(-1, 1)
        left = px(15 if open_now else 21)
        area = QRectF(left, 1, self.width() - left + px(3), self.height() - 2)
        outline = tag_outline(area, px(11))
        if self.isEnabled():
            painter.setBrush(theme.colour("act_fill" if open_now else "card"))
            edge = "act_fill" if open_now and not theme.is_sun else "edge"
            painter.setPen(pen(theme.colour(edge), theme.border()))
            painter.drawPath(outline)
            self._draw_string(painter, left, open_now)
        if turned:
            painter.resetTransform()
        self._write(painter, left, open_now, turned)
        if self.hasFocus():
            focus_frame(painter, QRectF(self.rect()), theme.colour("ink"))

    def _draw_string(self, painter: QPainter, left: int, open_now: bool) -> None:
        theme, middle = self.theme, self.height() / 2
        hole = QPointF(left + theme.px(12), middle)
        painter.setPen(pen(theme.colour("edge"), theme.border()))
        painter.drawLine(QPointF(theme.px(12), middle), QPointF(left, middle))
        painter.setBrush(theme.colour("card" if open_now else "ground"))
        painter.setPen(pen(theme.colour("ink"), theme.border(1.2)))
        painter.drawEllipse(hole, theme.px(4), theme.px(4))

    def _write(self, painter: QPainter, left: int, open_now: bool, turned: bool) -> None:
        theme, px = self.theme, self.theme.px
        start = left + px(21)
        room = self.width() - start - px(6)
        x = px(6) if turned else start
        ink = theme.colour("act_ink" if open_now else "ink" if self.isEnabled() else "muted")
        lead = (Qt.AlignmentFlag.AlignRight if turned else Qt.AlignmentFlag.AlignLeft) | Qt.AlignmentFlag.AlignVCenter
        name_font = fitted(theme.font(Type.BENCH), self.text(), room)
        if self.low or not self.waits:
            draw_text(painter, QRectF(x, 0, room, self.height()), self.text(), name_font, ink, lead)
            return
        draw_text(painter, QRectF(x, px(5), room, px(22)), self.text(), name_font, ink, lead)
        quiet = theme.colour("act_ink" if open_now else "muted")
        small = fitted(theme.font(Type.SMALL), self.waits, room)
        draw_text(painter, QRectF(x, px(26), room, px(18)), self.waits, small, quiet, lead)


class Rail(QFrame):
    """All tags under the name of the excavation."""

    chosen = Signal(str)

    def __init__(self, theme: Theme, tags: Sequence[RailTag], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self._name = labels.bold()
        self._season = labels.muted(small=True, wrap=False)
        self._tags = {tag.key: BenchTag(theme, tag) for tag in tags}
        self._layout = QVBoxLayout(self)
        self._head = QVBoxLayout()
        self._head.setSpacing(0)
        self._head.setContentsMargins(0, 0, 0, theme.px(6))
        self._head.addWidget(self._name)
        self._head.addWidget(self._season)
        self._layout.addLayout(self._head)
        for key, tag in self._tags.items():
            tag.clicked.connect(lambda _checked=False, key=key: self.chosen.emit(key))
            self._layout.addWidget(tag)
        self._layout.addStretch()
        self.setAccessibleName(_("Benches"))
        self._space()
        theme.changed.connect(self._space)

    def show_excavation(self, name: str, season: str) -> None:
        """Write the excavation and its season at the top."""
        self._name.setText(name)
        self._season.setText(season)

    def show_open(self, key: str) -> None:
        """Colour the tag of the open bench."""
        if key in self._tags:
            self._tags[key].setChecked(True)

    def show_waits(self, waits: Mapping[str, str]) -> None:
        """Write what waits, by the key of the bench; a bench not named keeps its line."""
        for key, text in waits.items():
            if key in self._tags:
                self._tags[key].show_waits(text)

    def _space(self) -> None:
        px = self.theme.px
        self.setFixedWidth(px(WIDTH))
        self._name.setFont(self.theme.font(Type.BENCH))
        self._layout.setContentsMargins(0, px(12), 0, px(8))
        self._layout.setSpacing(px(_GAP))
        for label in (self._name, self._season):
            label.setContentsMargins(margins(self, px(18), 0, px(6), 0))
        self._fold()
        self.update()

    def _fold(self) -> None:
        px = self.theme.px
        head = self._name.sizeHint().height() + self._season.sizeHint().height() + px(40)
        tall = head + len(self._tags) * px(_TALL + _GAP)
        for tag in self._tags.values():
            tag.make_low(tall > self.height())
        # A low window keeps every tag: first what waits gives way, then the season and the gaps.
        crowded = head + len(self._tags) * px(_LOW + _GAP) > self.height()
        self._season.setVisible(not crowded)
        self._layout.setSpacing(px(1 if crowded else _GAP))

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.LayoutDirectionChange:
            self._space()

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._fold()
        super().resizeEvent(event)

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.px(WIDTH), self.theme.px(120))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = painter_of(self)
        fill(painter, self.rect(), self.theme.colour("ground"))
        width = max(1, round(self.theme.border()))
        x = 0 if self.layoutDirection() == Qt.LayoutDirection.RightToLeft else self.width() - width
        fill(painter, QRect(x, 0, width, self.height()), self.theme.colour("line"))
