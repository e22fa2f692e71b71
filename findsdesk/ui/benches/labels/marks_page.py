"""Marks to ink: the mark over a sherd with its length, where to write it, the solvents, and the lists by deposit."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.mark_lines import MarkLine
from findsdesk.desk.marking_sheet import IN_THREE_COATS, WHERE_TO_WRITE
from findsdesk.desk.shipped import cautions_at
from findsdesk.domain.cautions import At
from findsdesk.domain.marks import SMALLEST_MARKED_MM
from findsdesk.ui.bench import act_button
from findsdesk.ui.models.cells import Cell, Column, TableRow
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.dossier_facts import Caution
from findsdesk.ui.widgets.marked_sherd import MarkedSherd
from findsdesk.ui.widgets.slips import CautionSlip, EmptySlip
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, grouped

_SIDE_BY_SIDE = 470
"""Pixels of width, at 100 per cent, under which the words stand below the sherd."""


class MarksPage(QWidget):
    """The line under the cursor, or what is in hand, is the mark that is drawn."""

    list_wanted = Signal(object)
    """The number of a deposit, or None for all."""

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        theme, say = surroundings.theme, surroundings.words
        self.theme = theme
        self._marks: tuple[MarkLine, ...] = ()
        self.sherd = MarkedSherd(theme)
        self.caption = labels.headed()
        self.where = labels.plain()
        self.caution = CautionSlip(theme)
        self.model = ShortTable(
            (
                Column(say(N_("{Container}"))),
                Column(say(N_("{Deposit}"))),
                Column(_("Mark"), grows=True),
                Column(_("Diagnostic"), figures=True),
            ),
            self,
        )
        self.table = TableView(theme, _("Marks to ink"))
        self.table.setModel(self.model)
        self.print_all, self.print_one = act_button(_("Print the marking list")), QPushButton()
        self.empty = EmptySlip(
            theme, say(N_("No sorted {container} has kept pieces to mark. What is to be inked stands here."))
        )
        self._whole = QWidget()
        self._lay_out()
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self._whole, 1)
        outer.addWidget(self.empty, 1)
        self.table.picked.connect(self._picked)
        self.print_all.clicked.connect(lambda: self.list_wanted.emit(None))
        self.print_one.clicked.connect(self._print_one)

    def _lay_out(self) -> None:
        card = Card(self.theme)
        side = QVBoxLayout()
        side.addWidget(self.caption)
        side.addWidget(self.where)
        side.addStretch(1)
        self._top = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._top.addWidget(self.sherd, 3)
        self._top.addLayout(side, 2)
        card.body.addLayout(self._top, 1)
        self._foot = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._foot.addWidget(self.print_all)
        self._foot.addWidget(self.print_one)
        self._foot.addStretch(1)
        layout = QVBoxLayout(self._whole)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(card)
        layout.addWidget(self.caution)
        layout.addWidget(self.table, 1)
        layout.addLayout(self._foot)
        self._card = card

    def show_marks(self, marks: tuple[MarkLine, ...], in_hand: str, around: WordsAround) -> None:
        """Show the marks; the one of the container in hand (its code) is drawn, else the one under the cursor."""
        self._marks = marks
        self.model.show_rows([_row(one) for one in marks])
        self._whole.setVisible(bool(marks))
        self.empty.setVisible(not marks)
        self.where.setText(f"{around.say(WHERE_TO_WRITE)} {around.say(IN_THREE_COATS)}")
        self.caution.show_caution(next(iter(_cautions(around)), None))
        place = next((n for n, one in enumerate(marks) if one.code == in_hand), None)
        if place is None:
            place = max(0, self.table.currentIndex().row())
        if marks:
            self.table.selectRow(min(place, len(marks) - 1))
            self._draw(marks[min(place, len(marks) - 1)])

    def _picked(self, code: object) -> None:
        one = next((mark for mark in self._marks if mark.code == code), None)
        if one is not None:
            self._draw(one)

    def _draw(self, one: MarkLine) -> None:
        self.sherd.show_mark(one.lines, one.length_tenths / 10, SMALLEST_MARKED_MM)
        said = _(", {length} mm at lettering 2 mm high.").format(length=_length(one))
        self.caption.setText(labels.rich(" / ".join(one.lines), said))
        self.print_one.setText(_("Only of {number}").format(number=one.deposit))
        self.print_one.setVisible(bool(one.deposit) and len({mark.deposit for mark in self._marks}) > 1)

    def _print_one(self) -> None:
        one = next((mark for mark in self._marks if mark.code == self.table.row_id()), None)
        if one is not None:
            self.list_wanted.emit(one.deposit)

    def fit(self, width: int) -> None:
        """Put the words beside the sherd where there is room."""
        wide = width >= self.theme.px(_SIDE_BY_SIDE)
        directions = QBoxLayout.Direction
        self._top.setDirection(directions.LeftToRight if wide else directions.TopToBottom)
        self.table.setMinimumHeight(self.theme.px(140))


def _cautions(around: WordsAround) -> Sequence[Caution]:
    return [Caution(around.say(one.lead), around.say(one.text)) for one in cautions_at(At.MARK)]


def _length(one: MarkLine) -> int:
    """Return the length in whole millimetres, rounded up."""
    return -(-one.length_tenths // 10)


def _row(one: MarkLine) -> TableRow:
    return TableRow(
        row_id=one.code,
        cells=(
            Cell(one.number, strong=True),
            Cell(one.deposit or "–"),
            Cell(" / ".join(one.lines)),
            Cell(_("{n} of {kept} kept").format(n=grouped(one.diagnostic), kept=grouped(one.tally.kept))),
        ),
    )
