"""Settled containers that are not in bags yet, each with the bags it makes; packed here in one act."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

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
        self.pack = act_button(_("Pack"))
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
        layout.addWidget(self.pack, alignment=Qt.AlignmentFlag.AlignLeading)

    def show_rows(self, to_pack: tuple[ToPack, ...], around: WordsAround) -> None:
        """Show what waits to be packed."""
        self.model.show_rows([_row(one, around) for one in to_pack])
        for part in (self.table, self.pack):
            part.setVisible(bool(to_pack))
        self.empty.setVisible(not to_pack)
        n = len(to_pack)
        many = N_("Pack one {container} into bags") if n == 1 else N_("Pack {n} {containers} into bags")
        self.pack.setText(around.say(many, n=grouped(n)))


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
