"""A picture made elsewhere for just this size: it asks for a new one when its room or the look changes."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QImage, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets.painting import Drawn, painter_of

_QUIET_MS = 120
"""A new picture is asked for once the size has stood still for so long."""


class SharpPicture(Drawn):
    """Shows the last picture, drawn to its size, until the next one is there."""

    wanted = Signal()
    """A picture of the present size is wanted."""

    def __init__(self, theme: Theme, name: str, height: int, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._image = QImage()
        self._high = theme.px(height)
        self._quiet = QTimer(self)
        self._quiet.setSingleShot(True)
        self._quiet.setInterval(_QUIET_MS)
        self._quiet.timeout.connect(self.wanted)
        self.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_picture(self, png: bytes, said: str) -> None:
        """Show a picture and what it says in words."""
        self._image = QImage.fromData(png)
        self.setAccessibleDescription(said)
        self.update()

    def has_picture(self) -> bool:
        """Return whether there is a picture to show."""
        return not self._image.isNull()

    def be_high(self, height: int) -> None:
        """Stand so many pixels high."""
        if height != self._high:
            self._high = height
            self.updateGeometry()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.px(320), self._high)

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.px(160), self._high)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._quiet.start()

    def _new_look(self) -> None:
        super()._new_look()
        self._quiet.start()

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._image.isNull():
            return
        painter = painter_of(self)
        painter.setRenderHint(painter.RenderHint.SmoothPixmapTransform)
        painter.drawImage(self.where(), self._image)

    def where(self) -> QRectF:
        """Return where in the widget the picture lies."""
        size = QSize(self._image.size())
        size.scale(self.size(), Qt.AspectRatioMode.KeepAspectRatio)
        left, top = (self.width() - size.width()) / 2, (self.height() - size.height()) / 2
        return QRectF(left, top, size.width(), size.height())
