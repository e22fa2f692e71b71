"""Check-in by scan: the deposit large, Enter agrees; the pallet beside it; field lists and finds without a tag."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from PySide6.QtGui import QDragEnterEvent, QDropEvent, QShowEvent
from PySide6.QtWidgets import QBoxLayout, QWidget

from findsdesk.desk.checking_in import CheckedIn, answer_difference, check_in, delivery, delivery_day
from findsdesk.desk.dossiers import Dossier
from findsdesk.desk.new_containers import IssuedTag
from findsdesk.desk.rows_set_aside import rows_set_aside
from findsdesk.desk.untagged import attribute
from findsdesk.desk.what_waits import waits
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.check_in.arrival_tag import ArrivalTag
from findsdesk.ui.benches.check_in.aside_part import AsidePart
from findsdesk.ui.benches.check_in.beside import Beside
from findsdesk.ui.benches.check_in.lists_part import ListsPart
from findsdesk.ui.benches.check_in.state import PalletState, arrival_state, arrived_answer, materials, pallet_state
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets.one_of import OneOf
from findsdesk.ui.window import FOLD_BELOW
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, plural

_LOW = 480
"""Pixels of height, at 100 per cent, under which the tag makes itself low."""
_FIELDS_IN_A_ROW = 620
_SIDE_BY_SIDE = 760
"""Pixels of width, at 100 per cent, under which the pallet stands below the tag."""


@dataclass(frozen=True, slots=True)
class _Shown:
    """What one reading brings."""

    state: PalletState
    day: date
    is_today: bool
    set_aside: int


class CheckInBench(Bench):
    """A scan shows what it is; Enter checks it in."""

    key = "check_in"

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(surroundings, parent)
        self._looking_up = False
        self.tag = ArrivalTag(surroundings)
        self.tag.offer_materials(materials(WordsAround.of(surroundings.desk)))
        self.beside = Beside(self)
        self.pallet = self.beside.pallet
        self.lists = ListsPart(self)
        self.aside = AsidePart(self)
        self.setAcceptDrops(True)
        self._wire()
        self._lay_out()

    def title(self) -> str:
        return _("Check-in")

    def what_waits(self) -> str:
        """Return what is asked, rows of lists and containers apart as on the bench, or how many are still to come."""
        waiting = waits(self.surroundings.desk)
        if waiting.questions:
            rows = plural("{n} row aside", "{n} rows aside", waiting.rows_aside) if waiting.rows_aside else ""
            asked = plural("{n} asked", "{n} asked", waiting.asked) if waiting.asked else ""
            return ", ".join(part for part in (rows, asked) if part)
        return plural("{n} to come", "{n} to come", waiting.unaccounted) if waiting.unaccounted else ""

    def keys(self) -> tuple[tuple[str, str], ...]:
        return ((_("Enter"), _("check in what is in hand, as the field says")),)

    def first_focus(self) -> QWidget | None:
        """Return the field for what the tag says: Enter there checks in."""
        return self.tag.said if self.tag.said.isVisible() else None

    def refresh(self) -> None:
        desk, wanted = self.surroundings.desk, self.beside.day

        def work() -> _Shown:
            around = WordsAround.of(desk)
            day = wanted or delivery_day(desk)
            state = pallet_state(delivery(desk, day), around)
            return _Shown(state, day, day == around.today(), len(rows_set_aside(desk)))

        self.read(work, self.show_pallet, topic="pallet")
        if self._whole.shown() is self.aside:
            self.aside.refresh()

    def show_pallet(self, shown: _Shown) -> None:
        """Show the delivery that was read."""
        self.say_going_on(shown.state.going_on)
        self.beside.shown_day = shown.day
        self.pallet.show_state(shown.state, shown.day, is_today=shown.is_today)
        self.beside.show_questions(shown.set_aside)

    # In hand

    def look_up_begins(self) -> None:
        """Check nothing in until what is being looked up is on screen."""
        self._looking_up = True

    def look_up_ended(self, found: bool) -> None:
        """Let Enter check in again."""
        self._looking_up = False

    def show_in_hand(self, in_hand: object) -> None:
        """Show a container on the big tag; what else is in hand leaves it empty."""
        super().show_in_hand(in_hand)
        around = WordsAround.of(self.surroundings.desk)
        self.tag.show_state(arrival_state(in_hand, around) if isinstance(in_hand, Dossier) else None)
        if self.tag.said.isVisible() and not self.beside.filling_in():
            self.tag.said.setFocus()

    def _agree(self) -> None:
        state = self.tag.state
        # What is looked up is not on screen yet: nothing is checked in unseen.
        if state is None or self._looking_up:
            return
        desk, code, said, material = self.surroundings.desk, state.code, self.tag.typed(), self.tag.chosen_material()

        def work(sure: bool = False) -> CheckedIn:
            return check_in(desk, code, deposit=said or None, material=material, sure=sure)

        self.deed(work, then=self._arrived, button=self.tag.act, sure=lambda: work(sure=True))

    def _arrived(self, done: CheckedIn) -> None:
        self.tag.written(done.code)
        self.surroundings.say(arrived_answer(done, WordsAround.of(self.surroundings.desk)))

    def _answer(self, deposit: str) -> None:
        state, desk = self.tag.state, self.surroundings.desk
        if state is not None:
            code = state.code
            self.deed(lambda: answer_difference(desk, code, deposit=deposit), then=self._answered)

    def _answered(self, done: CheckedIn) -> None:
        say = self.surroundings.words
        words = say(N_("{Container} {number} is from {deposit} {said}"), number=done.number, said=done.deposit)
        self.surroundings.say(Answer(Tone.DONE, words))

    def _attribute(self, number: str) -> None:
        state, desk = self.tag.state, self.surroundings.desk
        if state is not None:
            code = state.code
            self.deed(lambda: attribute(desk, code, to=number, reason=_("recognised at the pallet")), then=self._owned)

    def _owned(self, tag: IssuedTag) -> None:
        say = self.surroundings.words
        self.surroundings.say(Answer(Tone.DONE, say(N_("It is {container} {number}"), number=tag.number)))

    # Field lists

    def take_files(self, paths: Sequence[Path]) -> None:
        """Look at field lists that were chosen or dropped."""
        if paths:
            self._whole.show_page(self.lists)
            self.lists.begin(paths)

    def _lists_done(self, taken: object) -> None:
        self._whole.show_page(self._main)
        self.refresh()

    def _show_aside(self) -> None:
        self._whole.show_page(self.aside)
        self.aside.table.setFocus()
        self.aside.refresh()

    def _leave_aside(self) -> None:
        self._lists_done(None)
        self.beside.questions.setFocus()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if any(url.isLocalFile() for url in event.mimeData().urls()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        event.acceptProposedAction()
        self.take_files([Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()])

    # Frame

    def _wire(self) -> None:
        self.tag.agreed.connect(self._agree)
        self.tag.answered.connect(self._answer)
        self.tag.attributed.connect(self._attribute)
        self.pallet.opened.connect(self.surroundings.take_in_hand)
        self.beside.lists.clicked.connect(lambda: self.take_files(self.lists.choose()))
        self.beside.questions.clicked.connect(self._show_aside)
        self.lists.done.connect(self._lists_done)
        self.aside.left.connect(self._leave_aside)

    def _lay_out(self) -> None:
        self._main = QWidget()
        self._parts = QBoxLayout(QBoxLayout.Direction.LeftToRight, self._main)
        self._parts.setContentsMargins(0, 0, 0, 0)
        self._parts.addWidget(self.tag, 3)
        self._parts.addWidget(self.beside, 5)
        self._whole = OneOf()
        for part in (self._main, self.lists, self.aside):
            self._whole.add_page(part)
        self.body.addWidget(self._whole, 1)

    def fit(self, width: int, height: int) -> None:
        directions = QBoxLayout.Direction
        wide = width >= self.theme.px(_SIDE_BY_SIDE)
        self._parts.setDirection(directions.LeftToRight if wide else directions.TopToBottom)
        self._parts.setSpacing(self.theme.px(14))
        folded = self.window().width() < self.theme.px(FOLD_BELOW)
        self.tag.make_low(height < self.theme.px(_LOW), width >= self.theme.px(_FIELDS_IN_A_ROW), folded)
        self.aside.make_wide(wide)

    def showEvent(self, event: QShowEvent) -> None:
        # While the bench was built it stood in no window yet, and could not tell how wide that is.
        self.fit(self.width(), self.height())
        super().showEvent(event)
