"""Lists on paper: each with a sentence of what it is for, printed with one press; above them what is asked of them."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.paper_kinds import DAY, DEPOSIT, MATERIAL, PAPERS, SEASON, PaperKind
from findsdesk.desk.shipped import routes
from findsdesk.ui.announcing import announce
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.day_field import DayField
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _

_ASKED_IN_WORDS = {DAY: N_("day"), DEPOSIT: N_("{deposit}"), MATERIAL: N_("material"), SEASON: N_("season")}


class Wanted(NamedTuple):
    """What is asked of a list; what does not concern it is passed over."""

    day: date | None
    deposit: str
    material: str
    season: str


class ListsPage(QWidget):
    """Made on the reading lane; where it is kept is asked."""

    wanted = Signal(str)
    """The key of a list."""

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = surroundings.theme
        self._say = surroundings.words
        self.buttons: dict[str, QPushButton] = {}
        self._words: dict[str, QLabel] = {}
        self._widths: dict[QWidget, int] = {}
        self.day, self.deposit, self.season = DayField(_("Day")), QLineEdit(), QLineEdit()
        self.day_said = labels.plain()
        """What is wrong with the day, below it."""
        labels.restyle(self.day_said, wrong=True)
        self.day_said.hide()
        self.day.textEdited.connect(lambda: self.day_said.hide())
        self.material = ChoiceBox()
        self._fill_materials()
        card = Card(surroundings.theme, _("Lists on paper"))
        card.body.addWidget(self._asked())
        card.body.addWidget(self.day_said)
        card.body.addLayout(self._lines())
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(card)
        layout.addStretch(1)
        self.theme.changed.connect(self._space)
        self._space()

    def _space(self) -> None:
        for field, wide in self._widths.items():
            field.setFixedWidth(self.theme.px(wide))

    def _fill_materials(self) -> None:
        self.material.addItem(_("all"), "")
        for key, route in routes().items():
            self.material.addItem(self._say(route.name), key)

    def _asked(self) -> QWidget:
        """Return the fields of what is asked, each with its name before it."""
        holder = QWidget()
        flow = FlowLayout(self.theme.px(14), self.theme.px(6))
        holder.setLayout(flow)
        for name, field, wide in (
            (_("Day"), self.day, 150),
            (self._say(N_("{Deposit}")), self.deposit, 110),
            (_("Material"), self.material, 170),
            (_("Season"), self.season, 110),
        ):
            field.setAccessibleName(name)
            self._widths[field] = wide
            pair = QWidget()
            row = QHBoxLayout(pair)
            row.setContentsMargins(0, 0, 0, 0)
            row.addWidget(labels.muted(name, wrap=False))
            row.addWidget(field)
            flow.addWidget(pair)
        return holder

    def _lines(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setColumnStretch(0, 1)
        for line, one in enumerate(PAPERS):
            words, button = labels.headed(), QPushButton(_("Print"))
            button.setAccessibleName(_("Print {name}").format(name=self._say(one.name)))
            button.clicked.connect(lambda _checked=False, key=one.key: self.wanted.emit(key))
            grid.addWidget(words, line, 0)
            grid.addWidget(button, line, 1)
            self.buttons[one.key], self._words[one.key] = button, words
        return grid

    def asked(self) -> Wanted | None:
        """Return what is asked; None where the day cannot be read, which takes the keyboard."""
        if self.day.unreadable():
            self.day.judge()
            said = _("“{said}” is no day. Write it as 2026-07-14 or 14.7.2026.").format(said=self.day.text().strip())
            self.day_said.setText(said)
            self.day_said.show()
            announce(self.day, said)
            self.day.setFocus()
            self.day.selectAll()
            return None
        material = str(self.material.currentData() or "")
        return Wanted(self.day.day(), self.deposit.text(), material, self.season.text())

    def show_missing(self, missing: int, around: WordsAround) -> None:
        """Say what each list is for and what may be asked of it, and how many containers are missing."""
        for one in PAPERS:
            self._words[one.key].setText(labels.rich(around.say(one.name), self._about(one, around)))
        many = N_("one {container} to search for") if missing == 1 else N_("{n} {containers} to search for")
        about = around.say(many if missing else N_("no {container} is missing now"), n=missing)
        one = next(one for one in PAPERS if one.key == "missing")
        self._words[one.key].setText(labels.rich(around.say(one.name), f"{self._about(one, around)} ({about})"))

    def _about(self, one: PaperKind, around: WordsAround) -> str:
        asks = ", ".join(around.say(_ASKED_IN_WORDS[name]) for name in one.asks)
        by = around.say(N_("(by {asks})"), asks=asks) if asks else ""
        return "  " + " ".join(part for part in (around.say(one.purpose), by) if part)

    def is_made(self, key: str | None) -> None:
        """Show which list is being made (None: none): its button calls it off, the others wait."""
        for name, button in self.buttons.items():
            button.setText(_("Call off") if name == key else _("Print"))
            button.setEnabled(key is None or name == key)
