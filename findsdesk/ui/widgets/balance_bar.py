"""A balance drawn as a bar: what is read, what is left hatched, what is unsigned ruled, what is over in madder."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets.painting import Drawn, draw_text, fitted, hatch, painter_of, pen, rule, text_width
from findsdesk.words import _

_BAR, _AROUND, _GAP = 34, 20, 4
"""Pixels, at 100 per cent: how high the bar is, what words want around them, and between a mark and its words."""
_MARK = (24, 14)
"""Pixels, at 100 per cent: how wide and high the mark of a part is."""


class Fill(Enum):
    """How a part of the bar is filled; every fill differs in more than colour."""

    SOLID = "solid"
    ACCENT = "accent"
    HATCHED = "hatched"
    """What is left."""
    RULED = "ruled"
    """Discards not yet carried away."""
    QUIET = "quiet"
    OPEN = "open"
    OVER = "over"


_INK = {Fill.SOLID: "card", Fill.ACCENT: "act_ink", Fill.OVER: "card", Fill.QUIET: "quiet_ink"}
_GROUND = {
    Fill.SOLID: "ink",
    Fill.ACCENT: "act_fill",
    Fill.OVER: "madder",
    Fill.QUIET: "quiet_fill",
    Fill.HATCHED: "card",
    Fill.RULED: "card",
    Fill.OPEN: "card",
}


_SUN_PATTERNS = {Fill.QUIET: Qt.BrushStyle.Dense6Pattern, Fill.OVER: Qt.BrushStyle.DiagCrossPattern}
"""In black and white alone these two would be one."""


@dataclass(frozen=True, slots=True)
class BarPart:
    """One part: how much, in words ("74 read"), and its fill."""

    amount: int
    words: str
    fill: Fill = Fill.SOLID


class BalanceBar(Drawn):
    """Parts side by side in proportion, each with its words in it.

    What is too narrow for its words has them below the bar, behind a mark filled like the part: no word stands in
    another part.
    """

    def __init__(self, theme: Theme, words_inside: bool = True, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.parts: tuple[BarPart, ...] = ()
        self._words_inside = words_inside
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.show_parts(())

    def show_parts(self, parts: Sequence[BarPart]) -> None:
        """Show these parts; those of nothing are left out of the picture."""
        if tuple(parts) == self.parts and self.accessibleName():
            return
        self.parts = tuple(parts)
        said = ", ".join(part.words for part in parts if part.words)
        self.setAccessibleName(_("Balance: {parts}").format(parts=said) if said else _("Balance"))
        self.setToolTip(said)
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.px(240), self._height())

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.px(120), self._height())

    def _height(self) -> int:
        below = self.below()
        return self.theme.px(_BAR) if not below else math.ceil(max(area.bottom() for _part, area in below))

    def spans(self) -> list[tuple[BarPart, QRectF]]:
        """Return where each part stands, in pixels from the beginning of the line."""
        half = self.theme.border() / 2
        area = self._bar().adjusted(half, half, -half, -half)
        shown = [part for part in self.parts if part.amount > 0]
        total = sum(part.amount for part in shown)
        spans, x = [], area.left()
        for part in shown:
            width = area.width() * part.amount / total
            spans.append((part, QRectF(x, area.top(), width, area.height())))
            x += width
        if self.layoutDirection() == Qt.LayoutDirection.RightToLeft:
            return [(part, self._turned(span)) for part, span in spans]
        return spans

    def texts(self) -> list[str]:
        """Return what is written in each shown part: its own words, or nothing where there is no room for them."""
        font, around = self.theme.font(Type.BOLD), self.theme.px(_AROUND)
        return [
            part.words if text_width(font, part.words) + around <= span.width() else "" for part, span in self.spans()
        ]

    def below(self) -> list[tuple[BarPart, QRectF]]:
        """Return the parts whose words stand below the bar, and where, their mark in front."""
        if not self._words_inside:
            return []
        font, px = self.theme.font(Type.SMALL), self.theme.px
        height = max(px(_MARK[1]), self.theme.line_height(Type.SMALL))
        outside = [part for (part, _span), words in zip(self.spans(), self.texts(), strict=True) if not words]
        x, y, placed = 0.0, px(_BAR) + px(_GAP), []
        for part in outside:
            width = px(_MARK[0]) + px(_GAP) + math.ceil(text_width(font, part.words)) + 2
            if x and x + width > self.width():
                x, y = 0.0, y + height
            placed.append((part, QRectF(x, y, width, height)))
            x += width + px(_AROUND)
        turned = self.layoutDirection() == Qt.LayoutDirection.RightToLeft
        return [(part, self._turned(area)) for part, area in placed] if turned else placed

    def _bar(self) -> QRectF:
        return QRectF(0, 0, self.width(), min(self.height(), self.theme.px(_BAR)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.oldSize().width() != event.size().width():
            self.updateGeometry()

    def _turned(self, span: QRectF) -> QRectF:
        return QRectF(self.width() - span.right(), span.top(), span.width(), span.height())

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter = self.theme, painter_of(self)
        spans = self.spans()
        for (part, span), words in zip(spans, self.texts(), strict=True):
            self._fill(painter, part.fill, span)
            if self._words_inside and words:
                self._write(painter, part.fill, span, words)
        half = theme.border() / 2
        painter.setBrush(QBrush(Qt.BrushStyle.NoBrush))
        painter.setPen(pen(theme.colour("ink"), theme.border()))
        for _part, span in spans:
            painter.drawRect(span)
        if not spans:
            painter.setPen(pen(theme.colour("edge"), theme.border(), Qt.PenStyle.DashLine))
        painter.drawRect(self._bar().adjusted(half, half, -half, -half))
        for part, area in self.below():
            self._write_below(painter, part, area)

    def _fill(self, painter: QPainter, fill: Fill, span: QRectF) -> None:
        theme = self.theme
        if theme.is_sun and fill in _SUN_PATTERNS:
            painter.fillRect(span, theme.colour("card"))
            painter.fillRect(span, QBrush(theme.colour("ink"), _SUN_PATTERNS[fill]))
            return
        painter.fillRect(span, theme.colour(_GROUND[fill]))
        if fill is Fill.HATCHED:
            hatch(painter, span, theme.colour("band" if not theme.is_sun else "ink"), theme.px(17), theme.px(6))
        elif fill is Fill.RULED:
            rule(painter, span, theme.colour("hatch"), theme.px(6), theme.border())

    def _write(self, painter: QPainter, fill: Fill, span: QRectF, words: str) -> None:
        theme = self.theme
        font = fitted(theme.font(Type.BOLD), words, span.width() - theme.px(20))
        width = text_width(font, words)
        begin = span.left() + theme.px(12)
        if self.layoutDirection() == Qt.LayoutDirection.RightToLeft:
            begin = span.right() - theme.px(12) - width
        area = QRectF(begin, span.top(), width + 2, span.height())
        patterned = theme.is_sun and fill in (*_SUN_PATTERNS, Fill.HATCHED)
        if patterned or fill is Fill.RULED:
            plate = area.adjusted(-theme.px(4), theme.px(5), theme.px(4), -theme.px(5))
            painter.fillRect(plate, theme.colour("card"))
        ink = theme.colour("ink" if patterned else _INK.get(fill, "ink"))
        draw_text(painter, area, words, font, ink, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)

    def _write_below(self, painter: QPainter, part: BarPart, area: QRectF) -> None:
        theme = self.theme
        turned = self.layoutDirection() == Qt.LayoutDirection.RightToLeft
        width, height = theme.px(_MARK[0]), theme.px(_MARK[1])
        mark = QRectF(area.right() - width if turned else area.left(), 0, width, height)
        mark.moveTop(area.center().y() - height / 2)
        mark.adjust(0.5, 0.5, -0.5, -0.5)
        self._fill(painter, part.fill, mark)
        painter.setBrush(QBrush(Qt.BrushStyle.NoBrush))
        painter.setPen(pen(theme.colour("ink"), theme.border()))
        painter.drawRect(mark)
        gap = width + theme.px(_GAP)
        words = area.adjusted(0, 0, -gap, 0) if turned else area.adjusted(gap, 0, 0, 0)
        side = Qt.AlignmentFlag.AlignRight if turned else Qt.AlignmentFlag.AlignLeft
        where = side | Qt.AlignmentFlag.AlignVCenter
        draw_text(painter, words, part.words, theme.font(Type.SMALL), theme.colour("ink"), where)
