"""What tests of the window stand on: the look, a keyboard whose clock the test moves, and notices that are kept."""

from collections.abc import Iterator, Sequence
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from findsdesk.ui.background import Lanes
from findsdesk.ui.changes import Changes
from findsdesk.ui.keys_page import KeysOf
from findsdesk.ui.notices import Notices
from findsdesk.ui.scan_filter import ScanFilter
from findsdesk.ui.scan_timing import ScannerProfile
from findsdesk.ui.sounds import Sounds
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.theme import Theme
from findsdesk.words import Terms


@pytest.fixture
def theme(qapp: QApplication) -> Iterator[Theme]:
    """Return the look, put on the application, and put back to shade afterwards."""
    made = Theme()
    made.apply()
    yield made
    made.zoom_to(100)
    made.use("shade")


class KeptNotices(Notices):
    """Notices that nobody has to close: kept for the test to read; questions get the answer the test set."""

    def __init__(self, terms: Terms | None = None) -> None:
        super().__init__(terms)
        self.told: list[tuple[str, str, str]] = []
        self.answer = False

    def tell(self, head: str, text: str = "", report: str = "") -> None:
        self.told.append((head, text, report))

    def show_keys(self, groups: Sequence[KeysOf]) -> None:
        self.told += [(heading, "", "\n".join(f"{key}: {words}" for key, words in keys)) for heading, keys in groups]

    def ask(self, head: str, text: str, yes: str, no: str = "") -> bool:
        self.told.append((head, text, yes))
        return self.answer


@pytest.fixture
def around(theme: Theme, qtbot: Any) -> Iterator[Surroundings]:
    """Return surroundings with real lanes; the desk is put in by the test."""
    terms = Terms(deposit="context", container="bucket", containers="buckets")
    notices, changes = KeptNotices(terms), Changes()
    lanes = Lanes(notices, changes)
    yield Surroundings(None, lanes, changes, terms, theme, notices, Sounds(loud=False))
    changes.tell_last()
    qtbot.waitUntil(lanes.idle)
    lanes.shutdown()


class Keyboard:
    """Real key events through the window that has the focus, at times the test decides: no sleeping."""

    def __init__(self) -> None:
        self.now = 1000.0
        self.scanned: list[str] = []
        self.again: list[str] = []
        self.blocked: list[str] = []
        self.filter = ScanFilter(clock=lambda: self.now)
        self.filter.scanned.connect(self.scanned.append)
        self.filter.again.connect(self.again.append)
        self.filter.blocked.connect(self.blocked.append)
        self.filter.install()

    def expect(self, profile: ScannerProfile) -> None:
        """Use another kind of scanner."""
        self.filter.use(profile)

    def press(self, key: Qt.Key | str, gap: float) -> None:
        """Press and release one key, ``gap`` ms after the one before."""
        self.wait(gap)
        window = QGuiApplication.focusWindow()
        assert window is not None, "no window has the focus"
        if isinstance(key, Qt.Key):
            QTest.keyClick(window, key)
            return
        shift = Qt.KeyboardModifier.ShiftModifier if key.isupper() else Qt.KeyboardModifier.NoModifier
        QTest.sendKeyEvent(QTest.KeyAction.Click, window, Qt.Key(ord(key.upper())), key, shift)

    def repeat(self, key: Qt.Key, text: str, times: int) -> None:
        """Let a key repeat itself, as when its release was lost on the way."""
        window = QGuiApplication.focusWindow()
        assert window is not None, "no window has the focus"
        for _time in range(times):
            self.wait(33)
            QTest.simulateEvent(window, True, key.value, Qt.KeyboardModifier.NoModifier, text, True)

    def press_again(self, key: Qt.Key, text: str, gap: float) -> None:
        """Press a key a second time in the millisecond of its release: the window system marks that as a repetition."""
        self.wait(gap)
        window = QGuiApplication.focusWindow()
        assert window is not None, "no window has the focus"
        QTest.simulateEvent(window, False, key.value, Qt.KeyboardModifier.NoModifier, text, True)
        QTest.simulateEvent(window, True, key.value, Qt.KeyboardModifier.NoModifier, text, True)
        QTest.simulateEvent(window, False, key.value, Qt.KeyboardModifier.NoModifier, text, False)

    def wait(self, ms: float) -> None:
        """Let so much time go by; what is held longer than it may be is decided."""
        until = self.now + ms
        while self.now < until:
            self.now = min(until, self.now + 1)
            self.filter.look_at_clock()

    def scan(self, code: str, gap: float = 8.0, end: Qt.Key | None = Qt.Key.Key_Return, released: bool = True) -> None:
        """Send a code as a scanner does, 8 ms a key; ``released`` False loses the release of the end key."""
        self.wait(400)
        for character in code:
            self.press(character, gap)
        window = QGuiApplication.focusWindow()
        if end is not None and not released and window is not None:
            self.wait(gap)
            QTest.sendKeyEvent(QTest.KeyAction.Press, window, end, "", Qt.KeyboardModifier.NoModifier)
        elif end is not None:
            self.press(end, gap)
        self.wait(400)

    def type(self, text: str, gap: float = 90.0, end: Qt.Key | None = None) -> None:
        """Type as a quick person does."""
        for character in text:
            self.press(character, gap)
        if end is not None:
            self.press(end, gap)
        self.wait(400)


@pytest.fixture
def keyboard(qapp: QApplication) -> Iterator[Keyboard]:
    """Return a keyboard, with the scan filter installed and a clock of its own."""
    made = Keyboard()
    yield made
    made.filter.uninstall()


def show(qtbot: Any, widget: QWidget, focus: QWidget | None = None) -> None:
    """Show a widget in a window that has the focus."""
    qtbot.addWidget(widget)
    with qtbot.waitActive(widget):
        widget.show()
        widget.activateWindow()
    (focus or widget).setFocus()
    qtbot.waitUntil(lambda: QGuiApplication.focusWindow() is not None)


@pytest.fixture
def shown(qtbot: Any):
    """Return the function that shows a widget in a window with the focus, and keeps it until the test ends."""
    kept = []

    def keep_and_show(widget: QWidget, focus: QWidget | None = None) -> None:
        kept.append(widget)
        show(qtbot, widget, focus)

    return keep_and_show
