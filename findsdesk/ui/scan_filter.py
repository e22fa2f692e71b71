"""The scan filter: knows a scan among the keys, takes it whole, and gives everything else back to where it was typed.

It sees every key before any widget does: a scan can press no button, close no dialog and change no field. What turns
out to be typing is sent on, in order, to the receiver it was meant for.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import TYPE_CHECKING

import shiboken6
from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent
from PySide6.QtWidgets import QApplication, QWidget

from findsdesk.ui.scan_timing import AGAIN_MS, ScannerProfile, ScanTiming, Verdict, usb

if TYPE_CHECKING:
    from PySide6.QtGui import QWindow

_KEYS = (QEvent.Type.KeyPress, QEvent.Type.KeyRelease, QEvent.Type.ShortcutOverride)
_CLICKS = (QEvent.Type.MouseButtonPress, QEvent.Type.MouseButtonDblClick)
_END_KEYS = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Tab)
_STILL_TYPING = Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier
_WRITING_KEYS = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Backspace)
_SILENT_KEYS = (
    Qt.Key.Key_Shift,
    Qt.Key.Key_Control,
    Qt.Key.Key_Alt,
    Qt.Key.Key_AltGr,
    Qt.Key.Key_Meta,
    Qt.Key.Key_CapsLock,
    Qt.Key.Key_NumLock,
)

FREE_TEXT = "free_text"
"""The property of a field in which somebody writes whole words."""
NUMBER = "number"
"""The property of a field that takes a number and nothing else."""

_PRESSED_AGAIN_MS = 150.0
"""A held key repeats itself after 250 ms at the earliest (from memory: the shortest delay systems offer).

The window system marks any press as a repetition that bears the same millisecond as the release before it; where a
scanner is fast and the window was busy, that is how a doubled character of a code comes.
"""


def steady_ms() -> float:
    """Return milliseconds of a clock that never jumps."""
    return time.monotonic() * 1000.0


def _writes_one_character(event: QKeyEvent) -> bool:
    plain = (event.modifiers() & ~_STILL_TYPING) == Qt.KeyboardModifier.NoModifier
    return plain and len(event.text()) == 1 and event.text().isprintable()


def _writes(event: QKeyEvent) -> bool:
    plain = (event.modifiers() & ~_STILL_TYPING) == Qt.KeyboardModifier.NoModifier
    return _writes_one_character(event) or (plain and event.key() in _WRITING_KEYS)


class ScanFilter(QObject):
    """Install once with ``install``. ``clock`` gives milliseconds; tests pass their own and call ``look_at_clock``."""

    scanned = Signal(str)
    again = Signal(str)
    """The same code within two seconds: a double trigger."""
    blocked = Signal(str)
    """A scan while a dialog waits for its answer: nothing is done with it."""

    def __init__(
        self,
        profile: ScannerProfile | None = None,
        clock: Callable[[], float] = steady_ms,
        parent: QObject | None = None,
        reads: Callable[[str], bool] = lambda _code: True,
        goes_on: Callable[[bool], bool] = lambda _writes: True,
    ) -> None:
        """``reads`` tells whether a text reads as a code of ours; what does not is typing where text is typed.

        ``goes_on`` is asked before a key that is none of a scan goes to a widget or a shortcut, and may make it wait;
        it is told whether the key writes, as a letter and Enter do, or is any other.
        """
        super().__init__(parent)
        self._reads = reads
        self._goes_on = goes_on
        self._clock = clock
        self._timing = ScanTiming(profile or usb())
        self._kept: list[tuple[QObject, QKeyEvent]] = []
        self._swallow_release: set[int] = set()
        self._repeating_key = 0
        self._given_back: set[int] = set()
        self._watched: QWidget | None = None
        self._watching = False
        self._key_time_ahead = 0.0
        self._seen: tuple[int, QEvent.Type, int, int] | None = None
        self._pressed: tuple[int, float] = (0, 0.0)
        """The key last pressed by a hand or a scanner, and when."""
        self._last: tuple[str, float] = ("", 0.0)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setTimerType(Qt.TimerType.PreciseTimer)
        self._timer.timeout.connect(lambda: QTimer.singleShot(0, self.look_at_clock))

    def install(self) -> None:
        """Begin to watch the keys of the whole program.

        Keys come to the window that has the focus before any widget, and as a shortcut's to the widget itself: both are
        watched, and no other object, since a filter on the application is called for every event there is.
        """
        application = QGuiApplication.instance()
        if self._watching or not isinstance(application, QGuiApplication):
            return
        self._watching = True
        application.focusWindowChanged.connect(self._watch_window)
        application.focusObjectChanged.connect(self._watch_widget)
        for window in QGuiApplication.topLevelWindows():
            self._watch_window(window)
        self._watch_widget(QGuiApplication.focusObject())

    def uninstall(self) -> None:
        """Stop watching; what is held is given back."""
        self._give_back()
        application = QGuiApplication.instance()
        if self._watching and isinstance(application, QGuiApplication):
            self._watching = False
            application.focusWindowChanged.disconnect(self._watch_window)
            application.focusObjectChanged.disconnect(self._watch_widget)
        for window in QGuiApplication.topLevelWindows():
            window.removeEventFilter(self)
        self._watch_widget(None)

    def _watch_window(self, window: QWindow | None) -> None:
        if window is not None:
            window.installEventFilter(self)

    def _watch_widget(self, widget: QObject | None) -> None:
        before = self._watched
        if before is not None and shiboken6.isValid(before):
            before.removeEventFilter(self)
        self._watched = widget if isinstance(widget, QWidget) else None
        if self._watched is not None:
            self._watched.installEventFilter(self)

    def use(self, profile: ScannerProfile) -> None:
        """Expect another kind of scanner from now on."""
        self._give_back()
        self._timing = ScanTiming(profile)

    def forget_last(self) -> None:
        """Nothing was done with the scan that came last: the same code may come again at once."""
        self._last = ("", 0.0)

    def look_at_clock(self) -> None:
        """Decide about held keys if the time for it has come; the timer calls this."""
        verdict = self._timing.silence(self._clock() + self._key_time_ahead)
        if verdict is Verdict.SCAN and not self._is_text():
            self._complete()
        elif verdict in (Verdict.SCAN, Verdict.GIVE_BACK):
            self._give_back()
        else:
            self._wait()

    def eventFilter(self, receiver: QObject, event: QEvent) -> bool:
        if event.type() not in _KEYS or not isinstance(event, QKeyEvent):
            if event.type() in _CLICKS:
                self._click()
            return False
        if shiboken6.getCppPointer(event)[0] in self._given_back:
            return False
        if event.type() == QEvent.Type.ShortcutOverride:
            return self._override(receiver, event)
        if self._is_same(event):
            return False
        if event.type() == QEvent.Type.KeyRelease:
            swallowed = self._release(receiver, event)
        else:
            swallowed = self._press(receiver, event) or self._is_too_early(receiver, event)
        self._seen = None if swallowed else self._mark(event)
        return swallowed

    def _click(self) -> None:
        """Give what is held back before a click takes the keyboard elsewhere, unless it is a scan by now."""
        end = self._timing.end_key(self._clock() + self._key_time_ahead)
        if end is Verdict.GIVE_BACK or (end is Verdict.SCAN and self._is_text()):
            self._give_back()

    def _mark(self, event: QKeyEvent) -> tuple[int, QEvent.Type, int, int]:
        return (shiboken6.getCppPointer(event)[0], event.type(), event.key(), event.timestamp())

    def _is_same(self, event: QKeyEvent) -> bool:
        """Return whether this very event was let through already, on its way from a window to a widget or a parent."""
        return self._seen is not None and self._seen == self._mark(event)

    def _override(self, receiver: QObject, event: QKeyEvent) -> bool:
        """Keep a key that may be a scan's from being taken as a shortcut; the key itself comes next.

        Before any other key does something, here or as it is pressed, what is held goes where it was typed.
        """
        repeats = self._repeats_itself(event)
        may_be_scan = not repeats and (_writes_one_character(event) or self._ends_scan(event))
        if self._timing.holding and not (may_be_scan or repeats or event.key() in _SILENT_KEYS):
            self._give_back()
        if may_be_scan or self._is_too_early(receiver, event):
            event.accept()
            return True
        return False

    def _ends_scan(self, event: QKeyEvent) -> bool:
        """Return whether a key ends what is held as a scan."""
        ends = event.key() in _END_KEYS and not event.modifiers() & ~_STILL_TYPING
        return ends and self._timing.end_key(self._stamp(event)) is Verdict.SCAN and not self._is_text()

    def _is_too_early(self, receiver: QObject, event: QKeyEvent) -> bool:
        """Return whether a key must not go on; one that had to wait goes on only to what is still there."""
        if event.key() in _SILENT_KEYS:
            return False
        return not (self._goes_on(_writes(event)) and shiboken6.isValid(receiver))

    def _press(self, receiver: QObject, event: QKeyEvent) -> bool:
        if self._repeats_itself(event):
            return self._timing.holding or event.key() == self._repeating_key
        if event.key() in _SILENT_KEYS:
            return False
        self._repeating_key = 0
        now = self._time_of(event)
        self._pressed = (event.key(), now)
        if self._timing.silence(now) is not Verdict.PASS:
            self.look_at_clock()
        if event.key() in _END_KEYS and not event.modifiers() & ~_STILL_TYPING:
            verdict = self._timing.end_key(now)
        elif _writes_one_character(event):
            verdict = self._timing.character(event.text(), now)
        else:
            verdict = self._timing.other_key()
        return self._act(verdict, receiver, event)

    def _repeats_itself(self, event: QKeyEvent) -> bool:
        """Return whether a key is held down; one pressed twice in a moment is not, however it is marked."""
        key, when = self._pressed
        return event.isAutoRepeat() and not (event.key() == key and self._stamp(event) - when <= _PRESSED_AGAIN_MS)

    def _stamp(self, event: QKeyEvent) -> float:
        """Return when a key was pressed: as the window system says, so that a busy moment does not squeeze typing."""
        stamp = event.timestamp() if self._clock is steady_ms else 0
        return float(stamp) if stamp else self._clock()

    def _time_of(self, event: QKeyEvent) -> float:
        """Return when a key was pressed, and take note of how far the window system's clock is ahead."""
        pressed = self._stamp(event)
        self._key_time_ahead = pressed - self._clock()
        return pressed

    def _act(self, verdict: Verdict, receiver: QObject, event: QKeyEvent) -> bool:
        if verdict is Verdict.PASS:
            return False
        if verdict is Verdict.GIVE_BACK or (verdict is Verdict.SCAN and self._is_text()):
            self._give_back()
            return False
        if verdict is Verdict.SCAN:
            self._swallow_release.add(event.key())
            self._repeating_key = event.key()
            self._complete()
            return True
        if verdict is Verdict.GIVE_BACK_AND_HOLD:
            self._give_back(forget=False)
        self._kept.append((receiver, event.clone()))
        self._wait()
        return True

    def _is_text(self) -> bool:
        """Return whether what came as fast as a scan was typed in a field that takes it, and reads as no code.

        A text expander, speech put into words, or a quick hand that writes a word of a list types as fast as a scanner.
        In a number a digit makes it a scan, as of a crate; elsewhere digits alone do, unless sentences are written
        there, or a dialog stands open, in which a path is typed and no scan is taken.
        """
        # Loaded with the first such text: no painting of the window waits for every kind of field there is.
        from findsdesk.ui.text_fields import takes_sentences, text_field

        field, held = text_field(), self._timing.held
        if field is None or self._timing.prefixed or self._reads(held):
            return False
        if field.property(NUMBER):
            return not any(map(str.isdigit, held))
        in_dialog = QApplication.activeModalWidget() is not None
        sentences = bool(field.property(FREE_TEXT)) or takes_sentences(field)
        return sentences or in_dialog or not held.isdecimal()

    def _release(self, receiver: QObject, event: QKeyEvent) -> bool:
        if event.key() in self._swallow_release:
            if not event.isAutoRepeat():
                self._swallow_release.discard(event.key())
                self._repeating_key = 0
            return True
        if event.isAutoRepeat() and event.key() == self._repeating_key:
            return True
        if any(kept.key() == event.key() for _receiver, kept in self._kept):
            self._kept.append((receiver, event.clone()))
            return True
        return False

    def _wait(self) -> None:
        until = self._timing.wait_until()
        if until is None:
            self._timer.stop()
        else:
            self._timer.start(max(0, round(until - self._clock() - self._key_time_ahead + 0.5)))

    def _give_back(self, forget: bool = True) -> None:
        """Send the held keys on, in order, to where they were typed."""
        self._timer.stop()
        if forget:
            self._timing.forget()
        kept, self._kept = self._kept, []
        if kept and not self._goes_on(True):
            return
        for receiver, event in kept:
            target = self._still_there(receiver)
            if target is None:
                continue
            # Known by its address, not by a flag: what it sets off may open a dialog, which must be guarded as well.
            address = shiboken6.getCppPointer(event)[0]
            self._given_back.add(address)
            QCoreApplication.sendEvent(target, event)
            self._given_back.discard(address)

    @staticmethod
    def _still_there(receiver: QObject) -> QObject | None:
        if shiboken6.isValid(receiver):
            return receiver
        return QApplication.focusWidget()

    def _complete(self) -> None:
        """Take the scan out and tell it."""
        self._timer.stop()
        code = self._timing.take()
        kept, self._kept = self._kept, []
        pressed = {event.key() for _receiver, event in kept if event.type() == QEvent.Type.KeyPress}
        released = {event.key() for _receiver, event in kept if event.type() == QEvent.Type.KeyRelease}
        self._swallow_release |= pressed - released
        if not self._repeating_key and kept:
            self._repeating_key = kept[-1][1].key()
        self._tell(code)

    def _tell(self, code: str) -> None:
        now = self._clock()
        last, when = self._last
        if QApplication.activeModalWidget() is not None:
            self.blocked.emit(code)
            return
        while (popup := QApplication.activePopupWidget()) is not None and popup.close():
            """What a list or a menu offers is of what was in hand before."""
        self._last = (code, now)
        if code == last and now - when <= AGAIN_MS:
            self.again.emit(code)
        else:
            self.scanned.emit(code)
