"""The sorting table: somebody reads aloud, somebody types; the balance above, the last line large, no mouse needed."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QApplication, QWidget

from findsdesk.desk.dossiers import Dossier
from findsdesk.desk.sorting_table import dry_and_waiting
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.sorting import table_words
from findsdesk.ui.benches.sorting.asking_work import AskingWork
from findsdesk.ui.benches.sorting.beside_work import BesideWork
from findsdesk.ui.benches.sorting.gone_rows import say_what_is_gone
from findsdesk.ui.benches.sorting.keeping_work import KeepingWork
from findsdesk.ui.benches.sorting.reading import TableRead, Wanted, read_table
from findsdesk.ui.benches.sorting.row_lists import RowLists
from findsdesk.ui.benches.sorting.row_work import RowWork
from findsdesk.ui.benches.sorting.state import Asked, SortingState
from findsdesk.ui.benches.sorting.table_calls import TableCalls
from findsdesk.ui.benches.sorting.table_deeds import TableDeeds
from findsdesk.ui.benches.sorting.table_keys import bind_keys, rarer_keys, table_keys
from findsdesk.ui.benches.sorting.table_page import TablePage
from findsdesk.ui.benches.sorting.waiting_page import WaitingPage
from findsdesk.ui.benches.sorting.way_through import last_column
from findsdesk.ui.benches.sorting.word_page import WordPage, page_words
from findsdesk.ui.changes import Thing
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets.one_of import OneOf
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import _, plural

_LISTS = frozenset({"ware", "form", "word", "retention_rule", "excavation", "deposit"})
"""Kinds that rows are typed from, or that stand in every row: where one changed all is read anew."""
_MINUTE_MS = 60_000


class SortingBench(Bench):
    """A scan puts a container in hand; what is typed then is of it and of no other."""

    key = "sorting"
    makes_room_at_once = True
    kinds = _LISTS | {
        "container", "sherd_group", "piece", "found_object", "ledger_entry", "count", "step", "part", "bag",
        "share_drawn",
    }  # fmt: skip

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(surroundings, parent)
        self.state = SortingState()
        self.read_last: TableRead | None = None
        self._lists_stale = True
        self.table, self.words = TablePage(surroundings, self.state), WordPage(surroundings)
        self.waiting = WaitingPage(surroundings)
        self.deeds = TableDeeds(self, self.state, self.show_state, self.refresh)
        self.rows = RowWork(self.state, self.table, self.deeds, self.show_state)
        self.asking = AskingWork(self.state, self.table, self.words, self.deeds, self._keyboard_back)
        self.calls = TableCalls(self, self.asked, self.table, self.rows, self.asking, self.deeds)
        self._pages = OneOf()
        self.beside_work = BesideWork(self, self.state, self.show_state)
        for page in (self.waiting, self.words, self.table, self.beside_work.reading):
            self._pages.add_page(page)
        self.body.addWidget(self.asking.lost)
        self.body.addWidget(self._pages, 1)
        self.keeping = KeepingWork(self, self.state, self.rows)
        self._wire()
        self._shortcuts()
        self.keeping.find_again()
        self.show_state()

    def title(self) -> str:
        return _("Sorting table")

    def what_waits(self) -> str:
        """Return how many are dry and wait."""
        dry = dry_and_waiting(self.surroundings.desk)
        return plural("{n} dry and waiting", "{n} dry and waiting", dry) if dry else ""

    def keys(self) -> tuple[tuple[str, str], ...]:
        return (*table_keys(last_column(self.state.lists.of_table.columns)), *rarer_keys())

    def first_focus(self) -> QWidget | None:
        """Return the field to be filled first, the clay button, or the list."""
        page = self._pages.shown()
        if page is self.beside_work.reading:
            return self.beside_work.reading.form.entries["main"].widget
        if page is self.table:
            return self.table.ask.first_focus() if self.table.ask.asking else self.rows.first_focus()
        if page is self.words:
            return self.words.first_focus()
        return self.waiting.table if self.waiting.model.rows else None

    def dossier_part(self) -> QWidget:
        """Return the dates that follow what is read."""
        return self.beside_work.part

    def fit(self, width: int, height: int) -> None:
        self.table.fit_height(height)

    # Reading and showing

    def asked(self) -> Asked:
        """Return what the bench asks now."""
        desk = self.surroundings.desk
        return self.state.asked(desk.now()) if desk is not None else Asked.WHAT_WAITS

    def refresh(self) -> None:
        desk = self.surroundings.desk
        if desk is None:
            return
        if not self.isVisible():
            self.stale = True
            return
        wanted = self._wanted()
        self.read(lambda: read_table(desk, wanted), self._show_read, topic="table")

    def _wanted(self) -> Wanted:
        """Return what is to be read: of a table that was read whole only the rows that changed since."""
        asked, code = self.asked(), self.state.dossier.code if self.state.dossier else ""
        known = self.state.table is not None and self.state.table.code == code and not self._lists_stale
        only = frozenset(self.state.moved) if asked is Asked.READ and known else None
        return Wanted(asked, code, only, self._lists_stale)

    def hear(self, touched: frozenset[Thing]) -> None:
        """Take note which rows changed, and whether lists did, before the news is heard as by every bench."""
        if _LISTS & {kind for kind, _number in touched}:
            self._lists_stale = True
        self.state.moved |= {number for kind, number in touched if kind == "sherd_group"}
        super().hear(touched)

    def _show_read(self, read: TableRead) -> None:
        code = self.state.dossier.code if self.state.dossier else ""
        if (read.wanted.asked, read.code) != (self.asked(), code):
            self.refresh()
            return
        desk = self.surroundings.desk
        self.state.settings, self.state.terms = desk.facts.settings, desk.terms
        self.read_last = read
        security = self.state.table.security if self.state.table is not None else ""
        if read.table is not None:
            self.state.show_table(read.table)
            say_what_is_gone(self, self.state, self.show_state)
            self.asking.look_again()
        if read.lists is not None:
            self._lists_stale = False
            self.rows.use_lists(RowLists.of(read.lists))
        elif read.table is not None and read.table.security != security:
            self.table.use_lists(self.state)
        if read.wanted.asked is not Asked.READ or self.waiting.model.rows:
            self.waiting.show_waiting(read.waiting, WordsAround.of(desk))
        self.show_state()
        self.beside_work.read_dates()

    def show_state(self) -> None:
        """Show what the state says; what is being typed is not touched."""
        desk = self.surroundings.desk
        if desk is None:
            return
        self.keeping.find_again()
        self.keeping.keep_soon()
        with self.state.summed_up():
            self._show_all(self.asked(), WordsAround.of(desk))

    def _show_all(self, asked: Asked, around: WordsAround) -> None:
        page = self._page_of(asked)
        moved = page is not self._pages.shown()
        had_keyboard = self._has_keyboard()
        self.waiting.show_unwritten(self.state.elsewhere)
        self.waiting.show_wanting_why(self.read_last.elsewhere if self.read_last is not None else ())
        if asked is Asked.READ:
            self.table.show_state(self.state, self.rows.changing, around)
        elif asked is not Asked.WHAT_WAITS:
            # The clay button has come, or is another act than before: the keyboard is on it and on nothing else.
            half_read = self.beside_work.is_half_read()
            moved |= self.words.show_words(page_words(self.state, self.read_last, asked, around, half_read=half_read))
        if page is not self._pages.shown():
            self._pages.show_page(page)
        self.asking.tell_lost()
        self._say_going_on(asked, around)
        if self.isVisible() and had_keyboard and (moved or not self._has_keyboard()):
            self._take_keyboard()

    def _page_of(self, asked: Asked) -> QWidget:
        if self.beside_work.is_reading:
            return self.beside_work.reading
        pages: dict[Asked, QWidget] = {Asked.WHAT_WAITS: self.waiting, Asked.READ: self.table}
        return pages.get(asked, self.words)

    def _say_going_on(self, asked: Asked, around: WordsAround) -> None:
        if asked is Asked.WHAT_WAITS:
            n = len(self.waiting.model.rows)
            self.say_going_on(plural("{n} dry or begun", "{n} dry or begun", n) if n else "")
        else:
            self.say_going_on(table_words.going_on(self.state, around))

    def _has_keyboard(self) -> bool:
        """Return whether the keyboard is here, or nowhere: not where somebody types something else."""
        focus = QApplication.focusWidget()
        return focus is None or focus is self or self.isAncestorOf(focus)

    def _take_keyboard(self) -> None:
        focus = self.first_focus()
        if focus is not None:
            focus.setFocus(Qt.FocusReason.OtherFocusReason)
        elif self._pages.shown() is self.waiting:
            self.waiting.take_keyboard()

    def _keyboard_back(self) -> None:
        """A line that had the keyboard is gone: the row being typed has it."""
        if self.isVisible():
            self._take_keyboard()

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self.keeping.keep_now()

    # In hand

    def look_up_begins(self) -> None:
        """Take note that what is typed from now on is of what was scanned."""
        self.rows.look_up_begins()

    def keeps_what_is_typed_ahead(self) -> bool:
        """A new row typed after a scan is kept for what comes."""
        return self._pages.shown() is self.table and self.table.fields.has_keyboard()

    def has_typed_ahead(self) -> bool:
        """A row finished or begun since the scan: the next scan waits until it is known whose it is."""
        return self.rows.has_typed_ahead()

    def is_behind(self) -> bool:
        """Keys wait for the line that a key before them opens or has written, and for a reading that is opened."""
        return self.deeds.in_turn.wait or self.asking.is_answering() or self.beside_work.is_behind()

    def look_up_ended(self, found: bool) -> None:
        """Write the rows that were typed meanwhile, or let them wait where nothing was found."""
        self.rows.look_up_ended(found, readable=self.asked() is Asked.READ)
        if found and self.isVisible() and self._pages.shown() is self.table and not self.table.is_typed_in():
            self._take_keyboard()

    def show_in_hand(self, in_hand: object) -> None:
        """Take a container in hand; what was half typed for the one before stays with it."""
        super().show_in_hand(in_hand)
        dossier = in_hand if isinstance(in_hand, Dossier) else None
        same = self.state.is_in_hand(dossier) and not self.state.laid_aside
        if not same:
            self.asking.leave(dossier)
            self.refusals.clear()
            self.beside_work.is_reading = False
        self.rows.take(dossier)
        # Of what lies here already the news has told what to read; only where it stands may be new.
        self.stale |= not (same and self.asked() is Asked.READ and self.state.table is not None)
        self.show_state()
        self.refresh_if_shown()
        # A word begun since the scan goes on in its cell.
        if not same and self.isVisible() and dossier is not None and not self.rows.typed_ahead:
            self._take_keyboard()

    def _go_to_doubt(self) -> None:
        """Go to the next row in doubt; of what is settled ask why a row is decided against its rule."""
        if self._pages.shown() is not self.words:
            self.rows.go_to_doubt()
        elif self.read_last is not None and self.state.dossier and self.read_last.code == self.state.dossier.code:
            self.asking.ask_why(self.read_last.wanting_why)

    def _lay_aside(self) -> None:
        """Show what waits; what is in hand stays in hand, and what is half typed stays with it."""
        self.state.laid_aside, self.beside_work.is_reading = True, False
        self.asking.give_up()
        self.refusals.clear()
        self.show_state()
        self.refresh()

    def _act(self) -> None:
        """Do what the clay button of the words says."""
        asked = self.asked()
        if asked is Asked.NOT_DRY:
            self.deeds.begin_all_the_same()
        elif asked in (Asked.BAG, Asked.ONE_BAG):
            self.deeds.pack(sorted_here=asked is Asked.BAG)
        elif self.words.words.next_code:
            self.surroundings.take_in_hand.emit(self.words.words.next_code)

    # Wiring

    def _wire(self) -> None:
        self.waiting.chosen.connect(self.surroundings.take_in_hand)
        self.table.settle.clicked.connect(self.calls.settle)
        self.table.recount.clicked.connect(self.calls.ask_count)
        self.table.entries.chosen.connect(self.asking.ask_answer)
        for fields in (self.table.fields, self.table.edit):
            fields.take_back_wanted.connect(self.calls.take_back)
            fields.do_again_wanted.connect(self.calls.do_again)
            fields.pasted.connect(self.calls.paste)
        self.words.acted.connect(self._act)
        self.words.reopen_wanted.connect(self.asking.ask_reopen)
        self.words.reading_wanted.connect(self.beside_work.open_reading)
        for wanted in (self.table.what_waits.clicked, self.words.what_waits_wanted):
            wanted.connect(self._lay_aside)
        # What is one's own to take back is another's from now on.
        self.surroundings.seated.connect(self.refresh)
        self._clock = QTimer(self)
        self._clock.setInterval(_MINUTE_MS)
        self._clock.timeout.connect(self._minute_passed)
        self._clock.start()

    def _minute_passed(self) -> None:
        """What dries becomes dry while nobody does anything."""
        if self.isVisible() and self.asked() is not Asked.READ:
            self.refresh()

    def _shortcuts(self) -> None:
        more: dict[str, Callable[[], None]] = {
            "F2": self._go_to_doubt,
            "F11": self.beside_work.open_reading,
            "Ctrl+L": self._lay_aside,
        }
        bind_keys(self, self.calls.by_keys() | more)
