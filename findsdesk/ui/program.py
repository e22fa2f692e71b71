"""The program: the frame at once, then the store on the deed lane, then the benches; and everything let go at the end.

Nothing of the store is loaded before the window has been painted: scans and keys are taken from the first moment and
wait on the deed lane behind the opening.
"""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Any

from PySide6.QtCore import QEvent, QObject, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from findsdesk import places
from findsdesk.domain.refusals import Refusal
from findsdesk.ui import store_work
from findsdesk.ui.all_benches import BENCHES, rail_tags
from findsdesk.ui.answers import Answer, Found, Tone
from findsdesk.ui.background import Lanes
from findsdesk.ui.bench_building import BenchBuilding
from findsdesk.ui.changes import Changes, Thing
from findsdesk.ui.garbage import look_often_for_garbage
from findsdesk.ui.keys_after_scan import KeysAfterScan
from findsdesk.ui.news_watch import NewsWatch
from findsdesk.ui.notices import Notices
from findsdesk.ui.scan_filter import ScanFilter
from findsdesk.ui.sounds import Sounds
from findsdesk.ui.starting import Starting
from findsdesk.ui.station_settings import StationSettings, read_station, write_station
from findsdesk.ui.store_work import Opened, Wish
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.theme import DRESSED, Theme
from findsdesk.ui.window import Window
from findsdesk.ui.window_reads import WindowReads
from findsdesk.words import N_, Terms, _, put

PLAIN_SIZE = QSize(1366, 768)
_FOOT_MS = 30_000
_AROUND_A_PIECE = frozenset({"piece", "sherd_join", "vessel", "photo"})
"""Kinds of things of which the dossier of a piece says something."""
_COPY_AFTER_MS = 1_500
"""The starting copy waits until the first bench has read what it shows."""


class Program(QObject):
    """One window on at most one store at a time."""

    ready = Signal()
    """All benches stand."""
    closed = Signal()
    """The store was let go and the window may go."""
    _news = Signal(object)

    def __init__(
        self, station: str = "first", theme: str = "", notices: Notices | None = None, *, build_ahead: bool = True
    ) -> None:
        """``build_ahead``: benches are built before somebody opens them, while nobody waits."""
        super().__init__()
        self.station = station
        self.remembered: StationSettings = read_station(station)
        self.theme = Theme(theme or self.remembered.theme, self.remembered.zoom)
        self.theme.apply()
        self.notices = notices or Notices(log_folder=places.settings_folder() / "reports")
        self.changes = Changes()
        self.lanes = Lanes(self.notices, self.changes)
        self.surroundings = Surroundings(None, self.lanes, self.changes, Terms(), self.theme, self.notices, Sounds())
        around = self.surroundings
        reads = WindowReads(
            find=lambda text: store_work.find(around.desk, text),
            thing=lambda kind, number: store_work.thing(around.desk, kind, number),
            foot=lambda: store_work.foot_facts(around.desk),
        )
        self.window = Window(around, (), reads, tags=rail_tags())
        self.window.rail.setEnabled(False)
        self.starting = Starting(self.window, self.lanes, self.notices, station)
        self.after_scan = KeysAfterScan(self.window)
        self.filter = ScanFilter(parent=self, reads=self._reads_as_code, goes_on=self.after_scan.may_go_on)
        self.building = BenchBuilding(self.window, ahead=build_ahead)
        self.news = NewsWatch(self.lanes, self.changes, self)
        self._letting_go = False
        self._keeps_size = False
        """Whether the size of the window is its own, not one that was asked for."""
        self.is_closed = False
        self._wire()

    def _wire(self) -> None:
        window = self.window
        window.installEventFilter(self)
        window.foot.who_pressed.connect(self.choose_person)
        self.starting.opened.connect(self.take_store)
        self.building.done.connect(self._all_stand)
        self._news.connect(self.changes.add, Qt.ConnectionType.QueuedConnection)
        self.changes.touched.connect(self._hear)
        self.changes.told_around.connect(self._read_in_hand)
        self.filter.scanned.connect(self._scanned)
        self.filter.again.connect(window.on_scan_again)
        self.filter.blocked.connect(window.on_scan_blocked)
        self.filter.blocked.connect(lambda _code: self.notices.scan_during_dialog(QApplication.activeModalWidget()))
        self.theme.changed.connect(self._remember_look)
        self._foot_clock = QTimer(self)
        self._foot_clock.setInterval(_FOOT_MS)
        self._foot_clock.timeout.connect(window.read_foot)

    # Start

    def show(self, size: QSize | None = None) -> None:
        """Show the frame; it takes keys and scans from now on.

        Where no ``size`` is asked for it fills the screen, unless it was smaller when this station closed it.
        """
        room = room_on_the_screen()
        last = QSize(*self.remembered.size)
        self.window.resize(size or (PLAIN_SIZE if last.isEmpty() else last).boundedTo(room))
        self.filter.install()
        self._keeps_size = size is None
        if size is None and (last.isEmpty() or (last.width() >= room.width() and last.height() >= room.height())):
            self.window.showMaximized()
        else:
            self.window.show()

    def open(self, wish: Wish | None) -> None:
        """Open a store as soon as the frame has been painted, or offer the ways to begin."""
        if wish is None:
            self.starting.welcome()
            return
        by = wish.by or self.remembered.people.get(_key(wish.where))
        self.starting.begin(wish._replace(by=by, station=self.station), remembered_person=wish.by is None)

    def take_store(self, opened: Opened) -> None:
        """Take an open store: its words, its news, its benches one after the other."""
        around = self.surroundings
        around.desk, around.terms = opened.desk, opened.desk.terms
        self.notices.terms = opened.desk.terms
        opened.desk.listen(self._news.emit)
        self.news.begin(opened.desk)
        self.window.show_excavation(opened.excavation, opened.season)
        self.window.rail.setEnabled(True)
        self._remember_person()
        self._foot_clock.start()
        self.building.begin(tuple(BENCHES))

    def _all_stand(self) -> None:
        if not self._letting_go:
            self.window.read_frame()
            QTimer.singleShot(_COPY_AFTER_MS, self, self._copy)
            self.ready.emit()

    def _copy(self) -> None:
        """Make the verified copy at the start, on the reading lane."""
        desk = self.surroundings.desk
        if desk is not None and not self._letting_go:
            self.lanes.read(desk.copy, then=lambda _copy: self.window.read_foot(), failed=self.notices.failed)

    def quiet(self) -> bool:
        """Return whether all benches stand, nothing is being read or written, and no news is on its way."""
        return not self.building.under_way() and self.lanes.idle() and not self.changes.waiting()

    def _reads_as_code(self, text: str) -> bool:
        """Return whether a text is a code as it is printed, of this excavation or another, or one of this half read."""
        from findsdesk.domain.codes import could_be_misread

        desk = self.surroundings.desk
        return could_be_misread(text, desk.facts.code if desk is not None else "")

    def _scanned(self, code: str) -> None:
        """Find what was scanned, behind what was typed before it."""
        if self.after_scan.may_be_looked_up():
            self.window.on_scan(code)
        else:
            self.filter.forget_last()

    # News

    def _hear(self, touched: frozenset[Thing]) -> None:
        """Follow a change of the excavation's own words."""
        around = self.surroundings
        if around.desk is not None and {kind for kind, _number in touched} & {"excavation", "season"}:
            around.terms = self.notices.terms = around.desk.terms
            desk = around.desk
            self.lanes.read(lambda: store_work.opened(desk), then=self._show_excavation, topic="excavation")

    def _read_in_hand(self, touched: frozenset[Thing]) -> None:
        """Show again what is in hand if it changed."""
        around, found = self.surroundings, self.window.found
        if around.desk is None or found is None or not _concerns(touched, found):
            return
        if found.follows is None:
            self.lanes.deed(lambda: store_work.again(around.desk, found.thing), then=self._show_again)
        else:
            # Each bag that is laid somewhere is news of its place, which may hold hundreds of boxes: no deed waits.
            read = partial(store_work.find, around.desk, found.follows.code)
            gone = partial(self._show_gone, found)
            self.lanes.read(read, then=self._show_stored, refused=gone, topic="in hand")

    def _show_again(self, found: Found) -> None:
        if _thing_of(found) == _thing_of(self.window.found):
            self.window.show_found(found, again=True)

    def _show_stored(self, found: Found) -> None:
        before = self.window.found
        if found.follows and before and before.follows and found.follows.code == before.follows.code:
            self.window.show_anew(found)

    def _show_gone(self, found: Found, refusal: Refusal) -> None:
        """Say of a box or place in hand that it was given up; of what it was, nothing else is true any more."""
        if found.dossier is not None:
            from dataclasses import replace  # with the first: 1.5 ms of the start

            line = refusal.in_words(self.surroundings.terms)
            self._show_stored(found._replace(dossier=replace(found.dossier, line=line, sections=(), cautions=())))

    def _show_excavation(self, opened: Opened) -> None:
        self.window.show_excavation(opened.excavation, opened.season)

    # Who sits here

    def choose_person(self) -> None:
        """Show the team above the foot."""
        desk = self.surroundings.desk
        if desk is None:
            return

        from findsdesk.ui.who_sits_here import show_above, team, who_menu

        def show(people: Any) -> None:
            show_above(who_menu(people, desk.person, self.sit, self.window), self.window.foot.who)

        self.lanes.read(lambda: team(desk), then=show, topic="team")

    def sit(self, person: Any) -> None:
        """Let somebody sit down: what is done from now on is theirs."""
        around = self.surroundings
        around.desk = around.desk.seat(person)
        around.seated.emit()
        self._remember_person()
        self.window.read_foot()
        # Else the next Enter of who goes on typing would open the team again.
        self.window.keyboard_to_bench()
        around.say(Answer(Tone.DONE, person.name, f" {_('sits here now')}"))

    # What the station remembers

    def _remember_person(self) -> None:
        desk = self.surroundings.desk
        where = str(desk.store.path or "")
        people = dict(self.remembered.people) | {where: desk.person.name}
        self._remember(self.remembered._replace(people=people, last_store=where))

    def _remember_look(self) -> None:
        self._remember(self.remembered._replace(theme=self.theme.name, zoom=self.theme.zoom))

    def _remember_size(self) -> None:
        if self._keeps_size:
            whole = self.window.isMaximized() or self.window.isFullScreen()
            size = (0, 0) if whole else (self.window.width(), self.window.height())
            self._remember(self.remembered._replace(size=size))

    def _remember(self, settings: StationSettings) -> None:
        if settings != self.remembered:
            self.remembered = settings
            write_station(self.station, settings)

    # End

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Hold the closing of the window until the store was copied and let go."""
        if watched is self.window and event.type() == QEvent.Type.Close and not self._letting_go:
            event.ignore()
            self.let_go()
            return True
        return False

    def let_go(self) -> None:
        """Let deeds under way finish, make the closing copy, let the store go, and end; once, however often asked."""
        if self._letting_go:
            return
        self._letting_go = True
        self._remember_size()
        self.building.stop()
        self.filter.uninstall()
        self._foot_clock.stop()
        self.changes.tell_last()
        desk = self.surroundings.desk
        self.window.setEnabled(False)
        if desk is None:
            self._end()
            return
        self.surroundings.say(Answer(Tone.PLAIN, _("Closing"), put(N_(": the closing copy is being made …"))))
        self.news.stop(lambda: self._close(desk))

    def _close(self, desk: Any) -> None:
        self.lanes.deed(desk.close, then=lambda _none: self._end(), refused=self._end_badly, failed=self._end_badly)

    def _end_badly(self, fault: BaseException) -> None:
        self.notices.failed(fault)
        self._end()

    def _end(self) -> None:
        self.window.close()
        self.lanes.shutdown()
        self.is_closed = True
        self.closed.emit()


def room_on_the_screen() -> QSize:
    """Return the pixels a window may fill."""
    return QGuiApplication.primaryScreen().availableSize()


def _key(where: str | Path) -> str:
    """Return the path under which a station remembers who sat at a store."""
    path = Path(where)
    return str(path if path.suffix == store_work.STORE_SUFFIX else path.with_name(path.name + store_work.STORE_SUFFIX))


def _thing_of(found: Found | None) -> Thing | None:
    """Return the kind and id of what is in hand, as news names it."""
    thing = found.thing if found else None
    for kind in ("container", "deposit"):
        number = getattr(thing, f"{kind}_id", None)
        if isinstance(number, int):
            return (kind, number)
    return None


def _concerns(touched: frozenset[Thing], found: Found) -> bool:
    """Return whether news is about what is in hand: a container, a deposit, a piece, or a thing of the store.

    After very many acts of other stations at once the news is of number 0 of every kind, whichever was meant.
    """
    if found.follows is not None:
        return found.follows.concerned_by(touched)
    piece = getattr(found.thing, "piece", None)
    if piece is not None and any(kind in _AROUND_A_PIECE for kind, _number in touched):
        return True
    thing = _thing_of(found)
    return thing is not None and (thing in touched or (thing[0], 0) in touched)


def application() -> QApplication:
    """Return the application, made if there is none yet."""
    running = QApplication.instance()
    if isinstance(running, QApplication):
        return running
    made = QApplication(["findsdesk", "-style", "Fusion"])
    made.setProperty(DRESSED, True)
    made.setApplicationName("FindsDesk")
    return made


def open_window(
    where: str | Path | None,
    *,
    by: str | None = None,
    station: str = "first",
    read_only: bool = False,
    theme: str = "",
    size: tuple[int, int] | None = None,
) -> int:
    """Open the window on a store (or on the ways to begin) and stay until it is closed; returns the exit code.

    Whatever is wrong with the store is said in the window. ``size`` is in pixels, ``theme`` "shade" or "sun".
    """
    app = application()
    app.setQuitOnLastWindowClosed(False)
    program = Program(station, theme)
    program.notices.catch_the_rest()
    program.closed.connect(app.quit)
    program.ready.connect(look_often_for_garbage)
    program.show(QSize(*size) if size else None)
    program.open(Wish(where, by, station, read_only) if where is not None else None)
    return QApplication.exec()
