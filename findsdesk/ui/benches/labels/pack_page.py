"""Settled containers that are not in bags yet, each with the bags it makes; packed here in one act."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.domain.bags import BAG_IN_WORDS
from findsdesk.ui.bench import act_button
from findsdesk.ui.benches.labels.reading import ToPack
from findsdesk.ui.models.cells import Cell, Column, TableRow
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets.slips import EmptySlip
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, grouped, put


class PackPage(QWidget):
    """The button says how many it packs."""

    chosen = Signal(str)
    """The code of a container, to be taken in hand."""

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        say = surroundings.words
        self.model = ShortTable(
            (
                Column(say(N_("{Container}"))),
                Column(say(N_("{Deposit}"))),
                Column(_("Kept"), figures=True),
                Column(_("Bags it makes"), grows=True),
            ),
            self,
        )
        self.table = TableView(surroundings.theme, say(N_("Settled {containers} to pack")))
        self.table.setModel(self.model)
        self.table.opened.connect(lambda code: self.chosen.emit(str(code)))
        self.pack, self.pack_one = act_button(_("Pack")), QPushButton()
        self._say = say
        self.table.picked.connect(self._picked)
        self.empty = EmptySlip(
            surroundings.theme,
            say(N_("Every settled {container} is in its bags. Here stand those that wait to be packed.")),
            _("Go to the sorting table"),
        )
        self.empty.act.connect(lambda: surroundings.open_bench.emit("sorting"))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.table, 1)
        layout.addWidget(self.empty, 1)
        foot = QHBoxLayout()
        foot.addWidget(self.pack)
        foot.addWidget(self.pack_one)
        foot.addStretch(1)
        layout.addLayout(foot)

    def show_rows(self, to_pack: tuple[ToPack, ...], around: WordsAround) -> None:
        """Show what waits to be packed."""
        self.model.show_rows([_row(one, around) for one in to_pack])
        for part in (self.table, self.pack):
            part.setVisible(bool(to_pack))
        self.empty.setVisible(not to_pack)
        n = len(to_pack)
        many = N_("Pack one {container} into bags") if n == 1 else N_("Pack {n} {containers} into bags")
        self.pack.setText(around.say(many, n=grouped(n)))
        if to_pack and not self.table.currentIndex().isValid():
            self.table.selectRow(0)
        self._picked(self.table.row_id())
        self.pack_one.setVisible(n > 1)

    def one(self) -> str:
        """Return the code of the container under the cursor, or nothing."""
        return str(self.table.row_id() or "")

    def _picked(self, code: object) -> None:
        number = next((row.cells[0].text for row in self.model.rows if row.row_id == code), "")
        self.pack_one.setText(self._say(N_("Only {container} {number}"), number=number))


def _row(one: ToPack, around: WordsAround) -> TableRow:
    return TableRow(
        row_id=one.container.code,
        cells=(
            Cell(one.container.number, strong=True),
            Cell(one.container.deposit or "–"),
            Cell(grouped(one.container.pieces)),
            Cell(", ".join(_bag(bag.what, bag.pieces) for bag in one.bags) or "–"),
        ),
    )


def _bag(what: str, pieces: int) -> str:
    text = BAG_IN_WORDS.get(what, what)
    n = grouped(pieces)
    return put(N_("{what} {n}"), None, {"what": put(text), "n": n}) if text else put(N_("one of {n}"), None, {"n": n})
