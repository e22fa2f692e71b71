"""Deposits compared by their wares: the matrix of coefficients in the order of the first axis."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.domain.refusals import Refusal
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.figures.state import compared_columns, compared_rows, compared_words
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.slips import EmptySlip
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.words import N_, _

if TYPE_CHECKING:
    from findsdesk.desk.comparing import Comparison
    from findsdesk.desk.desk import Desk


class ComparePart(QWidget):
    """Enter on a deposit shows its figures."""

    opened = Signal(object)
    """The number of the deposit that was opened."""
    paper_wanted = Signal()

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.bench = bench
        self.found: Comparison | None = None
        self.said = labels.muted()
        self.table = TableView(bench.theme, bench.surroundings.words(N_("{Deposits} compared")))
        self.model: ShortTable | None = None
        self.empty = EmptySlip(bench.theme)
        self.paper = QPushButton(_("Print the comparison"))
        self.table.opened.connect(self.opened)
        self.paper.clicked.connect(self.paper_wanted)
        head = QHBoxLayout()
        head.addWidget(self.said, 1)
        head.addWidget(self.paper)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addLayout(head)
        whole.addWidget(self.table, 1)
        whole.addWidget(self.empty)
        whole.addStretch(0)
        self._show_parts(False)

    def read_again(self) -> None:
        """Compare all deposits with enough sherds."""
        desk, lanes = self.bench.surroundings.desk, self.bench.surroundings.lanes
        lanes.read(lambda: _compared(desk), then=self.show_found, refused=self._none, topic="figures/compare")

    def show_found(self, found: Comparison) -> None:
        """Show a comparison."""
        say = self.bench.surroundings.words
        self.found = found
        before, self.model = self.model, ShortTable(compared_columns(found, say), self)
        self.table.setModel(self.model)
        if before is not None:
            before.deleteLater()
        self.model.show_rows(compared_rows(found))
        self.table.fit_columns()
        self.said.setText(compared_words(found, say))
        self._show_parts(True)

    def _none(self, refusal: Refusal) -> None:
        self.found = None
        self.empty.say(refusal.in_words(self.bench.surroundings.terms))
        self._show_parts(False)

    def _show_parts(self, some: bool) -> None:
        for part in (self.said, self.table, self.paper):
            part.setVisible(some)
        self.empty.setVisible(not some)


def _compared(desk: Desk) -> Comparison:
    # Loaded here: numpy would hold up the window when the bench is built.
    from findsdesk.desk.comparing import compare_deposits

    return compare_deposits(desk)
