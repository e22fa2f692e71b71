"""Pictures of the window or of one widget, for the guide and for looking at."""

from __future__ import annotations

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QPoint, QSize, Qt
from PySide6.QtGui import QImage, QImageWriter, QPainter
from PySide6.QtWidgets import QApplication, QWidget

from findsdesk.ui.theme import Theme

_LAYOUT_ROUNDS = 4
"""Wrapped texts settle their heights in a few rounds of layout."""

SIZES = {"small": (910, 512), "laptop": (1366, 768), "desk": (1920, 1080)}


def picture(widget: QWidget, size: tuple[int, int], theme: Theme, name: str = "") -> QImage:
    """Return the widget drawn at a size in pixels and, if named, in the palette ``shade`` or ``sun``.

    The widget need not be on a screen; it is laid out as if it were.
    """
    if name:
        theme.use(name)
    widget.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen, not widget.isVisible())
    widget.resize(QSize(*size))
    widget.show()
    for _round in range(_LAYOUT_ROUNDS):
        QApplication.sendPostedEvents()
    image = QImage(widget.size(), QImage.Format.Format_RGB32)
    image.fill(theme.colour("ground"))
    painter = QPainter(image)
    widget.render(painter, QPoint())
    painter.end()
    return image


def render(widget: QWidget, size: tuple[int, int], theme: Theme, name: str = "") -> bytes:
    """Return the picture as the bytes of a PNG file."""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    QImageWriter(buffer, QByteArray(b"PNG")).write(picture(widget, size, theme, name))
    buffer.close()
    return bytes(buffer.data().data())
