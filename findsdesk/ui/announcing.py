"""Saying a result aloud to a screen reader, for what changes away from the focus."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget


def announce(widget: QWidget, text: str) -> None:
    """Have the screen reader, if one listens, read the text out."""
    if not text:
        return
    # Loaded with the first text: nothing is said before the window stands, and it is waited for.
    from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent

    if QAccessible.isActive():
        QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(widget, text))
