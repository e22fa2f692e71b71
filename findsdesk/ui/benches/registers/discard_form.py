"""The form of one act on a discard list: the caution of those who carry, its fields, and which lines are meant."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.discard_lists import WholeList
from findsdesk.desk.shipped import cautions_at
from findsdesk.domain.cautions import At
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.registers.discard_acts import DiscardAct
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.dossier_facts import Caution
from findsdesk.ui.widgets.field_form import FieldForm
from findsdesk.ui.widgets.slips import CautionSlip
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, CountOf, _, grouped, plural


class DiscardForm(Card):
    """Hidden while no act is at hand. Nothing typed is lost when the act is refused or left, but for a PIN."""

    wanted = Signal()
    """The act is to be written."""
    left = Signal()

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench.theme, " ")
        self.bench = bench
        self.act: DiscardAct | None = None
        self._of: tuple[int, str] = (0, "")
        """Id of the list and key of the act at hand."""
        self._kept: dict[tuple[int, str], dict[str, Any]] = {}
        """What was typed for acts that were left before they were written."""
        self.fields: FieldForm | None = None
        self.cautions: list[CautionSlip] = []
        self.lines = labels.plain()
        self.write = act_button("")
        self.leave_it = QPushButton(_("Leave it"))
        self.write.clicked.connect(self.wanted)
        self.leave_it.clicked.connect(self.left)
        self._asked = QVBoxLayout()
        buttons = QHBoxLayout()
        buttons.addWidget(self.write)
        buttons.addWidget(self.leave_it)
        buttons.addStretch(1)
        self.body.addWidget(self.lines)
        self.body.addLayout(self._asked)
        self.body.addLayout(buttons)
        self.body.addStretch(1)
        self.hide()

    def begin(self, act: DiscardAct, whole: WholeList, signers: Sequence[str]) -> None:
        """Show the form of an act."""
        self.leave()
        around = WordsAround.of(self.bench.surroundings.desk)
        facts = whole.facts
        self.act, self._of = act, (facts.id, act.key)
        self.say_heading(around.say(act.title, number=facts.number))
        self.write.setEnabled(True)
        if not act.of_lines:
            self.write.setText(around.say(act.write, pieces=CountOf("{n} sherd", "{n} sherds", facts.pieces)))
        self.fields = FieldForm(self.bench.theme, act.fields(around, signers), around.terms)
        self.body.insertWidget(0, self.fields)
        self._fields_before_buttons(self.fields)
        if act.hurts:
            for one in reversed(cautions_at(At.DISCARD)):
                slip = CautionSlip(self.bench.theme, Caution(around.say(one.lead), around.say(one.text)))
                self.cautions.append(slip)
                self.body.insertWidget(0, slip)
        self.lines.setVisible(act.of_lines)
        self.fields.entered.connect(self.wanted)
        self.bench.stand_refusals(self._asked)
        self.show()
        self.fields.show_values(self._kept.pop(self._of, {}))
        # A name stands already, the only one or the first of the list: what is typed then is the PIN.
        self.fields.focus_field("pin" if "pin" in self.fields.entries and signers else self.fields.fields[0].key)

    def _fields_before_buttons(self, fields: FieldForm) -> None:
        """Let Tab go from field to field and on to the buttons: what is made later comes last of the window else."""
        before = self.write.previousInFocusChain()
        while before is not None and before.focusPolicy() is Qt.FocusPolicy.NoFocus and before is not self.write:
            before = before.previousInFocusChain()
        order = [fields.entries[field.key].widget for field in fields.fields]
        for one, following in pairwise(order if before is None else [before, *order]):
            QWidget.setTabOrder(one, following)

    def leave(self) -> None:
        """Put the form away; what was typed stays for when it is opened again."""
        if self.fields is not None and self.act is not None:
            self._kept[self._of] = {key: value for key, value in self.fields.peek().items() if key != "pin" and value}
        self.act = None
        gone = [*self.cautions, *([self.fields] if self.fields is not None else [])]
        for part in gone:
            self.body.removeWidget(part)
            part.hide()
            part.deleteLater()
        self.cautions, self.fields = [], None
        self.bench.stand_refusals()
        self.hide()

    def leave_written(self) -> None:
        """Put the form away after its act was written."""
        self.leave()
        self._kept.pop(self._of, None)

    def read(self) -> dict[str, Any] | None:
        """Return what was typed, or None while something in it is wrong."""
        return self.fields.read() if self.fields else None

    def forget_pin(self) -> None:
        """Empty the field of a PIN after it was not taken, and wait for it to be typed again."""
        if self.fields is not None and "pin" in self.fields.entries:
            self.fields.entries["pin"].clear()
            self.fields.entries["pin"].widget.setFocus()

    def say_lines(self, chosen: int, standing: int) -> None:
        """Say which lines are meant: those that are chosen, or the only one; of several some must be chosen."""
        if self.act is None or not self.act.of_lines:
            return
        n = chosen or (standing if standing == 1 else 0)
        self.write.setEnabled(n > 0)
        words = plural("{n} line", "{n} lines", n)
        self.write.setText(self.bench.surroundings.words(self.act.write, lines=words))
        said = N_("Chosen below: {n} of {all}.")
        if not n:
            said = N_("Choose lines below first; Ctrl+A there chooses all {all}.")
        self.lines.setText(self.bench.surroundings.words(said, n=grouped(n), all=grouped(standing)))
