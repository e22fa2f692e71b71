"""News: what was changed, by this station or another, told to every bench as one signal."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QObject, QTimer, Signal

Thing = tuple[str, int]
"""The kind and the id of something in the store, e.g. ``("container", 131)``."""

TOGETHER_MS = 100
"""Changes within this time are told as one."""


class Changes(QObject):
    """Gathers what was touched and tells it at most once in 100 ms, in one set."""

    touched = Signal(frozenset)

    def __init__(self) -> None:
        super().__init__()
        self._waiting: set[Thing] = set()
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(TOGETHER_MS)
        self._timer.timeout.connect(self.tell_now)

    def add(self, things: Iterable[Thing]) -> None:
        """Take note of changed things; they are told with whatever else changes in the next tenth of a second."""
        self._waiting.update(things)
        if self._waiting and not self._timer.isActive():
            self._timer.start()

    def waiting(self) -> bool:
        """Return whether something was changed that has not been told yet."""
        return bool(self._waiting)

    def tell_now(self) -> None:
        """Tell what waits, at once."""
        self._timer.stop()
        if self._waiting:
            told = frozenset(self._waiting)
            self._waiting.clear()
            self.touched.emit(told)
