"""Saying a result aloud to a screen reader, for what changes away from the focus."""

from __future__ import annotations

from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QWidget


def announce(widget: QWidget, text: str) -> None:
    """Have the screen reader, if one listens, read the text out."""
    if QAccessible.isActive() and text:
        QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(widget, text))
