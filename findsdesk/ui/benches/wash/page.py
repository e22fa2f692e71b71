"""The wash yard: scan the tag, type the count, Enter. Tubs and trays beside it, the rarer acts behind "More"."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.dossiers import Dossier
from findsdesk.desk.what_waits import waits
from findsdesk.domain.codes import Code
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.wash import yard_words
from findsdesk.ui.benches.wash.beside_the_tag import GramsRow, PaperTime
from findsdesk.ui.benches.wash.command_scans import answer_scan
from findsdesk.ui.benches.wash.letters import KEYS, letters
from findsdesk.ui.benches.wash.tag_stack import TagStack
from findsdesk.ui.benches.wash.tag_words import left_over_in_words
from findsdesk.ui.benches.wash.tag_work import TagWork
from findsdesk.ui.benches.wash.yard_words import HELD, YardNow, read_yard
from findsdesk.ui.next_step import work_ahead
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.big_line import FigureLine
from findsdesk.ui.widgets.dossier_facts import Caution
from findsdesk.ui.widgets.slips import CautionSlip
from findsdesk.ui.widgets.trays import Tray, Trays
from findsdesk.ui.widgets.tubs import Tub, Tubs
from findsdesk.ui.words_around import cautions_of
from findsdesk.words import N_, _, plural, put

NARROW, LOW = 760, 520
"""Pixels of the bench at 100 per cent under which the tag goes on top, its keypad beside the number."""
BESIDE = 560
"""Pixels of the bench at 100 per cent that the keypad needs beside the number."""
TAG_WIDTH = 358
BESIDE_THE_TUBS = 310
"""Pixels of the bench's height at 100 per cent that title, trays and the lines below take."""
ROOMY = 820
"""Pixels of the bench's height at 100 per cent from which there is room for large trays."""
FOLDED_BELOW = 1100
"""Pixels of the window at 100 per cent under which it folds the dossier: its cautions then stand on the bench."""
_MINUTE_MS = 60_000
_NO_LIMIT = (1 << 24) - 1
"""The toolkit's own largest width of a widget."""


class WashBench(Bench):
    """Tubs, trays, and the big tag on which the count is written."""

    key = "wash"
    kinds = frozenset({"container", "part", "step", "count", "excavation", "person", "word"})

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(surroundings, parent)
        self.now: YardNow | None = None
        self._drawn: tuple[list[Tub], list[Tray]] = ([], [])
        self._refused_beside = False
        self.tubs, self.trays = Tubs(self.theme), Trays(self.theme)
        self.tags = TagStack(surroundings)
        self.grams, self.paper = GramsRow(), PaperTime()
        self.work = TagWork(self, self.tags, self.grams, self.paper, self._follow)
        self.figures = FigureLine(self.theme)
        self.left_slip, self.caution_slip = CautionSlip(self.theme), CautionSlip(self.theme)
        self.dry_button = QPushButton()
        self.dry_button.setProperty("quiet", True)
        self._waiting = labels.muted(small=True)
        self._lay_out()
        self._wire()
        self._arrange()
        self.theme.changed.connect(self._arrange)
        self._clock = QTimer(self)
        self._clock.setInterval(_MINUTE_MS)
        self._clock.timeout.connect(self._minute_passed)
        self._clock.start()

    def title(self) -> str:
        return _("Wash yard")

    def what_waits(self) -> str:
        """Return how many soak, and how many of them too long."""
        now = waits(self.surroundings.desk)
        if now.soaking_too_long:
            return self.surroundings.words(N_("{n} soaking, {late} too long"), n=now.soaking, late=now.soaking_too_long)
        return plural("{n} soaking", "{n} soaking", now.soaking) if now.soaking else ""

    def refresh(self) -> None:
        desk = self.surroundings.desk
        self.read(lambda: read_yard(desk), self._show_yard, topic="yard")

    def look_up_begins(self) -> None:
        """Keep what is half typed apart from what is being looked up."""
        self.work.look_up_begins()

    def keeps_what_is_typed_ahead(self) -> bool:
        """The tag keeps a number typed after a scan for what comes."""
        return self.tags.has_keyboard() and not self.tags.in_quiet()

    def show_in_hand(self, in_hand: object) -> None:
        """Show a container on the tag; anything else is not this bench's."""
        super().show_in_hand(in_hand)
        self.work.show_in_hand(in_hand if isinstance(in_hand, Dossier) else None)

    def look_up_ended(self, found: bool) -> None:
        """Go on with what was found, or say what was typed for nothing."""
        self.work.look_up_ended(found)

    def take_code(self, code: Code) -> Answer | None:
        """Answer a scan of the command card or of a tub's card."""
        self.work.code_came()
        return answer_scan(self.work, code, yard_words.due(self.now) if self.now else ())

    def first_focus(self) -> QWidget | None:
        """Return the tag: numbers go there."""
        return self.tags.currentWidget()

    def keys(self) -> tuple[tuple[str, str], ...]:
        return tuple((key, put(words)) for key, words in KEYS)

    def refuse(self, refusal: Refusal) -> None:
        """Show a no on the bench and in the scan line, with its sound: eyes and hands are on the scanner."""
        super().refuse(refusal)
        self.surroundings.say(Answer(Tone.REFUSED, refusal.in_words(self.surroundings.terms)))

    # What is shown

    def _show_yard(self, now: YardNow) -> None:
        self.now = now
        self.work.state.settings, self.work.state.lists = now.around.settings, now.around.lists
        tubs, trays = yard_words.tubs_shown(now), yard_words.trays_shown(now)
        # Drawn again only when changed: whoever walks over them by keyboard keeps the place.
        if (tubs, trays) != self._drawn:
            self._drawn = (tubs, trays)
            self.tubs.show_tubs(tubs)
            self.trays.show_trays(trays)
        self.figures.show_figures(yard_words.figures(now))
        waiting = yard_words.waiting_line(now)
        self._waiting.setText(waiting)
        self._waiting.setVisible(bool(waiting) and self.refusals.isHidden())
        self.work.show()

    def _follow(self) -> None:
        """Let what stands beside the tag follow what is asked on it."""
        state = self.work.state
        self.tubs.choose(state.open_tub)
        self.left_slip.show_caution(left_over_in_words(state.left_over))
        self.caution_slip.show_caution(self._wash_caution())
        if self.now is not None:
            self.say_going_on(yard_words.going_on(self.now, state.open_tub))
            drying, due = yard_words.drying(self.now), yard_words.due(self.now)
            many = self.surroundings.words(N_("Dry: {n} due …"), n=len(due)) if due else _("Dry …")
            self.dry_button.setText(many)
            self.dry_button.setEnabled(bool(drying))

    def _wash_caution(self) -> Caution | None:
        """Return the caution of the work in hand where the dossier, which has it otherwise, is folded."""
        dossier = self.work.state.in_hand
        if not self.work.folded or dossier is None or not self.work.state.counting():
            return None
        return next(iter(cautions_of(dossier.route, work_ahead(dossier), self.work.around)), None)

    def _minute_passed(self) -> None:
        if self.isVisible() and self.surroundings.desk is not None:
            self.refresh()

    # By mouse and keyboard

    def _tub_pressed(self, tub: str) -> None:
        state = self.work.state
        if tub == HELD or (tub == state.open_tub and self.work.state.soak_now() is None):
            state.open_tub = ""
            self.work.show()
        else:
            self.work.trying(lambda: self.work.choose_tub(tub))
        self.tags.focus_face()

    def _tray_pressed(self, tray: str) -> None:
        code = yard_words.in_tray(self.now, tray) if self.now else ""
        if code:
            self.surroundings.take_in_hand.emit(code)

    def _ask_which_are_dry(self) -> None:
        if self.now is not None and (lying := yard_words.drying(self.now)):
            choices = tuple((code, words) for code, words, _due in lying)
            self.work.quiet.ask_which_are_dry(choices, yard_words.due(self.now))

    def _ask_which_tub(self) -> None:
        self.work.state.choosing_tub = True
        self.work.quiet.leave()
        self.work.show()
        self.tags.focus_face()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        do = self._letters.get(Qt.Key(event.key()))
        plain = not event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if do is not None and plain and (event.key() == Qt.Key.Key_Escape or not self.tags.in_quiet()):
            self.work.trying(do)
        elif self._is_mistyped(event):
            self.tags.add(event.text())
        else:
            super().keyPressEvent(event)

    def _is_mistyped(self, event: QKeyEvent) -> bool:
        """Return whether a letter that is no key of the bench was struck among the digits: it stays, to be refused."""
        text, modifiers = event.text(), event.modifiers() & ~Qt.KeyboardModifier.ShiftModifier
        letter = len(text) == 1 and text.isalpha() and modifiers == Qt.KeyboardModifier.NoModifier
        return letter and bool(self.tags.typed()) and self.tags.has_keyboard()

    # Layout

    def _lay_out(self) -> None:
        trays_head = QHBoxLayout()
        trays_head.addWidget(labels.group(_("Trays")), 1)
        trays_head.addWidget(self.dry_button)
        left = QVBoxLayout()
        left.addWidget(self.tubs, 100)
        left.addLayout(trays_head)
        for part in (self.trays, self._waiting, self.paper, self.left_slip, self.caution_slip):
            left.addWidget(part)
        self._below_trays = left.indexOf(self.paper)
        left.addStretch(1)
        right = QVBoxLayout()
        right.addWidget(self.tags, 1)
        right.addWidget(self.grams)
        self._right = QWidget()
        self._right.setLayout(right)
        right.setContentsMargins(0, 0, 0, 0)
        self._halves = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._halves.addLayout(left, 1)
        self._halves.addWidget(self._right)
        self._left = left
        self.body.addLayout(self._halves, 1)
        self.body.addWidget(self.figures)

    def _wire(self) -> None:
        self._letters = letters(self.work, self._ask_which_tub, self._ask_which_are_dry)
        self.tubs.tub_chosen.connect(self._tub_pressed)
        self.tubs.slip_chosen.connect(self.surroundings.take_in_hand)
        self.trays.chosen.connect(self._tray_pressed)
        self.dry_button.clicked.connect(self._ask_which_are_dry)
        self.refusals.installEventFilter(self)
        self.work.show_tag()

    def _arrange(self) -> None:
        """Put the tag beside the yard, or on top of it where the window is small."""
        px = self.theme.px
        self.work.folded = self.window().width() < px(FOLDED_BELOW)
        small = self.width() < px(NARROW) or self.height() < px(LOW)
        directions = QBoxLayout.Direction
        self._halves.setDirection(directions.BottomToTop if small else directions.LeftToRight)
        self._halves.setSpacing(px(18))
        self._left.setSpacing(px(8))
        self.tags.count_tag.lie_down(small and self.width() >= px(BESIDE))
        # As wide whatever is written on the tag: the yard beside it stays where it is.
        self._right.setMinimumWidth(0 if small else px(TAG_WIDTH))
        self._right.setMaximumWidth(_NO_LIMIT if small else px(TAG_WIDTH))
        self._stand_refusals_beside(not small)
        self.tubs.make_room(0 if small else max(0, self.height() - px(BESIDE_THE_TUBS)))
        self.trays.make_large(not small and self.height() >= px(ROOMY))
        self.work.show()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Let a no take the line of what waits while it stands."""
        if watched is self.refusals and event.type() in (QEvent.Type.ShowToParent, QEvent.Type.HideToParent):
            hidden = event.type() == QEvent.Type.HideToParent
            self._waiting.setVisible(bool(self._waiting.text()) and hidden)
        return False

    def _stand_refusals_beside(self, beside: bool) -> None:
        """Let a no stand where the tubs make room for it, so that nothing below is pushed out of sight."""
        if beside != self._refused_beside:
            self._refused_beside = beside
            self.stand_refusals(*((self._left, self._below_trays) if beside else ()))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()
