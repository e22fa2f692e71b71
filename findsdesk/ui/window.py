"""The window: rail, scan line, the open bench, dossier and foot; scans in, answers out."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QCloseEvent, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QApplication, QDialog, QHBoxLayout, QMainWindow, QStackedWidget, QVBoxLayout, QWidget

from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Answer, Found, Tone
from findsdesk.ui.changes import Thing
from findsdesk.ui.enter_presses import EnterPresses
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets.dossier import Dossier, DossierHandle
from findsdesk.ui.widgets.foot import Foot
from findsdesk.ui.widgets.rail import Rail, RailTag
from findsdesk.ui.widgets.scan_line import ScanLine
from findsdesk.ui.window_reads import WindowReads
from findsdesk.words import _, put

if TYPE_CHECKING:
    from findsdesk.ui.bench import Bench
    from findsdesk.ui.keys_page import KeysOf

FOLD_BELOW = 1100
"""Pixels of width, at 100 per cent, under which the dossier folds to a handle."""

_WHICH_SEASON = "which_season"
"""The refusal of an old mark that fits the finds of several seasons."""
_WORDS_BENCH = "registers"


class Window(QMainWindow):
    """The frame. Benches are handed in; none knows another; whatever leads from one to another goes through here."""

    look_up_begins = Signal()
    """Something was scanned or chosen and is about to be looked up."""
    bench_wished = Signal()
    """Somebody opens a bench that is not there yet."""
    bench_needed = Signal()
    """That bench is to be there at once."""

    def __init__(
        self,
        surroundings: Surroundings,
        benches: Sequence[Bench],
        reads: WindowReads,
        excavation: tuple[str, str] = ("", ""),
        parent: QWidget | None = None,
        tags: Sequence[RailTag] = (),
    ) -> None:
        """``tags`` are the benches of the rail where they are added later, with ``add_bench``."""
        super().__init__(parent)
        self.surroundings = surroundings
        self.theme = surroundings.theme
        self.benches: dict[str, Bench] = {}
        self.reads = reads
        self.found: Found | None = None
        self._looked_up = 0
        """How many scans are being looked up."""
        self._beside: Found | None = None
        """What the open bench shows that is not what is in hand."""
        self._words = ""
        """What was looked for by its words and waits for the bench that shows it."""
        self._not_told: set[str] = set()
        """Benches out of sight that were not told yet what is in hand."""
        self._passing: Answer | None = None
        """What was said of an act, or of a scan that came to nothing: it goes with the next act."""
        self._pulled = False
        self._has_shortcuts = False
        self.wished = ""
        """The key of a bench that somebody asked for before it was there."""
        surroundings.notices.parent = self
        EnterPresses(self)
        self._tags = tuple(tags) or tuple(RailTag(bench.key, bench.title()) for bench in benches)
        self.rail = Rail(self.theme, self._tags)
        self.show_excavation(*excavation)
        self.scan_line = ScanLine(self.theme)
        self.dossier = Dossier(self.theme)
        self.handle = DossierHandle(self.theme)
        self.foot = Foot(self.theme)
        self.stack = QStackedWidget()
        self._lay_out()
        self._wire()
        for bench in benches:
            self.add_bench(bench)
        if benches:
            self.open_bench(benches[0].key)
            self._read_frame(None)

    def show_excavation(self, name: str, season: str) -> None:
        """Write the excavation and its season on the rail and in the title."""
        self.setWindowTitle(" · ".join(part for part in (name, season, "FindsDesk") if part))
        self.rail.show_excavation(name, season)

    def add_bench(self, bench: Bench) -> None:
        """Add a bench; it opens at once if somebody asked for it before it was there."""
        self.benches[bench.key] = bench
        self.stack.addWidget(bench)
        if self.found is not None:
            bench.show_in_hand(self.found.thing)
        if bench.key == self.wished:
            self.open_bench(bench.key)
        if bench.key == _WORDS_BENCH:
            self._tell_words()

    def show_page(self, page: QWidget) -> None:
        """Show a page that is no bench, e.g. what stands there before a store is open."""
        if self.stack.indexOf(page) < 0:
            self.stack.addWidget(page)
        self.stack.setCurrentWidget(page)

    # Scans and what they find

    def on_scan(self, text: str) -> None:
        """Find what was scanned or typed and take it in hand; the look-up runs on the deed lane."""
        bench = self.bench_open()
        answer = bench.take_scan(text) if bench else None
        if answer is None:
            self._look_up(lambda: self.reads.find(text))
        else:
            self._answer(answer)

    def on_scan_again(self, text: str) -> None:
        """The same code came twice within two seconds: say so and do nothing."""
        self._say(Answer(Tone.ALREADY, _("Already scanned"), f": {text}"))

    def on_scan_blocked(self, text: str) -> None:
        """A scan came while a dialog was open: nothing is done with it, and that is said until it is closed."""
        self._passing = Answer(Tone.REFUSED, _("Scan received."), " " + _("Close the message first, then scan again."))
        self._answer(self._passing)
        dialog = QApplication.activeModalWidget()
        if isinstance(dialog, QDialog):
            dialog.finished.connect(self._let_pass)

    def open_thing(self, kind: str, number: object) -> None:
        """Take a thing in hand by kind and id."""
        self._look_up(lambda: self.reads.thing(kind, number))

    def show_found(self, found: Found, *, again: bool = False) -> None:
        """Show what is in hand in the dossier and on the open bench, without a sound; others hear it when opened.

        ``again``: it was in hand before, and what the open bench shows beside it stays.
        """
        self.found = found
        self._not_told = set(self.benches)
        self.show_beside(self._beside if again else None)
        if found.bench:
            self.open_bench(found.bench)
        self._tell_in_hand(self.bench_open())

    def show_anew(self, found: Found) -> None:
        """Show in the dossier what became of a box, place or loan in hand; benches hear the news of it themselves."""
        self.found = found
        for key, bench in self.benches.items():
            if key not in self._not_told:
                bench.in_hand = found.thing
        self.show_beside(self._beside)

    def show_beside(self, found: Found | None) -> None:
        """Show the dossier of what the open bench shows, without taking it in hand; None: of what is in hand."""
        self._beside = found
        shown = found or self.found
        self.dossier.show_facts(shown.dossier if shown else None)
        self.handle.show_title(self.dossier.title())

    def _tell_in_hand(self, bench: Bench | None) -> None:
        if bench is not None and bench.key in self._not_told and self.found is not None:
            self._not_told.discard(bench.key)
            bench.show_in_hand(self.found.thing)

    def _look_up(self, work: Callable[[], Found]) -> None:
        """Look something up on the deed lane; the benches are told, since what is typed meanwhile is for what comes."""
        self._looked_up += 1
        self.look_up_begins.emit()
        for bench in self.benches.values():
            bench.look_up_begins()
        self.surroundings.lanes.deed(work, then=self._take, refused=self._refuse_scan, failed=self._fail_scan)

    def _take(self, found: Found) -> None:
        from findsdesk.domain.codes import Code

        bench, answer = self.bench_open(), found.answer
        if found.words:
            self.show_words(found.words)
        elif isinstance(found.thing, Code):
            answer = (bench.take_code(found.thing) if bench else None) or answer
        elif taken := bench.take_beside(found.thing) if bench else None:
            answer = taken
        else:
            self.show_found(found)
        self._answer(answer)
        self._look_up_ended(found=not found.words)

    def show_words(self, words: str) -> None:
        """Show in the registers what holds these words; what is in hand stays."""
        self._words = words
        self.open_bench(_WORDS_BENCH)
        self._tell_words()

    def _tell_words(self) -> None:
        bench = self.benches.get(_WORDS_BENCH)
        if bench is not None and self._words:
            words, self._words = self._words, ""
            bench.show_words(words)

    def _refuse_scan(self, refusal: Refusal) -> None:
        self._passing = Answer(Tone.REFUSED, refusal.in_words(self.surroundings.terms))
        self._answer(self._passing)
        self._look_up_ended(found=False)
        field = self.scan_line.field
        if refusal.code == _WHICH_SEASON and field.hasFocus() and not field.text():
            # The season stands before the mark, to be taken by Enter or typed over.
            said = str(refusal.facts["example"])
            self.scan_line.propose(said, len(said.partition("/")[0]))

    def _say(self, answer: Answer) -> None:
        """Say what came of an act, until the next; that something was refused may be of what lies elsewhere by now."""
        self._passing = None if answer.tone is Tone.REFUSED else answer
        self._answer(answer)

    def _let_pass(self) -> None:
        """Something was written since: what was said before is old, and stands no longer on top."""
        if self._passing is not None and self.scan_line.answer is self._passing:
            self.scan_line.show_answer(Answer(Tone.PLAIN, ""))
        self._passing = None

    def _fail_scan(self, fault: BaseException) -> None:
        self._look_up_ended(found=False)
        self.surroundings.notices.failed(fault)

    def _look_up_ended(self, found: bool) -> None:
        self._looked_up -= 1
        for bench in self.benches.values():
            bench.look_up_ended(found)

    def keys_wait(self, writes: bool) -> bool:
        """Return whether a key pressed now would go to what was in hand or open before: it is for what comes.

        A bench may keep what is written for what comes; ``writes`` tells such a key from one that does something.
        """
        bench, elsewhere = self.bench_open(), QApplication.activeModalWidget() or QApplication.activePopupWidget()
        if bench is None or elsewhere is not None:
            return False
        if bench.is_behind():
            return True
        return self._looked_up > 0 and not (writes and bench.keeps_what_is_typed_ahead())

    def build_wished(self) -> None:
        """Let the bench that was opened be there at once, if it is not yet."""
        if self.wished:
            self.bench_needed.emit()

    def _answer(self, answer: Answer) -> None:
        self.scan_line.show_answer(answer, flash=True)
        self.surroundings.sounds.play(answer.tone)

    # Benches

    def open_bench(self, key: str, *, anew: bool = False) -> None:
        """Open the bench of that key, or take note to open it when it is added; ``anew``: an open one begins anew."""
        bench = self.benches.get(key)
        if anew and bench is not None and bench is self.bench_open():
            bench.begin_anew()
        self.wished = "" if bench else key
        if bench is None:
            self.bench_wished.emit()
            return
        self.rail.show_open(key)
        if bench is not self.bench_open():
            self.show_beside(None)
        self.stack.setCurrentWidget(bench)
        self._tell_in_hand(bench)
        self.dossier.set_extra(bench.dossier_part())
        bench.refresh_if_shown()
        self.keyboard_to_bench()

    def keyboard_to_bench(self) -> None:
        """Give the keyboard to the field that the open bench wants filled first, else to the scan line."""
        bench = self.bench_open()
        focus = (bench.first_focus() if bench else None) or self.scan_line.field
        focus.setFocus(Qt.FocusReason.OtherFocusReason)

    def bench_open(self) -> Bench | None:
        """Return the open bench."""
        shown = self.stack.currentWidget()
        return next((bench for bench in self.benches.values() if bench is shown), None)

    def _hear(self, touched: frozenset[Thing]) -> None:
        for bench in self.benches.values():
            bench.hear(touched)

    def read_frame(self) -> None:
        """Read again what waits at every bench, and the foot."""
        self._read_frame(None)

    def read_foot(self) -> None:
        """Read again the foot."""
        self.surroundings.lanes.read(self.reads.foot, then=self.foot.show_facts, topic="foot")

    def _read_frame(self, touched: frozenset[Thing] | None) -> None:
        concerned = [bench for bench in self.benches.values() if touched is None or bench.concerns(touched)]
        lanes = self.surroundings.lanes

        def waits() -> dict[str, str]:
            return {bench.key: bench.what_waits() for bench in concerned}

        lanes.read(waits, then=self.rail.show_waits)
        kinds = self.reads.foot_kinds
        if touched is None or not kinds or any(kind in kinds for kind, _number in touched):
            self.read_foot()

    def show_waits(self, waits: Mapping[str, str]) -> None:
        """Write what waits on the tags of the rail, by the key of the bench."""
        self.rail.show_waits(waits)

    # The frame

    def _lay_out(self) -> None:
        middle = QHBoxLayout()
        middle.setSpacing(0)
        middle.addWidget(self.stack, 1)
        middle.addWidget(self.dossier)
        middle.addWidget(self.handle)
        right = QVBoxLayout()
        right.setSpacing(0)
        right.addWidget(self.scan_line)
        right.addLayout(middle, 1)
        right.addWidget(self.foot)
        page = QWidget()
        whole = QHBoxLayout(page)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self.rail)
        whole.addLayout(right, 1)
        self.setCentralWidget(page)
        self.handle.show_title(self.dossier.title())
        self._fold()

    def _wire(self) -> None:
        around = self.surroundings
        self.rail.chosen.connect(lambda key: self.open_bench(key, anew=True))
        self.scan_line.entered.connect(self.on_scan)
        self.handle.pulled.connect(self._pull)
        around.changes.touched.connect(self._hear)
        around.changes.told_around.connect(self._read_frame)
        around.open_bench.connect(self.open_bench)
        around.open_thing.connect(self.open_thing)
        around.take_in_hand.connect(self.on_scan)
        around.show_found.connect(self.show_found)
        around.show_beside.connect(self.show_beside)
        around.said.connect(self._say)
        around.written.connect(self._let_pass)
        self.theme.changed.connect(self._fold)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not self._has_shortcuts:
            # After the first painting, which is waited for.
            self._has_shortcuts = True
            QTimer.singleShot(0, self, self._add_shortcuts)

    def _add_shortcuts(self) -> None:
        from findsdesk.ui.window_keys import add_shortcuts

        add_shortcuts(self, [tag.key for tag in self._tags])

    def keys(self) -> tuple[KeysOf, ...]:
        """Return the keys of the open bench and of the window, in the language of the window."""
        from findsdesk.ui.window_keys import KEYS

        bench = self.bench_open()
        own = tuple((key, put(words)) for key, words in KEYS)
        of_bench = ((bench.title(), tuple(bench.keys())),) if bench and bench.keys() else ()
        return (*of_bench, (_("Everywhere"), own))

    def show_keys(self) -> None:
        """Show the page of keys."""
        self.surroundings.notices.show_keys(self.keys())

    def _pull(self) -> None:
        self._pulled = not self._pulled
        self._fold()

    def _fold(self) -> None:
        narrow = self.width() < self.theme.px(FOLD_BELOW)
        self.handle.setVisible(narrow)
        self.dossier.setVisible(not narrow or self._pulled)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._fold()
        super().resizeEvent(event)

    def closeEvent(self, event: QCloseEvent) -> None:
        self.surroundings.changes.tell_last()
        super().closeEvent(event)
