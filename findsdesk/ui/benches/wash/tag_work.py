"""The work on the big tag: what is scanned comes into hand, what is entered is written, nothing typed is lost."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import shiboken6
from PySide6.QtWidgets import QApplication, QWidget

from findsdesk.desk.dossiers import Dossier
from findsdesk.domain.numbers import read_pieces
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.wash.acts import Act, Count, Done
from findsdesk.ui.benches.wash.beside_the_tag import GramsRow, PaperTime
from findsdesk.ui.benches.wash.half_typed import HalfTyped
from findsdesk.ui.benches.wash.quiet_work import QuietWork
from findsdesk.ui.benches.wash.state import Asked, LeftOver, WashState, check_paper_time
from findsdesk.ui.benches.wash.tag_stack import TagStack
from findsdesk.ui.benches.wash.tag_words import count_facts, step_facts
from findsdesk.ui.words_around import WordsAround


class TagWork:
    """Joins what is in hand, what is typed and what is written. ``shown`` is called when the rest must follow."""

    def __init__(self, bench: Bench, tags: TagStack, grams: GramsRow, paper: PaperTime, shown: Callable[[], None]):
        self.bench = bench
        self.tags = tags
        self.grams = grams
        self.paper = paper
        self.state = WashState()
        self.half = HalfTyped()
        self.quiet = QuietWork(self)
        self._shown = shown
        self._keyboard_was: QWidget | None = None
        self.folded = False
        """Whether the dossier beside the bench is folded, with its cautions."""
        self._under_way: dict[Act, str] = {}
        self._by_code = False
        tags.entered.connect(self.enter)
        tags.acted.connect(lambda: self.trying(self.act))
        tags.other.connect(self.press)
        grams.entered.connect(tags.enter)

    @property
    def around(self) -> WordsAround:
        """Return what the texts of the tag stand in, at this moment."""
        return WordsAround.of(self.bench.surroundings.desk)

    def show(self) -> None:
        """Show what is asked now, unless "More" is open."""
        if not self.tags.in_quiet():
            self.show_tag()
        self._shown()

    def show_tag(self) -> None:
        """Show what is asked now on the tag."""
        dossier = self.state.in_hand
        if dossier is not None and self.state.counting():
            self.tags.show_count(count_facts(self.state, dossier, self.around))
        else:
            self.tags.show_step(step_facts(self.state, self.around, self.folded))

    def trying(self, call: Callable[[], None]) -> None:
        """Do something whose refusal stands on the bench."""
        try:
            call()
        except Refusal as refusal:
            self.bench.refuse(refusal)

    # What comes into hand

    def look_up_begins(self) -> None:
        """Take note of what is half typed: it is not for what comes."""
        visible = self.bench.isVisible()
        self.half.begin(self.tags.typed() if visible else "")
        if visible:
            self.tags.set_typed("")
            self.state.forget_what_was_answered()
            self._turn_to_tag()

    def _turn_to_tag(self) -> None:
        """Give the keyboard to the tag at once: what is typed after a scan is not another number to find."""
        if not self.tags.in_quiet() and not self.tags.has_keyboard():
            self._keyboard_was = QApplication.focusWidget()
            self.tags.focus_face()

    def _turn_back(self) -> None:
        """Give the keyboard back to where something was typed that was not found."""
        was, self._keyboard_was = self._keyboard_was, None
        if was is not None and shiboken6.isValid(was) and was.isVisible():
            was.setFocus()

    def show_in_hand(self, dossier: Dossier | None) -> None:
        """Take a container in hand, or show the one in hand as it stands now."""
        if self.quiet.takes(dossier):
            return
        if self.state.is_in_hand(dossier):
            self.state.in_hand = dossier
            self.show()
            return
        self.state.take(dossier, self.half.before())
        self.half.put_before("")
        self.quiet.leave()
        self.bench.refusals.clear()
        self.show()

    def code_came(self) -> None:
        """The look-up now ending found a place or a command, no container."""
        self._by_code = True

    def look_up_ended(self, found: bool) -> None:
        """Go on with what was found: an open tub takes it, an Enter that waited writes for it."""
        by_code, self._by_code = self._by_code, False
        ended = self.half.end()
        if found:
            self._keyboard_was = None
            self.state.lost_track = self.state.lost_track and by_code
        elif self.bench.isVisible():
            self.state.lost_track = True
            self._turn_back()
        if found and not by_code and self.bench.isVisible():
            self._scanned(ended.before)
        elif ended.before:
            self.tags.set_typed(self.half.give_back(ended.before, self.tags.typed()))
        if ended.entered is not None:
            self._enter_that_waited(ended.entered, found)

    def _scanned(self, before: str) -> None:
        """A container was scanned or chosen, perhaps the one in hand again: what was half typed for it comes back."""
        if self.tags.in_quiet():
            return
        if before:
            self.state.take(self.state.in_hand, before)
        self.state.begin_anew()
        self.state.comes_out(self.around.now)
        self.show()
        self.tags.focus_face()
        act = self.state.soak_now()
        if act is not None:
            self.trying(lambda: self.do(act))
        else:
            self._bring_back()

    def _bring_back(self) -> None:
        """Put a number on the tag that was typed for what is in hand and not written; a newer one is not touched."""
        typed = self.state.bring_back()
        if typed and not self.tags.typed() and not self.half.looking_up:
            self.tags.offer(typed)
        elif typed:
            self.state.left_over = None
        self._shown()

    def _enter_that_waited(self, digits: str, found: bool) -> None:
        if not found and digits:
            self.state.left_over = LeftOver(digits, "")
            self.show()
        elif found and digits:
            self.write_or_keep(digits)
        elif found and self.state.asked() is Asked.TREATMENT:
            self.trying(self.act)

    # What is written

    def enter(self, typed: str) -> None:
        """Take what was typed and Enter: a count, or a choice by its number; waits for what is being looked up."""
        self.tags.set_typed("")
        if self.half.looking_up:
            self.half.enter(typed)
        else:
            self.write_or_keep(typed)

    def write_or_keep(self, typed: str) -> None:
        """Write a number; where it is refused it goes back on the tag as it was typed."""
        try:
            self.write(typed)
        except Refusal as refusal:
            self.bench.refuse(refusal)
            self.tags.set_typed(self.half.give_back(typed, self.tags.typed()))

    def write(self, typed: str) -> None:
        """Write a number as the count or the choice it is; while a tub is filled it is the next container for it."""
        if self.state.means_a_container(typed):
            self.bench.surroundings.take_in_hand.emit(typed)
            return
        number = read_pieces(typed)
        if self.state.asked() is Asked.OPEN_TUB:
            self.choose_tub(str(number))
        else:
            self.do(self._act_of(number))

    def _act_of(self, number: int) -> Act:
        if self.state.counting():
            return self.state.count(number, self.grams.tenths(), self.grams.wet.isChecked())
        return self.state.choose(number)

    def act(self) -> None:
        """Press the clay button of a step: write the treatment, or that it is dry."""
        self.do(self.state.treat() if self.state.asked() is Asked.TREATMENT else self.state.dry())

    def press(self, key: str) -> None:
        """Do what the button of that key says."""
        if key == "more":
            self.quiet.show_list()
        elif key == "keep":
            self.leave()
        elif key == "dry":
            self.trying(lambda: self.do(self.state.dry()))
        else:
            self.trying(lambda: self.quiet.choose(key))

    def choose_tub(self, tub: str) -> None:
        """Put what is in hand into this tub if it is ready for one, and fill it from now on."""
        self.state.fill(tub)
        act = self.state.soak_now()
        if act is not None:
            self.do(act)
        self.show()

    def leave(self) -> None:
        """Go back: from "More", from a second count, from filling a tub."""
        if self.tags.in_quiet():
            self.quiet.leave()
        elif self.state.again or self.state.straight or self.state.choosing_tub:
            self.state.begin_anew()
        else:
            self.state.open_tub, self.state.left_over = "", None
        self.bench.refusals.clear()
        self.show()
        self.tags.focus_face()

    def do(self, act: Act) -> None:
        """Write an act; the same one under way is not written twice."""
        if act in self._under_way:
            return
        desk, moment = self.bench.surroundings.desk, self.paper.moment()
        check_paper_time(moment, self.around.now)
        self._under_way[act] = self.state.in_hand.number if self.state.in_hand else ""
        at = desk if moment is None else desk.at(moment)
        sure = replace(act, sure=True) if isinstance(act, Count) else None
        self.bench.deed(
            lambda: act.do(at),
            then=lambda done: self._written(act, done),
            lost=lambda: self._lost(act),
            sure=(lambda: sure.do(at)) if sure else None,
        )

    def _written(self, act: Act, done: Done) -> None:
        self._under_way.pop(act, None)
        if isinstance(act, Count):
            self.state.open_tub = ""
            self.grams.clear()
            if self._is_in_hand(act) and self.tags.typed() == str(act.pieces):
                # It was asked about first, and stood on the tag meanwhile.
                self.tags.set_typed("")
            self.state.forget_left_over(act.tag)
        self.state.written(done)
        self.quiet.leave()
        self.show()
        self.bench.surroundings.say(done.answer)
        if self.bench.isVisible() and not self.half.looking_up:
            self.tags.focus_face()

    def _lost(self, act: Act) -> None:
        """Nothing was written: a count goes back on the tag, or stays in words where another is in hand."""
        number = self._under_way.pop(act)
        if not isinstance(act, Count):
            return
        mine = self._is_in_hand(act) and self.state.counting()
        if mine and not self.tags.typed() and not self.half.looking_up:
            self.tags.set_typed(str(act.pieces))
        else:
            self.state.left_over = LeftOver(str(act.pieces), number, act.tag)
        self.show()

    def _is_in_hand(self, act: Count) -> bool:
        return self.state.in_hand is not None and self.state.in_hand.code == act.tag
