"""The strip below the marking list: how many, by whom, and what is ticked: written, slip bag, checked, found wrong."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QPushButton, QSizePolicy, QWidget

from findsdesk.desk.mark_lines import MarkLine
from findsdesk.domain.marking import NO_INK_IN_WORDS, NoInk, Tick
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.number_field import NumberField, pieces
from findsdesk.words import _, plural, put

KEYS = {"c": Tick.CHECKED, "s": Tick.SLIP, "w": Tick.WRONG}
"""Letters that tick while the keyboard is in the list or in the number; Enter ticks as written."""


@dataclass(frozen=True, slots=True)
class Ticked:
    """What somebody wants ticked on a line: how many (None: all, or as many as are to be checked), by whom, why."""

    kind: Tick
    pieces: int | None
    who: str
    why: NoInk


class TickStrip(QWidget):
    """What is typed stays until it is written; an empty number means all of it."""

    wanted = Signal(object)
    """A ``Ticked``."""
    take_back = Signal()
    put_aside = Signal()
    """The number was given up."""

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = surroundings.theme
        self.number = NumberField(pieces(), _("How many pieces; empty: all"), surroundings.terms)
        self.number.line.setPlaceholderText(_("all"))
        self.who = ChoiceBox()
        self.who.setAccessibleName(_("Who wrote or checked"))
        self.why = ChoiceBox()
        self.why.setAccessibleName(_("Why a slip"))
        for why, words in NO_INK_IN_WORDS.items():
            self.why.addItem(put(words), why)
        self.buttons = {
            Tick.WRITTEN: QPushButton(),
            Tick.CHECKED: QPushButton(),
            Tick.WRONG: QPushButton(_("Wrong")),
            Tick.SLIP: QPushButton(_("Slip bag")),
        }
        self.back = QPushButton(_("Take back"))
        """Stands at the foot of the page."""
        self._flow = FlowLayout()
        self.setLayout(self._flow)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        self._by = labels.plain(_("by"), wrap=False)
        written, checked, wrong, slip = self.buttons.values()
        for part in (self.number, self._by, self.who, written, checked, wrong, slip, self.why):
            self._flow.addWidget(part)
        for kind, button in self.buttons.items():
            button.clicked.connect(lambda _checked=False, kind=kind: self.ask(kind))
        self.back.clicked.connect(self.take_back)
        self.number.entered.connect(lambda _value: self.ask(Tick.WRITTEN))
        self.number.line.installEventFilter(self)
        self.who.setSizeAdjustPolicy(ChoiceBox.SizeAdjustPolicy.AdjustToContents)
        self.space()

    def show_people(self, people: Sequence[str], here: str) -> None:
        """Offer the team; whoever was chosen stays, at first it is who sits here."""
        if [self.who.itemText(place) for place in range(self.who.count())] == list(people):
            return
        said = self.who.currentText() or here
        self.who.clear()
        self.who.addItems(list(people))
        self.who.setCurrentIndex(max(0, self.who.findText(said)))

    def show_line(self, line: MarkLine | None) -> None:
        """Say what each button does to the line under the cursor."""
        left, to_check = (line.tally.left, line.to_check) if line else (0, 0)
        written = plural("{n} written", "All {n} written", left) if left else _("Written")
        checked = plural("{n} checked", "{n} checked", to_check) if to_check else _("Checked")
        self.buttons[Tick.WRITTEN].setText(written)
        self.buttons[Tick.CHECKED].setText(checked)
        tally = line.tally if line else None
        self.buttons[Tick.WRITTEN].setEnabled(bool(tally and tally.room))
        self.buttons[Tick.SLIP].setEnabled(bool(tally and tally.room))
        unchecked = bool(tally and tally.written > tally.checked)
        self.buttons[Tick.CHECKED].setEnabled(unchecked)
        self.buttons[Tick.WRONG].setEnabled(unchecked)
        self.back.setEnabled(bool(tally and (tally.marked or tally.checked or tally.wrong)))

    def ask(self, kind: Tick) -> None:
        """Ask for a tick with what stands in the strip; a number that is none takes the caret."""
        if not self.number.judge():
            self.select_number()
            return
        self.wanted.emit(Ticked(kind, self.number.value(), self.who.currentText(), NoInk(self.why.currentData())))

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
        kind = KEYS.get(event.text().casefold())
        gives_up = event.key() == Qt.Key.Key_Escape
        if event.type() == QEvent.Type.ShortcutOverride and gives_up:
            event.accept()
        if event.type() != QEvent.Type.KeyPress or not (kind or gives_up):
            return super().eventFilter(watched, event)
        if kind:
            self.ask(kind)
        else:
            self.clear_number()
            self.put_aside.emit()
        return True

    def space(self) -> None:
        """Set the gaps for the zoom in use; words and fields stand as high as the buttons."""
        self._flow.set_gaps(self.theme.px(6), self.theme.px(6))
        self.number.line.setFixedWidth(self.theme.px(56))
        height = self.back.sizeHint().height()
        for part in (self._by, self.number.line, self.who, self.why):
            part.setMinimumHeight(height)
