"""Enter on a button that has the keyboard presses it, everywhere in a window, as Space does; a text does not."""

from __future__ import annotations

from time import monotonic

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QGuiApplication, QKeyEvent
from PySide6.QtWidgets import QPushButton, QWidget
from shiboken6 import isValid

_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_TYPING_S = 1.5
"""A blank so soon after a letter or a sign belongs to a text that was meant for a field."""


class EnterPresses(QObject):
    """Watches the button that has the keyboard; a key held down presses it once.

    The button itself is watched, not what comes up to the window: there an Enter closes a field, and that may give the
    keyboard to a button. The scan filter stands before it, so that the Enter of a scan does not come here. Dialogs are
    windows of their own and say for themselves what Enter does.
    """

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._window = window
        self._button: QPushButton | None = None
        self._typed_at = -_TYPING_S
        """When a letter or a sign last came to this button, which has no use for it."""
        application = QGuiApplication.instance()
        if isinstance(application, QGuiApplication):
            application.focusObjectChanged.connect(self._follow)
            self._follow(QGuiApplication.focusObject())

    def _follow(self, has_keyboard: QObject | None) -> None:
        before, self._button, self._typed_at = self._button, None, -_TYPING_S
        if before is not None and isValid(before):
            before.removeEventFilter(self)
        if isinstance(has_keyboard, QPushButton) and has_keyboard.window() is self._window:
            self._button = has_keyboard
            has_keyboard.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() != QEvent.Type.KeyPress or not isinstance(event, QKeyEvent):
            return False
        if not _is_enter(event):
            return self._is_in_a_text(event)
        if isinstance(watched, QPushButton) and not event.isAutoRepeat():
            watched.click()
        return True

    def _is_in_a_text(self, event: QKeyEvent) -> bool:
        """Return whether a key is the blank of a text that somebody types at a button by mistake."""
        now, typed = monotonic(), event.text()
        is_blank = event.key() == Qt.Key.Key_Space
        if is_blank and now - self._typed_at >= _TYPING_S:
            return False
        if typed.isprintable() and typed:
            self._typed_at = now
        return is_blank


def _is_enter(event: QKeyEvent) -> bool:
    held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
    return event.key() in _ENTER and held == Qt.KeyboardModifier.NoModifier
