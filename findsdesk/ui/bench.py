"""What every bench is: a title with what is going on, one clay button, and a place for refusals."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable
from typing import ClassVar, TypeVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QVBoxLayout, QWidget
from shiboken6 import isValid

from findsdesk.domain.codes import Code
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.ui.answers import Answer
from findsdesk.ui.background import Job
from findsdesk.ui.changes import Thing
from findsdesk.ui.room_below import RoomBelow
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.scroll_page import ScrollPage, scrolled
from findsdesk.ui.widgets.slips import RefusalSlip

T = TypeVar("T")

_SIDE, _BESIDE_TITLE, _HEAD = 18, 11, 42
"""Pixels, at 100 per cent: the margin of a bench, the gap after its title, the height of a refusal over its head."""
_LEAST_SLIP = 420
"""Pixels of width, at 100 per cent, under which a refusal covers the title too."""


def act_button(words: str) -> QPushButton:
    """Return the clay button of a bench: the next act. One per bench."""
    button = QPushButton(words)
    button.setProperty("act", True)
    return button


class Bench(QWidget):
    """Base of all benches. A subclass sets ``key``, ``title`` and ``kinds``, fills ``body`` and writes ``refresh``."""

    key: ClassVar[str] = ""
    kinds: ClassVar[frozenset[str]] = frozenset()
    """Kinds of things shown here; news of another kind does not concern the bench."""
    makes_room_at_once: ClassVar[bool] = False
    """Whether room is made for a long message also under the mouse: where only rows become lower."""

    subtitle_changed = Signal(str)

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.surroundings = surroundings
        self.theme = surroundings.theme
        self.stale = True
        self.in_hand: object = None
        self._opens: set[str] = set()
        """Topics of which the last reading opens something."""
        self.refusals = RefusalSlip(self.theme)
        self._title = labels.title(self.title())
        self._subtitle = labels.muted(wrap=False)
        self._frame = QVBoxLayout()
        self.body = QVBoxLayout()
        """Where a bench puts its parts."""
        self._build()
        self._space()
        self.theme.changed.connect(self._space)
        self.refusals.said.connect(self._place_refusals)
        RoomBelow(self, at_once=self.makes_room_at_once)

    # What a bench writes of its own

    @abstractmethod
    def title(self) -> str:
        """Return the name of the bench in the language of the window."""
        return self.key

    def what_waits(self) -> str:
        """Return the line for the rail. Runs on the reading lane: may ask the desk, must not touch a widget."""
        return ""

    def refresh(self) -> None:
        """Read again what is shown, through ``lanes.read``. Called when the bench is shown and stale, or concerned."""

    def begin_anew(self) -> None:
        """Go back to how the bench begins: its tag or key was pressed while it is open."""

    def show_in_hand(self, in_hand: object) -> None:
        """Take what was scanned or chosen in hand; called also while another bench is open."""
        self.in_hand = in_hand

    def show_words(self, words: str) -> None:
        """Show what holds these words anywhere: the bench of registers does."""

    def look_up_begins(self) -> None:
        """Take note that something was scanned or chosen and is being looked up; what is typed now is for that."""

    def look_up_ended(self, found: bool) -> None:
        """Take note that a look-up ended; where something was found, ``show_in_hand`` or ``take_…`` came before."""

    def keeps_what_is_typed_ahead(self) -> bool:
        """Return whether what is typed while something is looked up is kept for that; else the keys wait for it."""
        return False

    def has_typed_ahead(self) -> bool:
        """Return whether something was typed for what is looked up; where only one look-up is kept apart from others,
        the next scan waits for it."""
        return False

    def is_behind(self) -> bool:
        """Return whether what came into hand, or is opened, is not to be seen yet: keys wait until it is."""
        return any(map(self.reads, self._opens))

    def take_scan(self, text: str) -> Answer | None:
        """Answer a scan as it came, before anything is looked up; None, as nearly always, lets it be looked up."""
        return None

    def take_code(self, code: Code) -> Answer | None:
        """Answer a scan that is no find: a place (tub n has the serial n) or a command; None where it means nothing."""
        return None

    def take_beside(self, thing: object) -> Answer | None:
        """Answer a find that goes into a field here and does not come in hand; None, as nearly always: it does."""
        return None

    def keys(self) -> tuple[tuple[str, str], ...]:
        """Return (key, what it does) of this bench's keys, for the page of keys."""
        return ()

    def fit(self, width: int, height: int) -> None:
        """Arrange the parts for a small window; called with the room of the bench in pixels whenever it changes."""

    def first_focus(self) -> QWidget | None:
        """Return what takes the keyboard when the bench opens."""
        return None

    def dossier_part(self) -> QWidget | None:
        """Return what stands in the dossier, below its head, while this bench is open; None: nothing of its own."""
        return None

    # What every bench can do

    def concerns(self, touched: frozenset[Thing]) -> bool:
        """Return whether this news is about what is shown here."""
        return not self.kinds or any(kind in self.kinds for kind, _number in touched)

    def hear(self, touched: frozenset[Thing]) -> None:
        """Refresh if concerned and shown; otherwise take note to refresh when shown."""
        if self.concerns(touched):
            self.stale = True
            self.refresh_if_shown()

    def refresh_if_shown(self) -> None:
        """Refresh now if the bench is stale and can be seen."""
        if self.stale and self.isVisible():
            self.stale = False
            self.refresh()

    def say_going_on(self, text: str) -> None:
        """Write beside the title, in lighter type, what is going on."""
        self._subtitle.setText(text)
        self.subtitle_changed.emit(text)

    def going_on(self) -> str:
        """Return the line beside the title."""
        return self._subtitle.text()

    def stand_refusals(self, layout: QVBoxLayout | None = None, place: int = 0) -> None:
        """Let refusals stand in a form, where its act is tried, from now on; without one, beside the title again."""
        if layout is not None:
            self.refusals.lie_flat(False)
            layout.insertWidget(place, self.refusals)
        elif self.refusals.parentWidget() is not self:
            stands = not self.refusals.isHidden()
            self.refusals.setParent(self)
            self.refusals.setVisible(stands)
            self._place_refusals()

    def _place_refusals(self) -> None:
        """Lay what is refused over the head of the bench: nothing below it moves away from under a pointer."""
        slip, px = self.refusals, self.theme.px
        if slip.parentWidget() is not self or slip.isHidden():
            return
        slip.lie_flat(self.width() >= px(_LEAST_SLIP))
        side, gap, head = px(_SIDE), px(_BESIDE_TITLE), px(_HEAD)
        begin, widest = side + self._title.sizeHint().width() + gap, self.width() - side
        if widest - begin < px(_LEAST_SLIP) or slip.heightForWidth(widest - begin) > head + gap:
            # What would reach beyond the head is laid over the title too.
            begin = side
        width = max(1, widest - begin)
        left = side if self.layoutDirection() == Qt.LayoutDirection.RightToLeft else begin
        slip.setGeometry(left, px(1), width, max(slip.heightForWidth(width), head))
        slip.raise_()

    def refuse(self, refusal: Refusal) -> None:
        """Show a refusal where the act was tried."""
        self.refusals.refuse(refusal.in_words(self.surroundings.terms))

    def deed(
        self,
        work: Callable[[], T],
        *,
        then: Callable[[T], None] | None = None,
        button: QWidget | None = None,
        sure: Callable[[], T] | None = None,
        lost: Callable[[], None] | None = None,
        no: Callable[[Refusal], None] | None = None,
    ) -> Job:
        """Do a deed on the deed lane. Refusals show on this bench and the button is dead meanwhile.

        ``sure`` is the same call with ``sure=True``: with it a ``Question`` can be answered on the slip. ``lost`` is
        called when nothing was written, because it was refused or failed; ``no`` with a refusal that is shown.
        """
        self.refusals.clear()
        wake = _let_rest(button)

        def done(value: T) -> None:
            wake()
            self.surroundings.written.emit()
            if then:
                then(value)

        def refused(refusal: Refusal) -> None:
            wake()
            if lost:
                lost()
            if isinstance(refusal, Question) and sure:
                words = refusal.in_words(self.surroundings.terms)
                self.refusals.ask(words, lambda: self._again(sure, then, button, no))
            else:
                self.refuse(refusal)
                if no:
                    no(refusal)

        def failed(fault: BaseException) -> None:
            wake()
            if lost:
                lost()
            self.surroundings.notices.failed(fault)

        return self.surroundings.lanes.deed(work, then=done, refused=refused, failed=failed)

    def _again(
        self,
        work: Callable[[], T],
        then: Callable[[T], None] | None,
        button: QWidget | None,
        no: Callable[[Refusal], None] | None,
    ) -> None:
        self.deed(work, then=then, button=button, no=no)

    def read(self, work: Callable[[], T], then: Callable[[T], None], topic: str = "", *, opens: bool = False) -> Job:
        """Read on the reading lane; a later reading on the same topic of this bench drops this one.

        ``opens``: the keys that come now are for what it opens, and wait.
        """
        (self._opens.add if opens else self._opens.discard)(topic)
        return self.surroundings.lanes.read(
            work, then=then, refused=self.refuse, topic=self._topic(topic) if topic else ""
        )

    def reads(self, topic: str) -> bool:
        """Return whether a topic of this bench is being read."""
        return self.surroundings.lanes.reads(self._topic(topic))

    def _topic(self, topic: str) -> str:
        return f"{self.key}/{topic}"

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.fit(self.width(), self.height())
        self._place_refusals()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.refresh_if_shown()

    def _build(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self._title, alignment=Qt.AlignmentFlag.AlignBaseline)
        head.addWidget(self._subtitle, alignment=Qt.AlignmentFlag.AlignBaseline)
        head.addStretch(1)
        self._head = head
        page = ScrollPage()
        page.setLayout(self._frame)
        self._frame.addLayout(head)
        inner = QWidget()
        inner.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        inner.setLayout(self.body)
        self.body.setContentsMargins(0, 0, 0, 0)
        self._frame.addWidget(inner, 1)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(scrolled(page))
        self.refusals.setParent(self)
        self.refusals.hide()

    def _space(self) -> None:
        px = self.theme.px
        self._frame.setContentsMargins(px(_SIDE), px(16), px(_SIDE), px(14))
        self._frame.setSpacing(px(12))
        self.body.setSpacing(px(12))
        self._head.setSpacing(px(_BESIDE_TITLE))
        self._place_refusals()


def _let_rest(button: QWidget | None) -> Callable[[], None]:
    """Let a button rest while its act is under way; what is returned wakes it and gives it the keyboard back.

    The toolkit moves the keyboard on from a button that rests, to whatever comes next: often to another act.
    """
    if button is None:
        return lambda: None
    # The window's own: after a dialog the window is not the active one yet, and nothing has the keyboard.
    window = button.window()
    had_keyboard = window.focusWidget() is button
    button.setEnabled(False)
    moved_to = window.focusWidget()

    def wake() -> None:
        if not isValid(button):  # what the act changed was shown anew meanwhile, this button with it
            return
        button.setEnabled(True)
        if had_keyboard and button.isVisible() and window.focusWidget() in (moved_to, None):
            button.setFocus(Qt.FocusReason.OtherFocusReason)

    return wake
