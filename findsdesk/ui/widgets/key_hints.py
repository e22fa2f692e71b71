"""The keys at the foot of a table that is worked by keyboard, drawn as keys."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLayout, QSizePolicy, QWidget

from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets.painting import Drawn, draw_text, painter_of, pen, text_width
from findsdesk.words import _


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
    """The keys of a table in one line: what has no room is left to the page of keys, whose own key stands last."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        # Else the line would hold the window as wide as all its keys.
        self._row.setSizeConstraint(QLayout.SizeConstraint.SetNoConstraint)
        self._row.addStretch(1)
        self._hints: list[_Hint] = []
        theme.changed.connect(self._fit)

    def show_keys(self, keys: Sequence[tuple[str, str]]) -> None:
        """Show these (key, what it does), the most needed first, and the key of all keys last."""
        for hint in self._hints:
            self._row.removeWidget(hint)
            hint.hide()
            hint.deleteLater()
        self._hints = [_Hint(self.theme, key, words) for key, words in (*keys, ("F1", _("all keys")))]
        for place, hint in enumerate(self._hints):
            self._row.insertWidget(place, hint)
        self._fit()

    def _fit(self) -> None:
        gap = self.theme.px(12)
        self._row.setSpacing(gap)
        if not self._hints:
            return
        *others, last = self._hints
        room = self.width() - last.sizeHint().width()
        for hint in others:
            room -= hint.sizeHint().width() + gap
            hint.setVisible(room >= 0)

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.px(120), self.theme.px(22))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()
