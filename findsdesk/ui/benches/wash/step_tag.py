"""The big tag where no count is asked: what to do now, choices by number, and what was just written."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from findsdesk.ui.announcing import announce
from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.dossier_facts import Caution
from findsdesk.ui.widgets.painting import fitted, margins
from findsdesk.ui.widgets.paper_tag import PaperTag
from findsdesk.ui.widgets.slips import CautionSlip
from findsdesk.ui.widgets.typed_number import is_typed, with_character
from findsdesk.words import _


@dataclass(frozen=True, slots=True)
class StepFacts:
    """What stands on the tag; all texts are in words."""

    name: str = ""
    aside: str = ""
    large: str = ""
    """One large word or number: "132" after a count."""
    unit: str = ""
    """What the large number counts, beside it."""
    title: str = ""
    """In the size of a title: "Tray 15"."""
    lead: str = ""
    text: str = ""
    caution: Caution | None = None
    choices: tuple[str, ...] = ()
    first_act: str = ""
    """What the clay button says for the first choice, where that is more than its own words."""
    numbered: bool = True
    """Whether the number of a choice stands before its words; not where it is in them."""
    number_words: str = "{number}?"
    """What the clay button says for a number that is no choice."""
    choose_at_once: bool = False
    """Whether a choice's digit is taken without Enter; only where no number could be meant as a count."""
    act: str = ""
    """The clay button; empty for none."""
    enter_acts: bool = False
    """Whether Enter alone presses the clay button."""
    others: tuple[tuple[str, str], ...] = ()


class StepTag(PaperTag):
    """Takes a choice by its number and Enter, by mouse, or one act by its button."""

    chosen = Signal(str)
    """What was typed and Enter, or the number of a choice pressed: also what is no choice."""
    acted = Signal()
    other = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.facts = StepFacts()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._typed = ""
        self._name, self._aside = labels.bold(wrap=True), labels.muted(wrap=False)
        self._unit, self._large, self._title = labels.muted(wrap=False), labels.bold(), labels.title()
        self._title.setWordWrap(True)
        self._lead, self._text = labels.plain(), labels.plain()
        self._lead.setProperty("kind", "large")
        self._caution = CautionSlip(theme)
        self._choices: list[QPushButton] = []
        self._grid = QGridLayout()
        self.act_button = QPushButton()
        self.act_button.setProperty("act", True)
        self.act_button.setProperty("yard", "large")
        self.act_button.clicked.connect(self._press_act)
        self.act_button.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self._others = QHBoxLayout()
        self._lay_out()
        self._space()
        self.show_facts(self.facts)

    def show_facts(self, facts: StepFacts) -> None:
        """Show what to do now instead of what stood here before."""
        self.facts = facts
        for label, text in (
            (self._name, facts.name),
            (self._aside, facts.aside),
            (self._unit, facts.unit),
            (self._large, facts.large),
            (self._title, facts.title),
            (self._lead, facts.lead),
            (self._text, facts.text),
        ):
            label.setText(text)
            label.setVisible(bool(text))
        self._caution.show_caution(facts.caution)
        self._show_choices(facts.choices)
        self._show_others(facts.others)
        self.set_typed("")
        said = (facts.name, facts.large, facts.unit, facts.title, facts.lead, facts.text)
        announce(self, " ".join(part for part in said if part))

    def typed(self) -> str:
        """Return what was typed so far, as it was typed."""
        return self._typed

    def set_typed(self, typed: str) -> None:
        """Put a number on the tag as if it had been typed, or take it off."""
        self._typed = typed
        words = self._words_of(typed)
        self.act_button.setText(words)
        self._fit_act()
        self.act_button.setVisible(bool(words))
        for place, button in enumerate(self._choices, 1):
            button.setChecked(str(place) == typed)
        said = ", ".join(part for part in (self.facts.name, self.facts.lead, words) if part)
        self.setAccessibleName(said or _("What to do next"))

    def _fit_act(self) -> None:
        """Let long words on the clay button be smaller: the tag is as wide as it is."""
        font, words = self.theme.font(Type.KEY), self.act_button.text()
        size = fitted(font, words, max(1, self.width() - self.theme.px(100)), self.theme.px(12)).pixelSize()
        # In the words of a style: the style sheet gives such a button its size, against which no font that is set wins.
        self.act_button.setStyleSheet(f"font-size: {size}px")

    def enter(self) -> None:
        """Do what the Enter key does: write the choice typed, or press the button where Enter alone may."""
        typed = self._typed
        if typed:
            self.set_typed("")
            self.chosen.emit(typed)
        elif self.facts.act and self.facts.enter_acts:
            self.acted.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if is_typed(event.text()):
            self.add(event.text())
        elif event.key() == Qt.Key.Key_Backspace:
            self.set_typed(self._typed[:-1])
        elif event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Escape) and self._typed:
            self.set_typed("")
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.enter()
        else:
            super().keyPressEvent(event)

    def add(self, character: str) -> None:
        """Add one character to what was typed; a choice's digit is taken at once where that may be."""
        self.set_typed(with_character(self._typed, character))
        if self.facts.choose_at_once and self._choice(self._typed):
            self.enter()

    def _choice(self, typed: str) -> str:
        """Return the words of the choice that has this number, or nothing."""
        number = int(typed) if typed.isdecimal() else 0
        return self.facts.choices[number - 1] if 1 <= number <= len(self.facts.choices) else ""

    def _words_of(self, typed: str) -> str:
        """Return what the clay button says: the choice it would write, or the number that is none."""
        if not typed:
            return self.facts.act
        if typed == "1" and self.facts.first_act:
            return self.facts.first_act
        return self._choice(typed) or self.facts.number_words.replace("{number}", typed)

    def _press_act(self) -> None:
        if self._typed:
            self.enter()
        else:
            self.acted.emit()

    def _show_choices(self, choices: Sequence[str]) -> None:
        for button in self._choices:
            self._grid.removeWidget(button)
            button.hide()
            button.deleteLater()
        self._choices = []
        for place, words in enumerate(choices):
            button = QPushButton(f"{place + 1}  {words}" if self.facts.numbered else words)
            button.setProperty("yard", "plain")
            button.setCheckable(True)
            button.setMinimumHeight(self.theme.target())
            button.clicked.connect(lambda _checked=False, number=place + 1: self._press_choice(number))
            self._choices.append(button)
        self._arrange_choices()

    def _arrange_choices(self) -> None:
        """Set as many choices side by side as there is room for."""
        widest = max((button.sizeHint().width() for button in self._choices), default=1)
        columns = max(2, min(4, (self.width() - self.theme.px(56)) // (widest + self.theme.px(9))))
        for place, button in enumerate(self._choices):
            self._grid.addWidget(button, place // columns, place % columns)
        for column in range(4):
            self._grid.setColumnStretch(column, 1 if column < columns else 0)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit_act()
        self._arrange_choices()

    def _press_choice(self, number: int) -> None:
        self.set_typed("")
        self.chosen.emit(str(number))

    def _show_others(self, others: Sequence[tuple[str, str]]) -> None:
        while self._others.count():
            item = self._others.takeAt(0)
            button = item.widget() if item else None
            if button:
                button.hide()
                button.deleteLater()
        for key, words in others:
            made = QPushButton(words)
            made.setProperty("yard", "plain")
            made.clicked.connect(lambda _checked=False, key=key: self.other.emit(key))
            self._others.addWidget(made, 1)

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self._name, 1)
        head.addWidget(self._aside, alignment=Qt.AlignmentFlag.AlignTop)
        self._whole = QVBoxLayout(self)
        self._whole.addLayout(head)
        number = QHBoxLayout()
        number.addWidget(self._unit, 1, Qt.AlignmentFlag.AlignBottom)
        number.addWidget(self._large, alignment=Qt.AlignmentFlag.AlignBottom)
        self._whole.addLayout(number)
        for part in (self._title, self._lead, self._text, self._caution):
            self._whole.addWidget(part)
        self._whole.addLayout(self._grid)
        self._whole.addStretch(1)
        self._whole.addWidget(self.act_button)
        self._whole.addLayout(self._others)

    def _space(self) -> None:
        px, theme = self.theme.px, self.theme
        self._name.setFont(theme.font(Type.TAG))
        self._large.setFont(theme.font(Type.NUMBER))
        self._large.setAlignment(Qt.AlignmentFlag.AlignTrailing)
        self._fit_act()
        self.act_button.setMinimumHeight(max(px(58), theme.target()))
        for button in self._choices:
            button.setMinimumHeight(theme.target())
        self._unit.setContentsMargins(0, 0, 0, px(14))
        self._whole.setContentsMargins(margins(self, px(36), px(22), px(20), px(15)))
        self._whole.setSpacing(px(11))
        self._grid.setSpacing(px(9))
        self._others.setSpacing(px(10))

    def _new_look(self) -> None:
        self._space()
        super()._new_look()
