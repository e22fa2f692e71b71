"""The page of a deposit: what is known of it, what can be done with it, and the form of the act at hand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QBoxLayout, QFormLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.deposit_facts import DepositFacts, deposit_facts
from findsdesk.desk.desk import Desk
from findsdesk.desk.redoing import ThingToRedo, things_to_redo
from findsdesk.desk.renumbering import Renumbered
from findsdesk.desk.setting_up import people
from findsdesk.desk.squares import squares
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.registers.deposit_acts import ACTS, OPEN, DepositAct, Offered
from findsdesk.ui.benches.registers.deposit_form import DepositForm
from findsdesk.ui.benches.registers.deposit_words import (
    differences_in_words,
    done_in_words,
    facts_in_words,
    head_of,
    waits_in_words,
)
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import _


@dataclass(frozen=True, slots=True)
class _Read:
    """What one reading brings."""

    facts: DepositFacts
    offered: Offered
    to_redo: tuple[ThingToRedo, ...] = ()
    """All that waits to be written again, of any deposit."""


def _offered(desk: Desk) -> Offered:
    return Offered(squares(desk), tuple(person.name for person in people(desk) if person.active))


class DepositPart(QWidget):
    """Shows one deposit, or the form for a new one."""

    left = Signal()
    to_redo = Signal()
    """Somebody wants to see what is to be written again."""
    to_journal = Signal(object)
    """Somebody wants to see what was done with this deposit: its ``DepositFacts``."""
    sheet_wanted = Signal(object)
    """Somebody wants everything known of this deposit on paper: its ``DepositFacts``."""

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.bench = bench
        theme = bench.theme
        self.facts: DepositFacts | None = None
        self.offered = Offered()
        self.back = QPushButton(_("Back"))
        self.acts: dict[str, QPushButton] = {}
        self.journal = QPushButton(_("Its journal"))
        self.sheet = QPushButton(_("Print its sheet"))
        self.known = Card(theme)
        self.form = DepositForm(bench)
        self.done = labels.plain()
        self.redo = QPushButton(_("See what to write again"))
        self._lines: list[QWidget] = []
        self._said = ""
        """What the last act here brought about."""
        self._wire()
        self._lay_out()

    # What is shown

    def show_deposit(self, number: str) -> None:
        """Read a deposit by a number it has or once had, and show it."""
        desk = self.bench.surroundings.desk

        def read() -> _Read:
            return _Read(deposit_facts(desk, number), _offered(desk), things_to_redo(desk))

        self.bench.read(read, self._show, topic="deposit")

    def begin(self) -> None:
        """Show the form for a new deposit."""
        desk = self.bench.surroundings.desk

        def show(offered: Offered) -> None:
            self.facts, self.offered = None, offered
            self._say_done("", "")
            self.say_going_on()
            self._show_parts()
            self.form.begin(OPEN, None, offered)

        self.bench.read(lambda: _offered(desk), show, topic="deposit", opens=True)

    def say_going_on(self) -> None:
        """Write beside the bench's title which deposit this is."""
        self.bench.say_going_on(head_of(self.facts, self._around()) if self.facts else "")

    def reload(self) -> None:
        """Read the deposit again, where there is one; a form that somebody fills in stays."""
        if self.facts is not None:
            self.show_deposit(self.facts.named)

    def is_filling_in(self) -> bool:
        """Tell whether a form is open in which something was typed."""
        return self.form.act is not None and self.form.was_edited

    def take_container(self, number: str, deposit: str) -> bool:
        """Tick a container that was scanned, where containers are being split off its deposit."""
        here = self.facts is not None and self.facts.number == deposit
        return here and self.form.tick(number)

    def _show(self, read: _Read) -> None:
        other = self.facts is None or self.facts.id != read.facts.id
        self.facts, self.offered = read.facts, read.offered
        if other:
            self._said = ""
            self.form.leave()
        self._say_done(self._said, waits_in_words(read.to_redo, read.facts.number, self._around()))
        self.say_going_on()
        self._show_facts(read.facts)
        self._show_parts()
        for key, button in self.acts.items():
            act = next(one for one in ACTS if one.key == key)
            button.setVisible(act.allowed(read.facts))

    def _show_facts(self, facts: DepositFacts) -> None:
        while self._facts_form.rowCount():
            self._facts_form.removeRow(0)
        for what, said in facts_in_words(facts, self._around()):
            self._facts_form.addRow(labels.muted(what, wrap=False), labels.plain(said))

    def _show_parts(self) -> None:
        there = self.facts is not None
        self.known.setVisible(there)
        for button in (*self.acts.values(), self.journal, self.sheet):
            button.setVisible(there)

    # What somebody does

    def choose(self, act: DepositAct) -> None:
        """Open the form of an act; one without fields is done at once."""
        self._say_done("", "")
        self.bench.refusals.clear()
        if act.fields(self._around(), self.offered, self.facts):
            self.form.begin(act, self.facts, self.offered)
        else:
            self.form.leave()
            self._do(act, {}, self.acts[act.key])

    def _write(self) -> None:
        act, values = self.form.act, self.form.read()
        if act is not None and values is not None:
            self._do(act, values, self.form.write)

    def _do(self, act: DepositAct, values: dict[str, object], button: QWidget) -> None:
        desk, facts = self.bench.surroundings.desk, self.facts

        def work(sure: bool = False) -> DepositFacts | Renumbered:
            return act.do(desk, facts, values, sure)

        def then(done: DepositFacts | Renumbered) -> None:
            self._written(act, done)

        self.bench.deed(work, then=then, button=button, sure=lambda: work(sure=True))

    def _written(self, act: DepositAct, done: DepositFacts | Renumbered) -> None:
        facts = done.deposit if isinstance(done, Renumbered) else done
        said, again = done_in_words(act.key, done, self._around())
        self.form.leave()
        self.bench.surroundings.say(Answer(Tone.DONE, said, f": {again}" if again else ""))
        self.facts = facts
        self._show(_Read(facts, self.offered))
        self._say_done(said, again)
        self.bench.surroundings.open_thing.emit("deposit", facts.id)
        self.back.setFocus(Qt.FocusReason.OtherFocusReason)

    def refuse(self, refusal: Refusal) -> None:
        """Say more of a refusal where there is more: who changed what meanwhile; the next try builds upon that."""
        differences = refusal.facts.get("differences")
        if refusal.code == "changed_meanwhile" and isinstance(differences, tuple):
            self.form.say_note("\n".join(differences_in_words(differences, self._around())))
            self.reload()

    def _say_done(self, said: str, again: str) -> None:
        self._said = said
        self.done.setText(again or said)
        self.done.setVisible(bool(again or said))
        self.redo.setVisible(bool(again))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() != Qt.Key.Key_Escape:
            super().keyPressEvent(event)
        elif self.form.act is not None and self.facts is not None:
            self._leave_form()
        else:
            self.left.emit()

    def _leave_form(self) -> None:
        self.form.leave()
        self.bench.refusals.clear()
        if self.facts is None:
            self.left.emit()
        else:
            self.back.setFocus(Qt.FocusReason.OtherFocusReason)

    # Frame

    def make_wide(self, wide: bool) -> None:
        """Set the form beside what is known, or below it."""
        directions = QBoxLayout.Direction
        self._parts.setDirection(directions.LeftToRight if wide else directions.TopToBottom)

    def _around(self) -> WordsAround:
        return WordsAround.of(self.bench.surroundings.desk)

    def _say(self, text: str) -> str:
        return self.bench.surroundings.words(text)

    def _wire(self) -> None:
        self.back.clicked.connect(self.left)
        self.form.left.connect(self._leave_form)
        self.form.wanted.connect(self._write)
        self.redo.clicked.connect(self.to_redo)
        self.journal.clicked.connect(lambda: self.to_journal.emit(self.facts))
        self.sheet.clicked.connect(lambda: self.sheet_wanted.emit(self.facts))
        for act in ACTS:
            button = QPushButton(self._say(act.button))
            button.clicked.connect(self._chooser(act))
            self.acts[act.key] = button

    def _chooser(self, act: DepositAct) -> Callable[[], None]:
        return lambda: self.choose(act)

    def _lay_out(self) -> None:
        px = self.bench.theme.px
        self._acts = QWidget()
        flow = FlowLayout(px(8), px(6))
        self._acts.setLayout(flow)
        for button in (self.back, *self.acts.values(), self.journal, self.sheet):
            flow.addWidget(button)
        self._facts_form = QFormLayout()
        self._facts_form.setHorizontalSpacing(px(14))
        self.known.body.addLayout(self._facts_form)
        self.known.body.addWidget(self.done)
        self.known.body.addWidget(self.redo, alignment=Qt.AlignmentFlag.AlignLeading)
        self.known.body.addStretch(1)
        labels.restyle(self.done, agreed=True)
        self.done.hide()
        self.redo.hide()
        self._parts = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._parts.addWidget(self.known, 4)
        self._parts.addWidget(self.form, 5)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(px(10))
        whole.addWidget(self._acts)
        whole.addLayout(self._parts, 1)
