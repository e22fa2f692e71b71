"""News: what was changed, by this station or another, told to every bench as one signal."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QElapsedTimer, QObject, QTimer, Signal

Thing = tuple[str, int]
"""The kind and the id of something in the store, e.g. ``("container", 131)``."""

TOGETHER_MS = 100
"""Changes that follow one another within this time are told as one; the first after a quiet while is told at once."""
AROUND_MS = 60
"""How long what stands around the bench (rail, foot, dossier) waits, so that the bench itself stands anew first."""


class Changes(QObject):
    """Gathers what was touched and tells it at most once in 100 ms, in one set."""

    touched = Signal(frozenset)
    told_around = Signal(frozenset)
    """The same once more, a moment later, to what stands around the bench."""

    def __init__(self) -> None:
        super().__init__()
        self._waiting: set[Thing] = set()
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self.tell_now)
        self._since_told = QElapsedTimer()
        self._for_around: set[Thing] = set()
        self._around_timer = QTimer(self)
        self._around_timer.setSingleShot(True)
        self._around_timer.setInterval(AROUND_MS)
        self._around_timer.timeout.connect(self._tell_around)

    def add(self, things: Iterable[Thing]) -> None:
        """Take note of changed things; they are told at once, or a tenth of a second after what was told before."""
        self._waiting.update(things)
        if self._waiting and not self._timer.isActive():
            quiet = self._since_told.elapsed() if self._since_told.isValid() else TOGETHER_MS
            self._timer.start(max(0, TOGETHER_MS - quiet))

    def waiting(self) -> bool:
        """Return whether something was changed that has not been told yet."""
        return bool(self._waiting or self._for_around)

    def tell_now(self) -> None:
        """Tell what waits, at once."""
        self._timer.stop()
        if self._waiting:
            self._since_told.start()
            told = frozenset(self._waiting)
            self._waiting.clear()
            self._for_around |= told
            self.touched.emit(told)
            if not self._around_timer.isActive():
                self._around_timer.start()

    def tell_last(self) -> None:
        """Tell what waits, at once, and nothing more to what stands around the bench: the store is let go."""
        self.tell_now()
        self._around_timer.stop()
        self._for_around.clear()

    def _tell_around(self) -> None:
        told = frozenset(self._for_around)
        self._for_around.clear()
        self.told_around.emit(told)
