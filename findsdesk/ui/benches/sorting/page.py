"""The sorting table: somebody reads aloud, somebody types; the balance above, the last line large, no mouse needed."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QApplication, QPushButton, QStackedWidget, QWidget

from findsdesk.desk.dossiers import Dossier
from findsdesk.desk.sorting_table import EntryRow
from findsdesk.desk.the_day import waits
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.sorting import table_words
from findsdesk.ui.benches.sorting.ask_line import About, Answered
from findsdesk.ui.benches.sorting.askings import answer_asking, count_asking, explanation_asking, reopen_asking
from findsdesk.ui.benches.sorting.choices import WordLists
from findsdesk.ui.benches.sorting.reading import TableRead, read_table
from findsdesk.ui.benches.sorting.row_work import RowWork
from findsdesk.ui.benches.sorting.state import Asked, SortingState
from findsdesk.ui.benches.sorting.table_deeds import TableDeeds
from findsdesk.ui.benches.sorting.table_page import TablePage, table_keys
from findsdesk.ui.benches.sorting.waiting_page import WaitingPage
from findsdesk.ui.benches.sorting.word_page import WordPage, page_words
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import _, plural

_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class SortingBench(Bench):
    """A scan puts a container in hand; what is typed then is of it and of no other."""

    key = "sorting"
    kinds = frozenset(
        {"container", "sherd_group", "ledger_entry", "count", "step", "part", "bag", "ware", "excavation"}
    )

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(surroundings, parent)
        self.state = SortingState()
        self.read_last: TableRead | None = None
        self.table, self.words = TablePage(surroundings), WordPage(surroundings)
        self.waiting = WaitingPage(surroundings)
        self.deeds = TableDeeds(self, self.state, self.show_state, self.refresh)
        self.rows = RowWork(self.state, self.table, self.deeds, self.show_state)
        self._pages = QStackedWidget()
        for page in (self.waiting, self.words, self.table):
            self._pages.addWidget(page)
        self.body.addWidget(self._pages, 1)
        self._wire()
        self._shortcuts()
        self.show_state()

    def title(self) -> str:
        return _("Sorting table")

    def what_waits(self) -> str:
        dry = waits(self.surroundings.desk).dry_waiting
        return plural("{n} dry and waiting", "{n} dry and waiting", dry) if dry else ""

    def keys(self) -> tuple[tuple[str, str], ...]:
        more = (("F2", _("to a row that waits")), (_("Shift+Enter"), _("back")), ("Ctrl+L", _("what waits")))
        return (*table_keys(), *more)

    def first_focus(self) -> QWidget | None:
        page = self._pages.currentWidget()
        if page is self.table:
            return self.table.ask.first_focus() if self.table.ask.asking else self.rows.first_focus()
        if page is self.words:
            return self.words.first_focus()
        return self.waiting.table if self.waiting.model.rows else None

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
        asked, code = self.asked(), self.state.dossier.code if self.state.dossier else ""
        self.read(lambda: read_table(desk, asked, code), self._show_read, topic="table")

    def _show_read(self, read: TableRead) -> None:
        code = self.state.dossier.code if self.state.dossier else ""
        if (read.asked, read.code) != (self.asked(), code):
            self.refresh()
            return
        desk = self.surroundings.desk
        self.state.settings, self.state.terms = desk.facts.settings, desk.terms
        self.state.lists = WordLists.of(read.wares)
        self.table.fields.use_lists(self.state.lists)
        self.read_last = read
        if read.table is not None:
            self.state.show_table(read.table)
        self.waiting.show_waiting(read.waiting, WordsAround.of(desk))
        self.show_state()

    def show_state(self) -> None:
        """Show what the state says; what is being typed is not touched."""
        desk = self.surroundings.desk
        if desk is None:
            return
        asked, around = self.asked(), WordsAround.of(desk)
        page = self._page_of(asked)
        moved = page is not self._pages.currentWidget()
        had_keyboard = self._has_keyboard()
        if asked is Asked.READ:
            self.table.show_state(self.state, self.rows.changing, around)
        elif asked is not Asked.WHAT_WAITS:
            self.words.show_words(page_words(self.state, self.read_last, asked, around))
        self._pages.setCurrentWidget(page)
        self._say_going_on(asked, around)
        if self.isVisible() and had_keyboard and (moved or not self._has_keyboard()):
            self._take_keyboard()

    def _page_of(self, asked: Asked) -> QWidget:
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

    # In hand

    def look_up_begins(self) -> None:
        self.rows.look_up_begins()

    def look_up_ended(self, found: bool) -> None:
        self.rows.look_up_ended(found, readable=self.asked() is Asked.READ)

    def show_in_hand(self, in_hand: object) -> None:
        super().show_in_hand(in_hand)
        dossier = in_hand if isinstance(in_hand, Dossier) else None
        same = self.state.is_in_hand(dossier) and not self.state.laid_aside
        if not same:
            self._close_asking()
            self.refusals.clear()
        self.rows.take(dossier)
        self.stale = True
        self.show_state()
        self.refresh_if_shown()
        if not same and self.isVisible() and dossier is not None:
            self._take_keyboard()

    def _lay_aside(self) -> None:
        """Show what waits; what is in hand stays in hand, and what is half typed stays with it."""
        self.state.laid_aside = True
        self._close_asking()
        self.show_state()
        self.refresh()

    # What is asked in a line of its own

    def _ask_explanation(self, about: About) -> None:
        if self.asked() is Asked.READ:
            self.table.show_asking(True)
            self.table.ask.ask(explanation_asking(about, self.state))

    def _ask_count(self) -> None:
        if self.asked() is Asked.READ:
            self.table.show_asking(True)
            self.table.ask.ask(count_asking(self.state))

    def _ask_answer(self, entry: EntryRow) -> None:
        self.table.show_asking(True)
        self.table.ask.ask(answer_asking(entry))

    def _ask_reopen(self) -> None:
        self.words.ask.ask(reopen_asking(self.state, WordsAround.of(self.surroundings.desk)))

    def _answered(self, said: Answered) -> None:
        self.deeds.answer(said, self._close_asking)

    def _close_asking(self) -> None:
        """Take the asking line away; the row that was being typed is back as it was."""
        had_keyboard = self._has_keyboard()
        for line in (self.table.ask, self.words.ask):
            line.close_line()
        self.table.show_asking(False)
        if had_keyboard and self.isVisible():
            self._take_keyboard()

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
        self.table.settle.clicked.connect(self.deeds.settle)
        self.table.recount.clicked.connect(self._ask_count)
        self.table.entries.chosen.connect(self._ask_answer)
        self.table.fields.take_back_wanted.connect(self._take_back)
        self.words.acted.connect(self._act)
        self.words.reopen_wanted.connect(self._ask_reopen)
        for wanted in (self.table.what_waits.clicked, self.words.what_waits_wanted):
            wanted.connect(self._lay_aside)
        for line in (self.table.ask, self.words.ask):
            line.answered.connect(self._answered)
            line.left.connect(self._close_asking)

    def _shortcuts(self) -> None:
        for keys, call in (
            ("F2", self.rows.go_to_doubt),
            ("F4", self._next_decision),
            ("F5", self._ask_count),
            ("F6", lambda: self._ask_explanation(About.NOT_A_SHERD)),
            ("F7", lambda: self._ask_explanation(About.FOUND_MORE)),
            ("F8", lambda: self._ask_explanation(About.NOT_FOUND)),
            ("Ctrl+Z", self._take_back),
            ("Ctrl+Return", self._settle),
            ("Ctrl+Enter", self._settle),
            ("Ctrl+L", self._lay_aside),
        ):
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(call)

    def _next_decision(self) -> None:
        if self.asked() is Asked.READ and not self.table.ask.isVisible():
            self.table.fields.next_decision()

    def _take_back(self) -> None:
        if self.asked() is Asked.READ:
            self.deeds.take_back()

    def _settle(self) -> None:
        if self.asked() is Asked.READ:
            self.deeds.settle()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        button = QApplication.focusWidget()
        if event.key() in _ENTER and isinstance(button, QPushButton) and self.isAncestorOf(button):
            button.click()
            return
        super().keyPressEvent(event)
