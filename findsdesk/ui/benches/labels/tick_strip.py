"""The strip below the marking list: how many, and what is ticked: written, slip bag, checked, found wrong."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QWidget

from findsdesk.desk.mark_lines import MarkLine
from findsdesk.domain.marking import NO_INK_IN_WORDS, NoInk, Tick
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.number_field import NumberField, pieces
from findsdesk.words import _, plural, put

KEYS = {"c": Tick.CHECKED, "s": Tick.SLIP, "w": Tick.WRONG}
"""Letters that tick while the keyboard is in the list or in the number; Enter ticks as written."""
AGAIN = "a"
"""The letter that ticks old marks as written again."""


@dataclass(frozen=True, slots=True)
class Ticked:
    """What somebody wants ticked on a line: how many (None: all, or as many as are to be checked), by whom, why."""

    kind: Tick
    pieces: int | None
    who: str
    why: NoInk
    again: bool = False
    """Whether old marks were written again, and not sherds that bear none."""


class WhoChoice(QWidget):
    """A name of the team after the words that say what the person does."""

    chosen = Signal(str)

    def __init__(self, theme: Theme, words: str, name: str) -> None:
        super().__init__()
        self.words, self.box = labels.plain(words, wrap=False), ChoiceBox()
        self.box.setAccessibleName(name)
        self.box.setSizeAdjustPolicy(ChoiceBox.SizeAdjustPolicy.AdjustToContents)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.px(6))
        row.addWidget(self.words)
        row.addWidget(self.box)
        self._wished = ""
        self.box.activated.connect(lambda _place: self.chosen.emit(self.box.currentText()))

    def choose(self, name: str) -> None:
        """Choose somebody who was chosen elsewhere for the same; where nobody is offered yet, once the team is."""
        self._wished = name
        place = self.box.findText(name)
        if place >= 0:
            self.box.setCurrentIndex(place)

    def show_people(self, people: Sequence[str], here: str) -> None:
        """Offer the team; whoever was chosen stays, at first it is who sits here."""
        if [self.box.itemText(place) for place in range(self.box.count())] == list(people):
            return
        said = self.box.currentText() or self._wished or here
        self.box.clear()
        self.box.addItems(list(people))
        self.box.setCurrentIndex(max(0, self.box.findText(said)))


class TickStrip(QWidget):
    """What is typed stays until it is written; each button says what it ticks with it."""

    wanted = Signal(object)
    """A ``Ticked``."""
    take_back = Signal()
    put_aside = Signal()
    """The number was given up."""

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = surroundings.theme
        self._line: MarkLine | None = None
        name = _("How many sherds; empty: as many as the button says")
        self.number = NumberField(pieces(), name, surroundings.terms)
        self.number.line.setPlaceholderText(_("number"))
        self.writer = WhoChoice(self.theme, _("written by"), _("Who writes"))
        self.checker = WhoChoice(self.theme, _("checked by"), _("Who checks"))
        """Both stand above the list: who writes is seldom who checks, and each stays chosen."""
        self.why = ChoiceBox()
        self.why.setAccessibleName(_("Why a slip"))
        for why, words in NO_INK_IN_WORDS.items():
            self.why.addItem(put(words), why)
        self.buttons = {kind: QPushButton() for kind in (Tick.WRITTEN, Tick.CHECKED, Tick.WRONG, Tick.SLIP)}
        self.again = QPushButton()
        self.again.setToolTip(_("The old mark was taken off, and what is true now was inked"))
        self.back = QPushButton(_("Take back"))
        self._flow = FlowLayout()
        self.setLayout(self._flow)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        written, checked, wrong, slip = self.buttons.values()
        for part in (self.number, written, self.again, slip, self.why, checked, wrong, self.back):
            self._flow.addWidget(part)
        for kind, button in self.buttons.items():
            button.clicked.connect(lambda _checked=False, kind=kind: self.ask(kind))
        self.again.clicked.connect(lambda: self.ask(Tick.WRITTEN, again=True))
        self.back.clicked.connect(self.take_back)
        self.number.entered.connect(lambda _value: self.enter())
        self.number.line.textChanged.connect(lambda _text: self._name_buttons())
        self.number.line.installEventFilter(self)
        self.show_line(None)
        self.space()

    def show_people(self, people: Sequence[str], here: str) -> None:
        """Offer the team for writing and for checking."""
        for choice in (self.writer, self.checker):
            choice.show_people(people, here)

    def show_line(self, line: MarkLine | None) -> str:
        """Say what each button does to the line under the cursor; returns a number that was typed for another line.

        Such a number is emptied: nobody counted it for this one.
        """
        before, self._line = self._line, line
        left_behind = ""
        if before is not None and (line is None or line.code != before.code):
            left_behind = self.number.line.text()
            self.clear_number()
        tally = line.tally if line else None
        self._name_buttons()
        self.buttons[Tick.WRITTEN].setEnabled(bool(tally and tally.room))
        self.buttons[Tick.SLIP].setEnabled(bool(tally and tally.room))
        unchecked = bool(tally and tally.written > tally.checked)
        self.buttons[Tick.CHECKED].setEnabled(unchecked)
        self.buttons[Tick.WRONG].setEnabled(unchecked)
        self.again.setVisible(bool(tally and tally.outdated))
        self.back.setEnabled(bool(tally and (tally.marked or tally.checked or tally.wrong)))
        return left_behind

    def _typed_number(self) -> int | None:
        try:
            return self.number.value()
        except Refusal:
            return None

    def _name_buttons(self) -> None:
        """Let each button say how many it ticks: what was typed, or what the line has left."""
        typed = self._typed_number()
        left, to_check = (self._line.tally.left, self._line.to_check) if self._line else (0, 0)
        again = self._line.tally.outdated if self._line else 0
        self.again.setText(plural("{n} written again", "{n} written again", typed or again))
        names = {
            Tick.WRITTEN: plural("{n} written", "All {n} written", left) if left else _("Written"),
            Tick.CHECKED: plural("{n} checked", "{n} checked", to_check) if to_check else _("Checked"),
            Tick.WRONG: plural("{n} wrong", "{n} wrong", typed or 1),
            Tick.SLIP: plural("{n} with a slip", "{n} with a slip", typed or 1),
        }
        if typed:
            names[Tick.WRITTEN] = plural("{n} written", "{n} written", typed)
            names[Tick.CHECKED] = plural("{n} checked", "{n} checked", typed)
        for kind, words in names.items():
            self.buttons[kind].setText(words)

    def enter(self) -> None:
        """Ask for what Enter means: written, or written again where no sherd is left without a mark."""
        tally = self._line.tally if self._line else None
        self.ask(Tick.WRITTEN, again=bool(tally and tally.outdated and not tally.left))

    def ask(self, kind: Tick, *, again: bool = False) -> None:
        """Ask for a tick with what stands in the strip; a number that is none takes the caret."""
        if not self.number.judge():
            self.select_number()
            return
        who = self.writer if kind in (Tick.WRITTEN, Tick.SLIP) else self.checker
        why = NoInk(self.why.currentData())
        self.wanted.emit(Ticked(kind, self.number.value(), who.box.currentText(), why, again))

    def key(self, text: str) -> bool:
        """Tick what a letter means; returns whether it means anything on this line."""
        kind = KEYS.get(text)
        if text == AGAIN and not self.again.isHidden():
            self.ask(Tick.WRITTEN, again=True)
        elif kind is not None:
            self.ask(kind)
        else:
            return False
        return True

    def type_number(self, digit: str) -> None:
        """Begin a number with a digit that was typed in the list."""
        self.number.line.setFocus()
        self.number.line.setText(digit)

    def clear_number(self) -> None:
        """Empty the number once it is written, or given up."""
        self.number.set_value(None)

    def select_number(self) -> None:
        """Lead to a number that was refused: the next digit begins another."""
        if self.number.line.text():
            self.number.line.setFocus()
            self.number.line.selectAll()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Let the letters of the list tick with the number that is being typed, and Escape give it up."""
        if not isinstance(event, QKeyEvent) or not self.number.line.text():
            return super().eventFilter(watched, event)
        letter = event.text().casefold()
        means = letter == AGAIN or letter in KEYS
        gives_up = event.key() == Qt.Key.Key_Escape
        if event.type() == QEvent.Type.ShortcutOverride and gives_up:
            event.accept()
        if event.type() != QEvent.Type.KeyPress or not (means or gives_up):
            return super().eventFilter(watched, event)
        if means:
            self.key(letter)
        else:
            self.clear_number()
            self.put_aside.emit()
        return True

    def space(self) -> None:
        """Set the gaps for the zoom in use; words and fields stand as high as the buttons."""
        self._flow.set_gaps(self.theme.px(6), self.theme.px(6))
        self.number.line.setFixedWidth(self.theme.px(82))
        height = self.back.sizeHint().height()
        for part in (self.number.line, self.why, self.writer.box, self.checker.box):
            part.setMinimumHeight(height)
