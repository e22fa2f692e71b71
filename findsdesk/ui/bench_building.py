"""Building the benches once a store is open: the one asked for first, the others one by one when nobody waits."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QObject, QTimer, Signal

from findsdesk.ui.all_benches import build_bench
from findsdesk.ui.window import Window

_LOOK_AGAIN_MS = 5


class BenchBuilding(QObject):
    """Builds into one window. A bench that somebody opens before it is there is the next to be built."""

    done = Signal()
    """All benches stand that are built without being asked for; said once."""

    def __init__(self, window: Window, *, ahead: bool = True) -> None:
        """``ahead``: also what nobody has opened yet is built; else a bench is built when it is opened."""
        super().__init__(window)
        self._window = window
        self._ahead = ahead
        self._left: list[str] = []
        self._told = False
        window.bench_needed.connect(self._build_wished)
        if not ahead:
            window.bench_wished.connect(self._next)

    def begin(self, keys: Sequence[str]) -> None:
        """Build the benches of these keys and open the first of them, unless another is asked for."""
        self._left = list(keys)
        if self._left and not self._window.benches:
            self._window.open_bench(self._left[0])
        self._next()

    def under_way(self) -> bool:
        """Return whether a bench is about to be built."""
        return bool(self._left) and (self._ahead or self._window.wished in self._left)

    def stop(self) -> None:
        """Build no more."""
        self._left.clear()

    def _next(self) -> None:
        if not self.under_way():
            self._tell()
            return
        lanes, wished = self._window.surroundings.lanes, self._window.wished
        asked = wished in self._left
        # A scan made while the store was opening is answered first, and the open bench shows what it has read.
        if lanes.deeds_wait() or not (asked or lanes.idle()):
            QTimer.singleShot(_LOOK_AGAIN_MS, self, self._next)
            return
        key = wished if asked else self._left[0]
        # Asked for first: a bench that cannot be built is reported and does not keep the others from being there.
        QTimer.singleShot(0, self, self._next)
        self._build(key)

    def _build_wished(self) -> None:
        """Build at once what was asked for: somebody types already."""
        if self._window.wished in self._left:
            self._build(self._window.wished)

    def _build(self, key: str) -> None:
        self._left.remove(key)
        self._window.add_bench(build_bench(key, self._window.surroundings))

    def _tell(self) -> None:
        if not self._told:
            self._told = True
            self.done.emit()
