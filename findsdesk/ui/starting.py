"""From the frame to an open store: opening, what stands in the way, and the ways on.

The page that says so, and what only some ways need, are loaded after the first painting: what is loaded before that is
waited for.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QEvent, QObject, QTimer, Signal

from findsdesk.domain.refusals import Refusal, StoreFault
from findsdesk.ui import store_work
from findsdesk.ui.background import Lanes
from findsdesk.ui.notices import Notices
from findsdesk.ui.store_work import STORE_SUFFIX, Opened, Wish
from findsdesk.ui.ways_out import Way, ways_out
from findsdesk.ui.window import Window
from findsdesk.words import N_, _, put

if TYPE_CHECKING:
    from findsdesk.ui.first_page import FirstPage
    from findsdesk.ui.new_excavation import NewExcavationForm

_LATEST_COPIES = 6
_UNSEEN_MS = 400
"""A window that is never painted (minimised, no screen) opens its store after this time all the same."""


class Starting(QObject):
    """Stands before a store is open. What it opens it hands on with ``opened``."""

    opened = Signal(object)
    """An ``Opened``."""

    def __init__(self, window: Window, lanes: Lanes, notices: Notices, station: str) -> None:
        super().__init__(window)
        self.window, self.lanes, self.notices, self.station = window, lanes, notices, station
        self.wish: Wish | None = None
        self._only_remembered = False
        self._waiting: Callable[[], None] | None = None
        # A scan made before the first painting is looked up after the opening, not before it.
        window.look_up_begins.connect(self._go)
        self._ways: dict[Way, Callable[[], None]] = {
            Way.AGAIN: lambda: self._open(self.wish),
            Way.READ_ONLY: lambda: self._open(self.wish._replace(read_only=True) if self.wish else None),
            Way.ANYBODY: lambda: self._open(self.wish._replace(by=None) if self.wish else None),
            Way.RESTORE: self._restore,
            Way.CHOOSE: self._choose,
            Way.NEW: self._new,
            Way.EXAMPLE: self._example,
        }

    @cached_property
    def page(self) -> FirstPage:
        """The page that stands where the benches will."""
        from findsdesk.ui.first_page import FirstPage

        page = FirstPage(self.window.theme)
        page.chosen.connect(self.take)
        return page

    def welcome(self) -> None:
        """Offer the ways to begin."""
        # Shown first: a button that is not there yet gets no keyboard.
        self.window.show_page(self.page)
        self.page.welcome(ways_out())

    def begin(self, wish: Wish, *, remembered_person: bool = False) -> None:
        """Open a store once the frame has been painted.

        ``remembered_person``: the name is only what the station remembers; if nobody is called so any more, the store
        opens without it.
        """
        self.wish, self._only_remembered = wish, remembered_person
        self._waiting = lambda: self._open(wish)
        self.window.installEventFilter(self)
        QTimer.singleShot(_UNSEEN_MS, self, self._go)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Wait for the first painting of the window."""
        if self._waiting is not None and event.type() == QEvent.Type.Paint:
            QTimer.singleShot(0, self, self._go)
        return False

    def _go(self) -> None:
        waiting, self._waiting = self._waiting, None
        if waiting is not None:
            self.window.removeEventFilter(self)
            waiting()

    def take(self, way: Way) -> None:
        """Take a way that somebody chose."""
        self._ways[way]()

    # Opening

    def _open(self, wish: Wish | None) -> None:
        if wish is None:
            return
        self.wish = wish
        around = self.window.surroundings

        def work() -> Opened:
            found = store_work.open_wished(wish)
            # Set here, on the lane: a scan that waits behind this job finds the desk.
            around.desk, around.terms = found.desk, found.desk.terms
            return found

        self.lanes.deed(work, then=self.opened.emit, refused=self._refused, failed=self._failed)
        # After the opening has begun on its lane, which does not wait for this page.
        self.page.say_opening(Path(wish.where).stem)
        self.window.show_page(self.page)

    def _refused(self, refusal: Refusal) -> None:
        if refusal.code == "unknown_person" and self._only_remembered and self.wish is not None:
            self._only_remembered = False
            self._open(self.wish._replace(by=None))
            return
        self._say_no(refusal)

    def _failed(self, fault: BaseException) -> None:
        if isinstance(fault, StoreFault):
            self._say_no(fault)
            return
        self.notices.failed(fault)
        self.welcome()

    def _say_no(self, no: Refusal | StoreFault) -> None:
        where = str(self.wish.where) if self.wish else ""
        self.page.refuse(no.in_words(self.window.surroundings.terms), where, ways_out(no.code))
        self.window.show_page(self.page)

    # Ways on

    def _choose(self) -> None:
        chosen = self.notices.file_to_open(_("Open a store"), f"FindsDesk (*{STORE_SUFFIX})")
        if chosen is not None:
            self._open(Wish(chosen, None, self.station))

    def _restore(self) -> None:
        where = self.wish.where if self.wish else None
        if where is None:
            self._restore_from(None)
            return
        from findsdesk.ui import beginnings

        self.lanes.read(lambda: beginnings.copies_in_words(where), then=self._show_copies, refused=self._say_no)

    def _show_copies(self, copies: list[tuple[Path, str]]) -> None:
        from findsdesk.ui.first_page import CopiesToChoose

        part = CopiesToChoose(copies[:_LATEST_COPIES])
        part.chosen.connect(self._restore_from)
        part.left.connect(lambda: self.page.show_part(None))
        self.page.show_part(part, _("Restore a copy"))

    def _restore_from(self, copy: Path | None) -> None:
        from findsdesk.ui import beginnings

        chosen = copy or self.notices.file_to_open(_("Choose a copy"), f"FindsDesk (*{STORE_SUFFIX})")
        if chosen is None:
            return
        into = self.notices.file_to_write(
            _("Restore the copy into a new file"), beginnings.restored_name(chosen), f"FindsDesk (*{STORE_SUFFIX})"
        )
        if into is not None:
            self.lanes.deed(
                lambda: beginnings.restore(chosen, into),
                then=lambda path: self._open(Wish(path, None, self.station)),
                refused=self._say_no,
                failed=self._failed,
            )

    def _new(self) -> None:
        from findsdesk.ui.new_excavation import NewExcavationForm

        form = NewExcavationForm(self.window.theme, self.notices)
        form.left.connect(lambda: self.page.show_part(None))
        form.wanted.connect(lambda values: self._make(form, values))
        self.page.show_part(form, _("A new excavation"))
        form.focus_first()

    def _make(self, form: NewExcavationForm, values: Mapping[str, Any]) -> None:
        from findsdesk.ui import beginnings

        around = self.window.surroundings

        def work() -> Opened:
            made = beginnings.make_excavation(values, self.station)
            around.desk, around.terms = made.desk, made.desk.terms
            return made

        def failed(fault: BaseException) -> None:
            if isinstance(fault, StoreFault):
                form.refuse(fault.in_words())
            else:
                self.notices.failed(fault)

        self.lanes.deed(work, then=self.opened.emit, refused=lambda no: form.refuse(no.in_words()), failed=failed)

    def _example(self) -> None:
        from findsdesk.ui import beginnings

        self.page.say_opening(put(N_("the example")))
        job = self.lanes.job("pool", progress=self.page.say_progress)
        self.lanes.pool(
            lambda: beginnings.make_example(job.report),
            then=lambda path: self._open(Wish(path, None, self.station)),
            refused=self._say_no,
            failed=self._failed,
            job=job,
        )
