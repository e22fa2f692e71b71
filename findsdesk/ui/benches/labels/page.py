"""Marks & labels: what waits at the left, the very sheet that is printed at the right, and the question afterwards."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut, QShowEvent
from PySide6.QtWidgets import QApplication, QWidget

from findsdesk.desk.dossiers import Dossier
from findsdesk.desk.label_contents import PrintKind
from findsdesk.desk.labels_waiting import labels_waiting
from findsdesk.desk.mark_sums import SORTED
from findsdesk.desk.other_labels import PaperOut, Which, papers_out
from findsdesk.domain.codes import Kind, could_be_code, read_code
from findsdesk.domain.marks import MARKED_MATERIALS
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Answer
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.labels import label_words
from findsdesk.ui.benches.labels.aside_work import AsideWork
from findsdesk.ui.benches.labels.label_deeds import LabelDeeds
from findsdesk.ui.benches.labels.layout import LabelsLayout
from findsdesk.ui.benches.labels.meeting_work import MeetingWork
from findsdesk.ui.benches.labels.papers_again import Reprint
from findsdesk.ui.benches.labels.printing_work import PrintingWork
from findsdesk.ui.benches.labels.reading import BenchRead, read_bench
from findsdesk.ui.benches.labels.rows import Row
from findsdesk.ui.benches.labels.state import LabelsState, Phase
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import _, plural


class LabelsBench(Bench):
    """Nothing counts as printed before somebody says that it came out well."""

    key = "labels"
    kinds = frozenset(
        {
            "container",
            "bag",
            "label_layout",
            "redo",
            "mark_entry",
            "count",
            "printing",
            "sherd_group",
            "deposit",
            "person",
            "excavation",
        }
    )

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(surroundings, parent)
        self.state = LabelsState()
        self.parts = LabelsLayout(surroundings, self.body)
        self.work = PrintingWork(self, self.state, self.show_state)
        self.meeting = MeetingWork(self, self.state, (self.parts.meet, self.parts.stock), self.work, self.show_state)
        self.aside = AsideWork(self, self.state, self.parts, self.work, self.show_state)
        self.deeds = LabelDeeds(self, self.state, self.parts, self.work, self._choose_row)
        self._shown_phase = Phase.LOOKING
        self._looking_up = False
        self._wire()
        self._shortcuts()
        self.show_state()

    def title(self) -> str:
        return _("Marks & labels")

    def what_waits(self) -> str:
        """Return what waits, for the rail: bags to label before containers to pack before what is written again."""
        waiting = labels_waiting(self.surroundings.desk)
        if waiting.bag_labels:
            return plural("{n} bag to label", "{n} bags to label", waiting.bag_labels)
        if waiting.to_pack:
            return plural("{n} to pack", "{n} to pack", waiting.to_pack)
        return plural("{n} to write again", "{n} to write again", waiting.again) if waiting.again else ""

    def keys(self) -> tuple[tuple[str, str], ...]:
        return (
            (_("Ctrl+Enter"), _("do the next act")),
            ("Ctrl+P", _("print")),
            ("Ctrl+S", _("save the PDF")),
            ("Ctrl+R", _("read back")),
            (_("Enter"), _("on the sheet: it begins here")),
            (_("Space"), _("on the sheet: used, or free; once printed: spoiled, or not")),
            ("1 2 3", _("why it is printed again")),
            (_("Enter"), _("on the marking list: all written; a number first: so many")),
            ("C W S", _("on the marking list: checked, found wrong, slip bag")),
            ("A", _("on the marking list: old marks written again")),
            (_("Backspace"), _("on the marking list: take the last tick back")),
        )

    def first_focus(self) -> QWidget | None:
        """Return the chosen line of the list."""
        return self.parts.what.take_keyboard()

    def fit(self, width: int, height: int) -> None:
        self.parts.fit(width, height)

    def _fit_again(self) -> None:
        """Arrange the parts anew for another zoom or palette."""
        self.parts.fit(self.width(), self.height())

    # Reading and showing

    def refresh(self) -> None:
        desk, wanted = self.surroundings.desk, self.state.wanted()
        self.read(lambda: read_bench(desk, wanted), self._show_read, topic="bench")

    def _show_read(self, read: BenchRead) -> None:
        if read.wanted != self.state.wanted():
            self.refresh()
            return
        others = self.state.show_read(read)
        before = self.state.wanted()
        self.state.turn_to_work()
        if self.state.wanted() != before:
            self.refresh()
            self._frame_follows()
        if others and self.state.kind is not None:
            self.work.lay_out()
        self.show_state()

    def show_state(self) -> None:
        """Show what the state says; what is being typed stays."""
        around = WordsAround.of(self.surroundings.desk)
        self.say_going_on(label_words.going_on(self.state))
        focus = QApplication.focusWidget()
        had_keyboard = self.isVisible() and (focus is None or self.isAncestorOf(focus))
        self.parts.show_state(self.state, self.work.picture, around)
        phase, self._shown_phase = self._shown_phase, self.state.phase
        if had_keyboard and phase is not self.state.phase:
            self._follow_phase()
        if self.work.print_next and self.state.reprint is not None and self.state.sheets is not None:
            self.work.print_next = False
            self.parts.press.print_button.setFocus(Qt.FocusReason.OtherFocusReason)

    def _frame_follows(self) -> None:
        """Where the bench turned to what waits, let the keyboard follow to the chosen line of the list."""
        what = self.parts.what
        what.show_rows(label_words.rows_in_words(self.state), self.state.row)
        if any(line.hasFocus() for line in what.lines.values()):
            what.take_keyboard().setFocus(Qt.FocusReason.OtherFocusReason)

    def _follow_phase(self) -> None:
        """Take the keyboard along: to the question, to the sheet where the spoiled ones are named, and back."""
        picture = self.parts.sheet.picture
        if self.state.phase is Phase.SPOILED:
            picture.go_to(self.state.first_placed())
        there = {Phase.OUT: self.parts.press.all_well, Phase.SPOILED: picture}
        there.get(self.state.phase, self.parts.what.take_keyboard()).setFocus(Qt.FocusReason.OtherFocusReason)

    # In hand

    def look_up_begins(self) -> None:
        """Take note that what comes in hand now was asked for."""
        self._looking_up = True

    def look_up_ended(self, found: bool) -> None:
        """Take note that what comes in hand from now on is news of it."""
        self._looking_up = False

    def show_in_hand(self, in_hand: object) -> None:
        """Take what is in hand: offer its papers again, or count a scanned label among the spoiled ones."""
        super().show_in_hand(in_hand)
        dossier = in_hand if isinstance(in_hand, Dossier) else None
        here = self._looking_up and self.isVisible() and self.state.may_offer() and self.state.phase is Phase.LOOKING
        self.state.take(dossier, asked=self._looking_up, here=here)
        self.show_state()
        self._read_papers_out(dossier)
        reads_marks = self.state.row in (Row.MARKS, Row.LISTS)
        if self._looking_up and self.isVisible() and self.state.row is Row.MARKS and dossier is not None:
            has_line = dossier.standing in SORTED and dossier.material in MARKED_MATERIALS
            self.parts.marks.go_to(self.state.code_in_hand(), dossier.deposit or "", has_line=has_line)
        elif self._looking_up and self.isVisible() and self.state.offered() and not reads_marks:
            next(iter(self.parts.again_offer.reasons.values())).setFocus(Qt.FocusReason.OtherFocusReason)

    def _read_papers_out(self, dossier: Dossier | None) -> None:
        """Look which slips and labels of pieces of what is in hand were printed, and gather what is asked of it."""
        if dossier is None or not self.isVisible():
            return
        desk, which = self.surroundings.desk, dossier.container_id

        def read(out: tuple[PaperOut, ...]) -> None:
            self.state.take_papers_out(which, out)
            self.show_state()

        self.read(lambda: papers_out(desk, which), read, topic="papers")
        if self.state.row is Row.OTHER and self.state.phase is Phase.LOOKING and self.state.reprint is None:
            self.refresh()

    def take_scan(self, text: str) -> Answer | None:
        """While the spoiled labels are named, a scan names one and takes nothing in hand; a click takes it back."""
        code = self._code_of(text) if self.state.phase is Phase.SPOILED else ""
        if not code:
            return None
        new, page = self.state.name_spoiled(code), self.state.page_of(code)
        if page is not None:
            self.work.turn(page - self.state.page)
        self.show_state()
        return label_words.named_spoiled(self.state, code, new)

    def _code_of(self, text: str) -> str:
        """Return the code of a find that was scanned; nothing where it is none, misread or a command."""
        try:
            code = read_code(text, self.surroundings.desk.facts.code) if could_be_code(text) else None
        except Refusal:
            return ""
        return code.text if code is not None and code.kind is not Kind.COMMAND else ""

    def _reason(self, reason: str) -> None:
        """Take one of the three reasons: of the spoiled labels, or of the paper that is offered."""
        paper = self.state.offered()
        if self.state.phase is Phase.SPOILED:
            self.work.spoiled_because(reason)
        elif paper is not None:
            self.work.print_again(Reprint(paper.kind, paper.codes, reason))

    def _reason_key(self, text: str) -> bool:
        """Take 1, 2 or 3 for a reason where one is asked; returns whether one was."""
        asked = self.state.phase is Phase.SPOILED or self.state.offered() is not None
        keys = {str(place): key for place, (key, _words) in enumerate(label_words.reasons(), start=1)}
        if not asked or text not in keys or self.refusals.is_asking():
            return False
        self._reason(keys[text])
        return True

    # What is done here

    def _choose_row(self, key: str) -> None:
        self.refusals.clear()
        self.state.choose_row(Row(key))
        self.work.picture = None
        self.show_state()
        focus = QApplication.focusWidget()
        if self.isVisible() and (focus is None or self.isAncestorOf(focus)):
            self.parts.what.take_keyboard().setFocus(Qt.FocusReason.OtherFocusReason)
        self.refresh()

    def _choose_other(self, kind: str, which: str = "") -> None:
        """Print another kind of label in the row of the others, or others of the kind."""
        self.refusals.clear()
        self.state.choose_other(PrintKind(kind), Which(which) if which else None)
        self.work.picture = None
        self.show_state()
        self.refresh()

    def _read_marks(self, deposit: object, done_too: bool) -> None:
        """Read other lines of the marking list."""
        self.state.marks_of, self.state.done_marks = deposit if isinstance(deposit, str) else None, done_too
        self.refresh()

    def _lead(self, where: str) -> None:
        kind, _space, name = where.partition(" ")
        if kind == "row":
            self._choose_row(name)
        else:
            self.surroundings.open_bench.emit(name)

    def _act(self) -> None:
        """Press the clay button that is shown."""
        button = self.parts.act(self.state)
        if button is not None and button.isVisible() and button.isEnabled():
            button.click()

    # Wiring

    def _wire(self) -> None:
        parts, work = self.parts, self.work
        self.theme.changed.connect(self._fit_again)
        parts.what.chosen.connect(self._choose_row)
        parts.stock.stock_chosen.connect(work.use_stock)
        parts.stock.begin_at.connect(work.begin_at)
        parts.stock.copies_wanted.connect(work.print_copies)
        parts.stock.printer_chosen.connect(self.meeting.use_printer)
        parts.stock.meet_wanted.connect(self.meeting.begin)
        parts.meet.page_wanted.connect(self.meeting.hand_out)
        parts.meet.keep_wanted.connect(self.meeting.keep)
        parts.meet.leave.clicked.connect(self.meeting.leave)
        picture = parts.sheet.picture
        picture.place_chosen.connect(work.press_place)
        picture.begin_here.connect(work.begin_at)
        picture.page_width_changed.connect(work.fit_width)
        parts.sheet.turned.connect(work.turn)
        parts.sheet.led_to.connect(self._lead)
        press = parts.press
        press.print_button.clicked.connect(work.print_out)
        press.view.clicked.connect(lambda: work.hand_out(True))
        parts.other.chosen.connect(self._choose_other)
        parts.meet.forget_wanted.connect(self.meeting.forget)
        press.save.clicked.connect(lambda: work.hand_out(False))
        press.read_back.clicked.connect(lambda: work.read_back())
        press.leave.clicked.connect(work.leave_reprint)
        press.all_well.clicked.connect(work.all_well)
        press.some_spoiled.clicked.connect(work.some_spoiled)
        for button in (press.not_printed, press.back):
            button.clicked.connect(work.back)
        press.reason_given.connect(self._reason)
        parts.again_offer.reason_given.connect(self._reason)
        parts.again_offer.paper_chosen.connect(self._choose_paper)
        parts.again_offer.dismissed.connect(self._dismiss)
        parts.tags.issue_wanted.connect(self.deeds.issue)
        parts.tags.group_chosen.connect(self.deeds.print_tags_of)
        parts.pack.pack.clicked.connect(self.deeds.pack)
        parts.pack.pack_one.clicked.connect(self.deeds.pack_one)
        parts.pack.chosen.connect(self.surroundings.take_in_hand)
        parts.again.print_wanted.connect(self.deeds.print_again)
        parts.again.written.connect(self.deeds.inked_again)
        parts.again.list_wanted.connect(lambda: self.deeds.print_list("to-write-again"))
        parts.marks.reading_wanted.connect(self._read_marks)
        parts.marks.list_wanted.connect(self.deeds.print_marks)
        parts.marks.tick_wanted.connect(self.deeds.tick_marks)
        parts.marks.back_wanted.connect(self.deeds.take_tick_back)
        parts.lists.wanted.connect(self.deeds.print_list)

    def _shortcuts(self) -> None:
        press = self.parts.press
        for keys, call in (
            ("Ctrl+Return", self._act),
            ("Ctrl+Enter", self._act),
            ("Ctrl+P", lambda: press.print_button.click() if press.print_button.isVisible() else None),
            ("Ctrl+S", lambda: press.save.click() if press.save.isVisible() else None),
            ("Ctrl+R", lambda: press.read_back.click() if press.read_back.isVisible() else None),
            ("PgUp", lambda: self.work.turn(-1)),
            ("PgDown", lambda: self.work.turn(1)),
        ):
            shortcut = QShortcut(QKeySequence(keys), self)
            # After a scan the keyboard may be in the scan line; of benches that are not shown no key is heard.
            acts = call == self._act
            contexts = Qt.ShortcutContext
            shortcut.setContext(contexts.WindowShortcut if acts else contexts.WidgetWithChildrenShortcut)
            shortcut.activated.connect(call)

    def _choose_paper(self, place: int) -> None:
        self.state.paper = place
        self.show_state()

    def _dismiss(self) -> None:
        self.state.dismissed = True
        self.show_state()

    def showEvent(self, event: QShowEvent) -> None:
        self.stale = True
        self.meeting.look_again()
        self.work.look_for_printers()
        super().showEvent(event)
        # After the bench was read and turned to what waits.
        QTimer.singleShot(0, self, self._open_wished)

    def _open_wished(self) -> None:
        """Show the labels that somebody asked for at another bench."""
        wished, self.surroundings.labels_wished = self.surroundings.labels_wished, ""
        if wished:
            self.state.look_for_work = False
            self._choose_row(Row.OTHER)
            self._choose_other(wished)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        # No shortcuts: a character may begin a scan, so it comes as a key that the scan filter has given back.
        if event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier or not self._reason_key(event.text()):
            super().keyPressEvent(event)
