"""A figure on a card: its name, its value large, its unit; the formula on hover, the rows behind it on pressing."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets.painting import DrawnButton, draw_text, fitted, focus_frame, painter_of, pen, text_width

_SIZE = (153, 60)


class FigureCard(DrawnButton):
    """Pressing it opens the rows behind the figure; without a value there are none, and it says why."""

    def __init__(self, theme: Theme, key: str, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.key = key
        self.name = self.value = self.unit = ""
        self.marked = False
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def say(self, name: str, value: str, unit: str, told: str, *, marked: bool = False) -> None:
        """Say a figure; ``told`` is its unit, formula and note, ``marked`` puts a madder edge on it beside that."""
        self.name, self.value, self.unit, self.marked = name, value, unit, marked
        self.setAccessibleName(f"{name}: {value} {unit}".strip())
        self.setAccessibleDescription(told)
        self.setToolTip(told)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.px(_SIZE[0]), self.theme.px(_SIZE[1]))

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter = self.theme, painter_of(self)
        width, px = theme.border(), theme.px
        half = width / 2
        area = QRectF(self.rect()).adjusted(half, half, -half, -half)
        painter.setBrush(QBrush(theme.colour("card")))
        painter.setPen(pen(theme.colour("madder" if self.marked else "edge"), width * (2 if self.marked else 1)))
        painter.drawRoundedRect(area, px(3), px(3))
        inner = area.adjusted(px(9), px(6), -px(7), -px(5))
        right = self.layoutDirection() == Qt.LayoutDirection.RightToLeft
        side = Qt.AlignmentFlag.AlignRight if right else Qt.AlignmentFlag.AlignLeft
        small, large = theme.font(Type.SMALL_BOLD), theme.font(Type.TITLE)
        top, low = side | Qt.AlignmentFlag.AlignTop, side | Qt.AlignmentFlag.AlignBottom
        draw_text(painter, inner, self.name, fitted(small, self.name, inner.width()), theme.colour("ink"), top)
        value = fitted(large, self.value, inner.width())
        draw_text(painter, inner, self.value, value, theme.colour("ink"), low)
        taken = text_width(value, self.value) + px(6)
        beside = inner.adjusted(0, 0, -taken, -px(3)) if right else inner.adjusted(taken, 0, 0, -px(3))
        # Smaller it could not be read in the sun: a unit that has no room is said on hover.
        plain = theme.font(Type.SMALL)
        unit = fitted(plain, self.unit, beside.width(), plain.pixelSize() - px(2))
        if text_width(unit, self.unit) <= beside.width():
            draw_text(painter, beside, self.unit, unit, theme.colour("muted"), low)
        if self.hasFocus():
            focus_frame(painter, QRectF(self.rect()), theme.colour("ink"))
