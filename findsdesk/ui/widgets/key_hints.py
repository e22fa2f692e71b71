"""The keys at the foot of a table that is worked by keyboard, drawn as keys."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.painting import Drawn, draw_text, painter_of, pen, text_width


class _Hint(Drawn):
    def __init__(self, theme: Theme, key: str, words: str) -> None:
        super().__init__(theme)
        self._key, self._words = key, words
        self.setAccessibleName(f"{key}: {words}")
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def _key_width(self) -> float:
        return max(text_width(self.theme.font(Type.SMALL_BOLD), self._key) + self.theme.px(12), self.theme.px(22))

    def sizeHint(self) -> QSize:
        words = text_width(self.theme.font(Type.SMALL), self._words)
        return QSize(round(self._key_width() + words) + self.theme.px(7), self.theme.px(22))

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter = self.theme, painter_of(self)
        width, height = self._key_width(), float(self.height())
        turned = self.layoutDirection() == Qt.LayoutDirection.RightToLeft
        key = QRectF(self.width() - width if turned else 0, 0, width, height).adjusted(0.5, 1, -0.5, -1)
        painter.setBrush(QBrush(theme.colour("card")))
        painter.setPen(pen(theme.colour("edge"), theme.border()))
        painter.drawRoundedRect(key, theme.px(3), theme.px(3))
        centre = Qt.AlignmentFlag.AlignCenter
        draw_text(painter, key, self._key, theme.font(Type.SMALL_BOLD), theme.colour("ink"), centre)
        gap = theme.px(4)
        words = QRectF(0 if turned else width + gap, 0, self.width() - width - gap, height)
        begin = Qt.AlignmentFlag.AlignRight if turned else Qt.AlignmentFlag.AlignLeft
        where = begin | Qt.AlignmentFlag.AlignVCenter
        draw_text(painter, words, self._words, theme.font(Type.SMALL), theme.colour("muted"), where)


class KeyHints(QWidget):
    """All keys of a table; a new line begins where there is no more room."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self._holder = QWidget()
        self._flow = FlowLayout(theme.px(12), theme.px(5))
        self._holder.setLayout(self._flow)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self._holder)
        self._hints: list[_Hint] = []
        theme.changed.connect(lambda: self._flow.set_gaps(theme.px(12), theme.px(5)))

    def show_keys(self, keys: Sequence[tuple[str, str]]) -> None:
        """Show these (key, what it does)."""
        for hint in self._hints:
            self._flow.removeWidget(hint)
            hint.hide()
            hint.deleteLater()
        self._hints = [_Hint(self.theme, key, words) for key, words in keys]
        for hint in self._hints:
            self._flow.addWidget(hint)
