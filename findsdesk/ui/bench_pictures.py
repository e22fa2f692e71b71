"""Pictures of every bench as PNG files, for the guide and for looking at: the real window on a real store."""

from __future__ import annotations

import os
import sys
import threading
from collections.abc import Mapping
from pathlib import Path

from PySide6.QtCore import QObject, QSize, QTimer, Signal
from PySide6.QtWidgets import QApplication

from findsdesk.ui.notices import Notices
from findsdesk.ui.program import Program, application
from findsdesk.ui.screens import picture
from findsdesk.ui.store_work import Wish, open_wished

_LOOK_MS = 40
_QUIET_LOOKS = 4
"""How often in a row nothing may be under way before a picture is taken: layouts settle in a few rounds."""
_PATIENCE_LOOKS = 1500


class _KeptNotices(Notices):
    """Nobody is there to close a message: what goes wrong ends the taking of pictures."""

    def __init__(self) -> None:
        super().__init__()
        self.fault: BaseException | None = None

    def failed(self, fault: BaseException) -> None:
        self.fault = self.fault or fault


class _Photographer(QObject):
    """Goes from bench to bench, waits until each stands still, and takes its picture."""

    finished = Signal()

    def __init__(
        self, program: Program, notices: _KeptNotices, into: Path, size: tuple[int, int], hands: Mapping[str, str]
    ) -> None:
        super().__init__()
        self.program, self.notices, self.into, self.size, self.hands = program, notices, into, size, hands
        self.taken: list[Path] = []
        self._left = list(program.window.benches)
        self._bench = ""
        self._looks = self._quiet = 0
        self._clock = QTimer(self)
        self._clock.setInterval(_LOOK_MS)
        self._clock.timeout.connect(self._look)

    def begin(self) -> None:
        """Go to the first bench."""
        self._left = list(self.program.window.benches)
        self._next()
        self._clock.start()

    def _next(self) -> None:
        self._looks = self._quiet = 0
        self._bench = self._left.pop(0) if self._left else ""
        if not self._bench or self.notices.fault is not None:
            self._clock.stop()
            self.finished.emit()
            return
        if self._bench in self.hands:
            self.program.window.on_scan(self.hands[self._bench])
        self.program.window.open_bench(self._bench)

    def _look(self) -> None:
        self._looks += 1
        self._quiet = self._quiet + 1 if self.program.quiet() else 0
        if self._quiet < _QUIET_LOOKS and self._looks < _PATIENCE_LOOKS:
            return
        theme = self.program.theme
        file = self.into / f"{self._bench}-{self.size[0]}x{self.size[1]}-{theme.name}-{theme.zoom}.png"
        picture(self.program.window, self.size, theme).save(str(file))
        self.taken.append(file)
        self._next()


def render_benches(
    where: str | Path,
    into: Path,
    *,
    by: str | None = None,
    size: tuple[int, int] = (1366, 768),
    theme: str = "shade",
    zoom: int = 100,
    in_hand: Mapping[str, str] | None = None,
) -> list[Path]:
    """Write a picture of every bench of a store, opened for reading only, and return the files.

    ``size`` is in pixels, ``zoom`` in per cent; ``in_hand`` names by the key of a bench what is scanned before its
    picture is taken. Works without a screen. Refusals and faults are those of opening a store; whatever goes wrong in
    the window, a bench that cannot be built with it, is raised at the end.
    """
    if sys.platform.startswith("linux") and not (os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY")):
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    app = application()
    app.setQuitOnLastWindowClosed(False)
    notices = _KeptNotices()
    opened = open_wished(Wish(where, by, "pictures", read_only=True))
    into.mkdir(parents=True, exist_ok=True)
    program = Program("pictures", theme, notices)
    program.theme.zoom_to(zoom)
    photographer = _Photographer(program, notices, into, size, in_hand or {})
    program.ready.connect(photographer.begin)
    photographer.finished.connect(program.let_go)
    program.closed.connect(app.quit)
    hooks = sys.excepthook, threading.excepthook
    notices.catch_the_rest()
    try:
        program.show(QSize(*size))
        program.filter.uninstall()
        program.take_store(opened)
        QApplication.exec()
    finally:
        sys.excepthook, threading.excepthook = hooks
    if notices.fault is not None:
        raise notices.fault
    return photographer.taken
