"""A whole program at work on a real store, for tests of the window: opened, waited for, and let go at the end."""

from collections.abc import Iterator
from contextlib import contextmanager
from itertools import count
from typing import Any

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QSize
from PySide6.QtGui import QShortcut
from PySide6.QtWidgets import QApplication, QWidget

from findsdesk.desk.desk import Desk
from findsdesk.ui import store_work
from findsdesk.ui.program import Program
from findsdesk.ui.store_work import Wish
from tests.ui.conftest import KeptNotices, Keyboard
from tests.ui.looking import cut_words

LAPTOP = QSize(1366, 768)
_STATIONS = count(1)
"""A station remembers zoom and palette: what one test chose must not meet the next."""


class ChoosingNotices(KeptNotices):
    """Notices whose file dialogs give what the test chose beforehand."""

    def __init__(self) -> None:
        super().__init__()
        self.to_open: Any = None
        self.to_write: Any = None

    def file_to_open(self, head: str, kinds: str, folder: Any = None) -> Any:
        return self.to_open

    def files_to_open(self, head: str, kinds: str, folder: Any = None) -> Any:
        return self.to_open or []

    def file_to_write(self, head: str, proposal: Any, kinds: str) -> Any:
        return self.to_write or proposal


def settled(qtbot: Any, program: Program) -> None:
    """Wait until nothing runs, waits or comes back, and no news is on its way."""
    qtbot.waitUntil(program.quiet, timeout=60_000)


@contextmanager
def program_at_work(qtbot: Any, *, station: str = "", build_ahead: bool = True) -> Iterator[Program]:
    """Give a program whose frame is shown and on which no store is open yet; at a new station where none is named."""
    notices = ChoosingNotices()
    program = Program(station or f"test {next(_STATIONS)}", notices=notices, build_ahead=build_ahead)
    program.surroundings.sounds.loud = False
    with qtbot.waitActive(program.window):
        program.show(LAPTOP)
        program.window.activateWindow()
    # The shortcuts come right after the first painting.
    qtbot.waitUntil(lambda: program.window.findChild(QShortcut) is not None)
    try:
        yield program
    finally:
        menu = QApplication.activePopupWidget()
        if menu is not None:
            menu.close()
        program.let_go()
        qtbot.waitUntil(lambda: program.is_closed, timeout=60_000)
        # A window left behind would be styled anew with every later one.
        program.window.deleteLater()
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


@contextmanager
def opened(qtbot: Any, desk: Desk, *, station: str = "", build_ahead: bool = False) -> Iterator[Program]:
    """Give a program on an open desk; a bench is built when the test opens it. The desk is closed with the program.

    Building all ten takes longer than most tests; ``build_ahead`` does, where it matters that all are there.
    """
    with program_at_work(qtbot, station=station, build_ahead=build_ahead) as program:
        with qtbot.waitSignal(program.ready, timeout=60_000):
            program.take_store(store_work.opened(desk))
        settled(qtbot, program)
        yield program


def open_wish(qtbot: Any, program: Program, wish: Wish) -> None:
    """Open a store from its file and wait until the benches stand."""
    with qtbot.waitSignal(program.ready, timeout=60_000):
        program.open(wish)
    settled(qtbot, program)


def listen_to(keyboard: Keyboard, program: Program) -> None:
    """Let the program's scans come from a keyboard whose clock the test moves."""
    program.filter.uninstall()
    keyboard.filter.scanned.connect(program.window.on_scan)
    keyboard.filter.again.connect(program.window.on_scan_again)
    keyboard.filter.blocked.connect(program.window.on_scan_blocked)


def go_to(qtbot: Any, program: Program, bench: str) -> Any:
    """Open a bench and wait until it shows what it reads."""
    program.window.open_bench(bench)
    settled(qtbot, program)
    return program.window.benches[bench]


def scan(qtbot: Any, program: Program, text: str) -> None:
    """Take in hand what a scan of this text finds, and wait for the answer."""
    program.window.on_scan(text)
    settled(qtbot, program)


def fits(qtbot: Any, widget: QWidget) -> None:
    """Wait until the layout has settled; then no word may be cut."""
    try:
        qtbot.waitUntil(lambda: not cut_words(widget), timeout=60_000)
    except qtbot.TimeoutError:
        pytest.fail("\n".join(cut_words(widget)))
