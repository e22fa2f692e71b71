"""Check-in by scan: the deposit large, Enter agrees; the pallet beside it; field lists and finds without a tag."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from PySide6.QtWidgets import QBoxLayout, QPushButton, QStackedWidget, QWidget

from findsdesk.desk.checking_in import CheckedIn, answer_difference, check_in, close_delivery, delivery
from findsdesk.desk.dossiers import Dossier
from findsdesk.desk.field_lists import list_container
from findsdesk.desk.tags import IssuedTag, attribute, register_untagged
from findsdesk.desk.the_day import waits
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.check_in.arrival_tag import ArrivalTag
from findsdesk.ui.benches.check_in.listed_form import ListedForm
from findsdesk.ui.benches.check_in.pallet_card import PalletCard
from findsdesk.ui.benches.check_in.state import PalletState, arrival_state, arrived_answer, materials, pallet_state
from findsdesk.ui.benches.check_in.untagged_form import UntaggedForm
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.window import FOLD_BELOW
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, plural

_LOW = 480
"""Pixels of height, at 100 per cent, under which the tag makes itself low."""
_SIDE_BY_SIDE = 760
"""Pixels of width, at 100 per cent, under which the pallet stands below the tag."""


@dataclass(frozen=True, slots=True)
class _Shown:
    """What one reading brings."""

    state: PalletState
    day: date
    is_today: bool


class CheckInBench(Bench):
    """A scan shows what it is; Enter checks it in."""

    key = "check_in"

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(surroundings, parent)
        self._looking_up = False
        self._day: date | None = None
        self.tag = ArrivalTag(surroundings)
        words = surroundings.words
        self.type_row = QPushButton(_("Type a row of the list"))
        self.untagged_button = QPushButton(_("A find without a tag"))
        self.end_day = QPushButton(words(N_("End the day at the pallet")))
        self.pallet = PalletCard(surroundings, (self.type_row, self.untagged_button, self.end_day))
        self.untagged = UntaggedForm(surroundings)
        self.listed = ListedForm(surroundings)
        self._offer_materials()
        self._wire()
        self._lay_out()

    def title(self) -> str:
        return _("Check-in")

    def what_waits(self) -> str:
        waiting = waits(self.surroundings.desk)
        if waiting.questions:
            return plural("{n} question", "{n} questions", waiting.questions)
        return plural("{n} to come", "{n} to come", waiting.unaccounted) if waiting.unaccounted else ""

    def keys(self) -> tuple[tuple[str, str], ...]:
        return ((_("Enter"), _("check in what is in hand, as the field says")),)

    def first_focus(self) -> QWidget | None:
        return self.tag.said if self.tag.said.isVisible() else None

    def refresh(self) -> None:
        desk, wanted = self.surroundings.desk, self._day

        def work() -> _Shown:
            around = WordsAround.of(desk)
            day = wanted or around.today()
            return _Shown(pallet_state(delivery(desk, day), around), day, day == around.today())

        self.read(work, self.show_pallet, topic="pallet")

    def show_pallet(self, shown: _Shown) -> None:
        """Show the delivery that was read."""
        self.say_going_on(shown.state.going_on)
        self.pallet.show_state(shown.state, shown.day, is_today=shown.is_today)

    # In hand

    def look_up_begins(self) -> None:
        self._looking_up = True

    def look_up_ended(self, found: bool) -> None:
        self._looking_up = False

    def show_in_hand(self, in_hand: object) -> None:
        super().show_in_hand(in_hand)
        around = WordsAround.of(self.surroundings.desk)
        self.tag.show_state(arrival_state(in_hand, around) if isinstance(in_hand, Dossier) else None)
        if self.isVisible() and self.tag.said.isVisible() and not self._is_typing():
            self.tag.said.setFocus()

    def _is_typing(self) -> bool:
        """Tell whether somebody is filling in one of the forms beside the tag."""
        return self._beside.currentWidget() is not self.pallet

    # Deeds

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
        if self.tag.state is not None and self.tag.state.code == done.code:
            self.tag.said.clear()
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

    def _register(self) -> None:
        form, desk = self.untagged, self.surroundings.desk
        material = str(form.material.currentData())
        deposit, neighbours = form.deposit.text().strip(), form.neighbours.text().strip()
        self.deed(
            lambda: register_untagged(desk, material=material, deposit=deposit or None, neighbours=neighbours),
            then=self._registered,
            button=form.register,
        )

    def _registered(self, tag: IssuedTag) -> None:
        self.untagged.clear()
        self._show_beside(self.pallet)
        self.surroundings.take_in_hand.emit(tag.code)

    def _write_row(self) -> None:
        form, desk = self.listed, self.surroundings.desk
        if form.day.unreadable():
            form.day.setFocus()
            return
        number, deposit, day = form.number.text(), form.deposit.text(), form.day.day()
        supervisor, description = form.supervisor.text().strip(), form.description.text().strip()
        material = str(form.material.currentData())

        def work(sure: bool = False) -> IssuedTag:
            return list_container(
                desk,
                number,
                deposit=deposit,
                collected_on=day,
                supervisor=supervisor,
                material=material,
                description=description,
                sure=sure,
            )

        self.deed(work, then=self._row_written, button=form.write, sure=lambda: work(sure=True))

    def _row_written(self, tag: IssuedTag) -> None:
        self.listed.next_row()
        say = self.surroundings.words
        self.surroundings.say(Answer(Tone.DONE, say(N_("{Container} {number} is expected"), number=tag.number)))

    def _end_day(self) -> None:
        desk = self.surroundings.desk
        day = self._day or WordsAround.of(desk).today()
        self.deed(lambda: close_delivery(desk, day), then=self._day_ended, button=self.end_day)

    def _day_ended(self, missing: tuple[str, ...]) -> None:
        if missing:
            head = plural("{n} reported missing", "{n} reported missing", len(missing))
            self.surroundings.say(Answer(Tone.DONE, head, f": {', '.join(missing)}"))
        else:
            self.surroundings.say(Answer(Tone.DONE, _("Everything listed so far is here")))

    # Frame

    def _choose_day(self, day: date | None) -> None:
        self._day = day
        self.refresh()

    def _offer_materials(self) -> None:
        offered = materials(WordsAround.of(self.surroundings.desk))
        for form in (self.tag, self.untagged, self.listed):
            form.offer_materials(offered)

    def _begin_row(self) -> None:
        self._show_beside(self.listed)
        self.listed.begin(self._day or WordsAround.of(self.surroundings.desk).today())

    def _begin_untagged(self) -> None:
        self._show_beside(self.untagged)
        self.untagged.deposit.setFocus()

    def _show_beside(self, part: QWidget) -> None:
        self._beside.setCurrentWidget(part)
        if part is self.pallet:
            (self.first_focus() or self.pallet.table).setFocus()

    def _wire(self) -> None:
        self.tag.agreed.connect(self._agree)
        self.tag.answered.connect(self._answer)
        self.tag.attributed.connect(self._attribute)
        self.pallet.opened.connect(self.surroundings.take_in_hand)
        self.pallet.day_chosen.connect(self._choose_day)
        self.type_row.clicked.connect(self._begin_row)
        self.untagged_button.clicked.connect(self._begin_untagged)
        self.end_day.clicked.connect(self._end_day)
        self.untagged.wanted.connect(self._register)
        self.listed.wanted.connect(self._write_row)
        for form in (self.untagged, self.listed):
            form.left.connect(lambda: self._show_beside(self.pallet))

    def _lay_out(self) -> None:
        self._beside = QStackedWidget()
        for part in (self.pallet, self.untagged, self.listed):
            self._beside.addWidget(part)
        self._main = QWidget()
        self._parts = QBoxLayout(QBoxLayout.Direction.LeftToRight, self._main)
        self._parts.setContentsMargins(0, 0, 0, 0)
        self._parts.addWidget(self.tag, 4)
        self._parts.addWidget(self._beside, 5)
        self.body.addWidget(self._main, 1)

    def fit(self, width: int, height: int) -> None:
        directions = QBoxLayout.Direction
        wide = width >= self.theme.px(_SIDE_BY_SIDE)
        self._parts.setDirection(directions.LeftToRight if wide else directions.TopToBottom)
        self._parts.setSpacing(self.theme.px(14))
        self.tag.make_low(height < self.theme.px(_LOW), self.window().width() < self.theme.px(FOLD_BELOW))
