"""The big tag at check-in: the deposit as large as it goes, what else the list says, and what the tag says."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QLineEdit, QSizePolicy, QVBoxLayout, QWidget

from findsdesk.ui.bench import act_button
from findsdesk.ui.benches.check_in.state import ArrivalState, act_words
from findsdesk.ui.benches.check_in.tag_questions import OwnerPart, QuestionPart
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.theme import Type
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.dossier_facts import Caution
from findsdesk.ui.widgets.huge_number import HugeNumber
from findsdesk.ui.widgets.painting import fitted
from findsdesk.ui.widgets.paper_tag import PaperTag
from findsdesk.ui.widgets.slips import CautionSlip, EmptySlip
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _


class ArrivalTag(PaperTag):
    """Shows an ``ArrivalState``. Enter in its field agrees with the list, or writes what the tag says."""

    agreed = Signal()
    """Check it in, with what stands in the field."""
    answered = Signal(str)
    """The deposit it truly comes from."""
    attributed = Signal(str)
    """The number a find without a tag truly has."""

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(surroundings.theme, parent)
        self.surroundings = surroundings
        self.state: ArrivalState | None = None
        self._low = self._folded = False
        words = surroundings.words
        self.heading, self.aside = labels.bold(), labels.muted(wrap=False)
        self.deposit_word = labels.muted(words(N_("{Deposit}")), wrap=False)
        self.deposit = HugeNumber(self.theme)
        self.facts = [labels.plain(), labels.plain()]
        self.here = labels.headed()
        self.said_label = labels.plain(words(N_("The tag says another {deposit}:")))
        self.said = QLineEdit()
        self.said.setAccessibleName(words(N_("What the tag says, if it is another {deposit}")))
        self.said_label.setBuddy(self.said)
        self.material = ChoiceBox()
        self.material.setAccessibleName(_("Material"))
        self.act = act_button("")
        self.act.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.question = QuestionPart(surroundings)
        self.question.answered.connect(self.answered)
        self.owner = OwnerPart(surroundings)
        self.owner.attributed.connect(self.attributed)
        self.left_over: tuple[ArrivalState, str] | None = None
        """What was typed for a container and not written, when another came into hand."""
        self.left_slip = CautionSlip(self.theme)
        self.cautions: list[CautionSlip] = []
        self.empty = EmptySlip(
            self.theme,
            words(
                N_(
                    "Scan a tag from the pallet, or type its number. "
                    "Its {deposit} shows here, large enough to compare with the handwriting."
                )
            ),
        )
        self._wire()
        self._lay_out()
        self.show_state(None)

    def _wire(self) -> None:
        self.said.returnPressed.connect(self.agreed)
        self.said.textChanged.connect(self._say_act)
        self.act.clicked.connect(self.agreed)

    def offer_materials(self, materials: Sequence[tuple[str, str]]) -> None:
        """Offer these (key, name) as materials."""
        self.material.clear()
        for key, name in materials:
            self.material.addItem(name, key)

    def typed(self) -> str:
        """Return what was typed from the tag."""
        return self.said.text().strip()

    def chosen_material(self) -> str | None:
        """Return the material if somebody chose another than the list says."""
        chosen = self.material.currentData()
        return chosen if self.state and isinstance(chosen, str) and chosen != self.state.material else None

    def show_state(self, state: ArrivalState | None) -> None:
        """Show what is in hand; what was typed for another stays in words, and comes back with it."""
        if state is None or self.state is None or state.code != self.state.code:
            self._change_hands(state)
        before, self.state = self.state, state
        self._inside.setVisible(state is not None)
        self.empty.setVisible(state is None)
        if state is None:
            return
        self.heading.setText(state.title)
        self.aside.setText(state.aside)
        self.deposit.show_text(state.deposit or "?", f"{self.deposit_word.text()} {state.deposit or '?'}")
        for label, text in zip(self.facts, (*state.facts, "", "")[:2], strict=True):
            label.setText(text)
            label.setVisible(bool(text))
        self.here.setText(labels.rich(state.here, f". {state.next_step[:1].upper()}{state.next_step[1:]}."))
        self.here.setVisible(bool(state.here))
        fresh = before is None or before.code != state.code or before.material != state.material
        if fresh:
            self.material.setCurrentIndex(self.material.findData(state.material))
        words = N_("The tag says another {deposit}:") if state.deposit else N_("The {deposit} on the tag:")
        self.said_label.setText(self.surroundings.words(words))
        self._arriving.setVisible(state.may_arrive)
        self.question.show_question(state.question)
        self.owner.setVisible(state.provisional)
        self._show_cautions(state)
        self._say_act()

    def written(self, code: str) -> None:
        """What was typed for this container is written: it is asked for no longer."""
        if self.state is not None and self.state.code == code:
            self.said.clear()
        if self.left_over is not None and self.left_over[0].code == code:
            self._keep(None)

    def _change_hands(self, state: ArrivalState | None) -> None:
        if self.state is not None and self.typed():
            self._keep((self.state, self.typed()))
        self.said.clear()
        if state is not None and self.left_over is not None and self.left_over[0].code == state.code:
            self.said.setText(self.left_over[1])
            self.said.selectAll()
            self._keep(None)

    def _keep(self, left_over: tuple[ArrivalState, str] | None) -> None:
        """Say what was typed and not written, or no longer."""
        self.left_over = left_over
        if left_over is None:
            self.left_slip.show_caution(None)
            return
        facts = {"number": left_over[0].number, "typed": left_over[1]}
        say = self.surroundings.words
        self.left_slip.show_caution(
            Caution(
                say(N_("{typed} not written for {number}."), **facts),
                say(N_("Scan {number} again to write it."), **facts),
            )
        )

    def make_low(self, low: bool, wide: bool, folded: bool) -> None:
        """Arrange the tag for a low window, and its fields side by side where it is ``wide`` too.

        ``folded`` says that the dossier with its cautions is not in view.
        """
        directions = QBoxLayout.Direction
        self._low = low
        self._fields.setDirection(directions.LeftToRight if low and wide else directions.TopToBottom)
        self.deposit_word.setVisible(not low)
        self.deposit.make_low(low)
        for slip in self.cautions:
            slip.setVisible(folded)
        self._folded = folded
        self._space()

    def _show_cautions(self, state: ArrivalState) -> None:
        for slip in self.cautions:
            self._caution_column.removeWidget(slip)
            slip.hide()
            slip.deleteLater()
        self.cautions = [CautionSlip(self.theme, caution) for caution in state.cautions]
        for slip in self.cautions:
            self._caution_column.addWidget(slip)
            slip.setVisible(self._folded)

    def _say_act(self) -> None:
        if self.state is None:
            return
        around = WordsAround.of(self.surroundings.desk)
        self.act.setText(act_words(self.state, self.typed(), around))
        self.act.setProperty("act", self.state.may_arrive)
        self.act.style().unpolish(self.act)
        self.act.style().polish(self.act)
        self._enlarge_act()

    def _lay_out(self) -> None:
        self._inside = QWidget()
        column = QVBoxLayout(self._inside)
        column.setContentsMargins(0, 0, 0, 0)
        head = QHBoxLayout()
        head.addWidget(self.heading, 1)
        head.addWidget(self.aside)
        column.addLayout(head)
        column.addWidget(self.deposit_word)
        column.addWidget(self.deposit)
        for label in self.facts:
            column.addWidget(label)
        column.addWidget(self.here)
        self._arriving = QWidget()
        arriving = QBoxLayout(QBoxLayout.Direction.TopToBottom, self._arriving)
        arriving.setContentsMargins(0, 0, 0, 0)
        self._fields = arriving
        row = QHBoxLayout()
        row.addWidget(self.said_label, 1)
        row.addWidget(self.said, 1)
        arriving.addLayout(row)
        material_row = QHBoxLayout()
        material_row.addWidget(labels.plain(_("Material:")), 1)
        material_row.addWidget(self.material, 1)
        arriving.addLayout(material_row)
        column.addWidget(self._arriving)
        column.addWidget(self.act)
        column.addWidget(self.left_slip)
        column.addWidget(self.question)
        column.addWidget(self.owner)
        self._caution_column = QVBoxLayout()
        column.addLayout(self._caution_column)
        column.addStretch(1)
        self._column = column
        self._outer = QVBoxLayout(self)
        self._outer.addWidget(self.empty, 1)
        self._outer.addWidget(self._inside, 1)
        self._space()

    def _space(self) -> None:
        px, theme = self.theme.px, self.theme
        self._outer.setContentsMargins(px(36), px(8 if self._low else 20), px(20), px(8 if self._low else 16))
        self._column.setSpacing(px(4 if self._low else 8))
        self._fields.setSpacing(px(8))
        self.heading.setFont(theme.font(Type.TAG))
        for label in self.facts:
            label.setFont(theme.font(Type.LARGE if self._low else Type.TITLE))
        self._enlarge_act()

    def _enlarge_act(self) -> None:
        """Make the button large; the style sheet gives it its own least height whenever it is polished."""
        # As wide whatever is typed: neither the tag nor what stands beside it moves with each digit.
        room = max(1, self.act.width() - self.theme.px(28))
        self.act.setFont(fitted(self.theme.font(Type.TITLE), self.act.text(), room, self.theme.px(12)))
        self.act.setMinimumHeight(min(self.theme.target(), self.theme.px(60)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._enlarge_act()

    def _new_look(self) -> None:
        self._space()
        super()._new_look()
