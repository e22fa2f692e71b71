"""The form of one act on a deposit: its fields, the sum of levelling as it is typed, the containers to split off."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QAbstractItemView, QHBoxLayout, QListWidget, QListWidgetItem, QPushButton, QVBoxLayout

from findsdesk.desk.container_register import ContainerInRegister
from findsdesk.desk.deposit_facts import DepositFacts
from findsdesk.desk.registers import Register, RegisterQuery, page
from findsdesk.domain.deposits import KINDS
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.registers.deposit_acts import DepositAct, Offered
from findsdesk.ui.benches.registers.deposit_words import levelling_in_words
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.field_form import FieldForm
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, grouped

MOST_TO_TICK = 2_000
_ELEVATIONS = ("opening_mm", "closing_mm")


class DepositForm(Card):
    """Hidden while no act is at hand. Nothing typed is lost when the act is refused."""

    wanted = Signal()
    """The act is to be written."""
    left = Signal()

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench.theme, " ")
        self.bench = bench
        self.act: DepositAct | None = None
        self.was_edited = False
        self.fields: FieldForm | None = None
        self.containers = QListWidget()
        self.containers.setProperty("rows", True)
        self.containers.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.containers.itemChanged.connect(self._ticked)
        self.chosen = labels.muted(small=True)
        self.note = labels.plain()
        labels.restyle(self.note, wrong=True)
        self.write = act_button("")
        self.leave_it = QPushButton(_("Leave it"))
        self.write.clicked.connect(self.wanted)
        self.leave_it.clicked.connect(self.left)
        buttons = QHBoxLayout()
        buttons.addWidget(self.write)
        buttons.addWidget(self.leave_it)
        buttons.addStretch(1)
        for part in (self.containers, self.chosen, self.note):
            self.body.addWidget(part, 1 if part is self.containers else 0)
        self._asked = QVBoxLayout()
        self.body.addLayout(self._asked)
        self.body.addLayout(buttons)
        self.body.addStretch(1)
        self.hide()

    def begin(self, act: DepositAct, facts: DepositFacts | None, offered: Offered) -> None:
        """Show the form of an act, filled with what the deposit says."""
        self.leave()
        around = WordsAround.of(self.bench.surroundings.desk)
        self.act, self.was_edited = act, False
        number = facts.number if facts else ""
        self.say_heading(around.say(act.title, number=number))
        self.write.setText(around.say(act.write, number=number))
        self.fields = FieldForm(self.bench.theme, act.fields(around, offered, facts), around.terms)
        self.body.insertWidget(0, self.fields)
        if facts is not None:
            self.fields.show_values(act.shown(facts))
        self._propose()
        self.fields.edited.connect(self._edited)
        self.fields.entered.connect(self.wanted)
        self.say_note("")
        self.containers.setVisible(act.wants_containers)
        self.chosen.setVisible(act.wants_containers)
        if act.wants_containers and facts is not None:
            self._read_containers(facts)
        self.bench.stand_refusals(self._asked)
        self.show()
        self.fields.focus_first()

    def leave(self) -> None:
        """Put the form away."""
        self.act, self.was_edited = None, False
        if self.fields is not None:
            self.body.removeWidget(self.fields)
            self.fields.hide()
            self.fields.deleteLater()
            self.fields = None
        self.containers.clear()
        self.bench.stand_refusals()
        self.hide()

    def read(self) -> dict[str, Any] | None:
        """Return what was typed and ticked, or None while something in it is wrong."""
        values = self.fields.read() if self.fields else None
        if values is not None and self.act is not None and self.act.wants_containers:
            values["containers"] = tuple(self._codes())
        return values

    def say_note(self, text: str) -> None:
        """Write below the fields what is to be looked at before it is tried again."""
        self.note.setText(text)
        self.note.setVisible(bool(text))

    # Containers to split off

    def tick(self, number: str) -> bool:
        """Tick the container of a number; returns whether it stands here."""
        for item in self._items():
            if item.data(Qt.ItemDataRole.UserRole + 1) == number and self.containers.isVisibleTo(self):
                item.setCheckState(Qt.CheckState.Checked)
                self.containers.scrollToItem(item)
                return True
        return False

    def _items(self) -> list[QListWidgetItem]:
        return [self.containers.item(row) for row in range(self.containers.count())]

    def _codes(self) -> list[str]:
        checked = Qt.CheckState.Checked
        return [str(item.data(Qt.ItemDataRole.UserRole)) for item in self._items() if item.checkState() == checked]

    def _read_containers(self, facts: DepositFacts) -> None:
        desk = self.bench.surroundings.desk
        query = RegisterQuery(filters=(("deposit", facts.number),), sort="number")
        self.containers.setAccessibleName(
            self.bench.surroundings.words(N_("{Containers} of {deposit} {number}"), number=facts.number)
        )
        self.bench.read(
            lambda: page(desk, Register.CONTAINERS, query, 0, MOST_TO_TICK), self._show_containers, topic="split"
        )

    def _show_containers(self, rows: tuple[ContainerInRegister, ...]) -> None:
        self.containers.blockSignals(True)
        self.containers.clear()
        for row in rows:
            parts = (
                row.number,
                row.material,
                row.collected_on.isoformat() if row.collected_on else "",
                row.description,
            )
            item = QListWidgetItem(" · ".join(part for part in parts if part))
            item.setData(Qt.ItemDataRole.UserRole, row.code)
            item.setData(Qt.ItemDataRole.UserRole + 1, row.number)
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            item.setCheckState(Qt.CheckState.Unchecked)
            self.containers.addItem(item)
        self.containers.blockSignals(False)
        if rows:
            self.containers.setCurrentRow(0)
        self._say_chosen()

    def _ticked(self, _item: QListWidgetItem) -> None:
        self.was_edited = True
        self._say_chosen()

    def _say_chosen(self) -> None:
        words = N_("Ticked: {n} of {all}. Space ticks; a scanned tag ticks its own.")
        n, everything = len(self._codes()), self.containers.count()
        self.chosen.setText(self.bench.surroundings.words(words, n=grouped(n), all=grouped(everything)))

    # What follows from what is typed

    def _propose(self) -> None:
        """Propose today where a day of opening or closing is asked for, and the commonest kind."""
        today = WordsAround.of(self.bench.surroundings.desk).today()
        if self.fields is not None and self.act is not None and self.act.key in ("open", "close"):
            self.fields.show_values({"opened": today, "closed": today, "kind": KINDS[0]})

    def _edited(self) -> None:
        self.was_edited = True
        if self.fields is None:
            return
        value = next((key for key in _ELEVATIONS if key in self.fields.entries), None)
        if value is not None and "benchmark_mm" in self.fields.entries:
            around = WordsAround.of(self.bench.surroundings.desk)
            said = levelling_in_words(self.fields.peek(), value, around)
            usual = next(field.help for field in self.fields.fields if field.key == value)
            self.fields.say_below(value, said or usual)
