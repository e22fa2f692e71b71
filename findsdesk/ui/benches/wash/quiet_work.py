"""The work behind "More": opening it, asking what an act needs, leaving it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from findsdesk.desk.cards import command_card
from findsdesk.desk.dossiers import Dossier
from findsdesk.ui.benches.wash.quiet_acts import QUIET_ACTS, Answers, Choices, QuietAct, possible, several_dry
from findsdesk.ui.benches.wash.tag_words import name_of
from findsdesk.ui.paper_out import hand_over
from findsdesk.words import _

if TYPE_CHECKING:
    from findsdesk.ui.benches.wash.tag_work import TagWork


class QuietWork:
    """Shows the list and the forms on the tag, and does what they say."""

    def __init__(self, work: TagWork) -> None:
        self.work = work
        self.asking: QuietAct | None = None
        tags = work.tags
        tags.quiet_list.chosen.connect(self._chosen)
        tags.quiet_list.left.connect(work.leave)
        tags.quiet_form.left.connect(work.leave)
        tags.quiet_form.asked_to_write.connect(self._write)
        tags.quiet_form.refused.connect(work.bench.refuse)

    def show_list(self) -> None:
        """Show what may be done now."""
        say = self.work.around.say
        acts = [(act.key, say(act.title)) for act in possible(self.work.state)]
        self.work.tags.quiet_list.show_acts(self._name(), acts)
        self._turn_to_list()

    def choose(self, key: str) -> None:
        """Do the act of that key, or ask first what it needs; refuses what may not be done."""
        act = next(one for one in QUIET_ACTS if one.key == key)
        questions = act.questions(self.work.state)
        if act.make is None:
            self._do_here(key)
        elif questions:
            self.ask(act)
        else:
            self.work.do(act.make(self.work.state, {}))

    def ask(self, act: QuietAct) -> None:
        """Show the questions of an act."""
        say, form = self.work.around.say, self.work.tags.quiet_form
        self.asking = act
        self.work.tags.setCurrentWidget(form)
        form.ask(self._name(), say(act.title).rstrip(" …"), act.questions(self.work.state), say(act.button))

    def ask_which_are_dry(self, choices: Choices, due: tuple[str, ...]) -> None:
        """Ask which of those in trays are dry, those due ticked."""
        self.ask(several_dry(choices))
        self.work.tags.quiet_form.tick("codes", due)

    def takes(self, dossier: Dossier | None) -> bool:
        """Return whether a scanned container answers a question of the open form instead of coming into hand."""
        tags = self.work.tags
        if dossier is None or tags.currentWidget() is not tags.quiet_form or not tags.quiet_form.wants_tag():
            return False
        if not self.work.state.is_in_hand(dossier):
            tags.quiet_form.take_tag(dossier.code, dossier.number)
        return True

    def leave(self) -> None:
        """Close the list or the form."""
        if self.work.tags.in_quiet():
            self.asking = None
            self.work.show_tag()

    def _turn_to_list(self) -> None:
        self.work.tags.setCurrentWidget(self.work.tags.quiet_list)
        self.work.tags.focus_face()

    def _name(self) -> str:
        dossier = self.work.state.in_hand
        return name_of(dossier, self.work.around) if dossier is not None else _("Nothing in hand")

    def _chosen(self, key: str) -> None:
        self.work.trying(lambda: self.choose(key))

    def _write(self, answers: Answers) -> None:
        act = self.asking
        if act is not None and act.make is not None:
            make = act.make
            self.work.trying(lambda: self.work.do(make(self.work.state, answers)))

    def _do_here(self, key: str) -> None:
        """Do what is no deed: change what is asked, show a row, print the card."""
        work = self.work
        if key == "again":
            work.state.begin_again()
        elif key == "straight":
            work.state.count_without_a_soak()
        elif key == "grams":
            work.grams.setVisible(work.grams.isHidden())
        elif key == "card":
            self._print_card()
        elif key == "wash_tags":
            work.bench.surroundings.open_bench.emit("labels")
        self.leave()
        work.show()
        work.tags.focus_face()
        if key == "paper":
            work.paper.begin(work.around)

    def _print_card(self) -> None:
        bench = self.work.bench
        desk = bench.surroundings.desk

        def keep(card: bytes) -> None:
            hand_over(bench.surroundings, card, _("command card"))

        bench.read(lambda: command_card(desk), keep, topic="card")
