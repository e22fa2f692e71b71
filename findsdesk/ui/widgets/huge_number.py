"""A number to be read at arm's length."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets.painting import Drawn, draw_text, fitted, painter_of


class HugeNumber(Drawn):
    """A number as large as the number being counted; made smaller rather than cut."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._text = ""
        self._low = False
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_text(self, text: str, spoken: str) -> None:
        """Show a number; ``spoken`` is what a screen reader says."""
        self._text = text
        self.setAccessibleName(spoken)
        self.update()

    def text(self) -> str:
        """Return what is shown."""
        return self._text

    def make_low(self, low: bool) -> None:
        """Take less height where the window is low."""
        self._low = low
        self._new_look()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.px(220), self.theme.px(58 if self._low else 84))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.px(120), self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        font = self.theme.font(Type.NUMBER)
        font.setPixelSize(min(font.pixelSize(), round(self.height() * 0.92)))
        font = fitted(font, self._text, self.width(), smallest=self.theme.px(20))
        lead = Qt.AlignmentFlag.AlignLeading | Qt.AlignmentFlag.AlignVCenter
        draw_text(painter_of(self), QRectF(self.rect()), self._text, font, self.theme.colour("ink"), lead)
