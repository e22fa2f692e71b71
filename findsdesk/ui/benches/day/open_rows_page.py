"""All that is open of one line at the end of a season, read page by page; a row leads to the work on it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.season_end import OpenLine, OpenRow, count_open, open_rows
from findsdesk.ui.all_benches import BENCHES
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.day.season_end_state import open_row, open_row_columns
from findsdesk.ui.models.cells import TableRow
from findsdesk.ui.models.paged import PagedTable, RegisterReads, Wanted
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, grouped


class OpenRowsPage(QWidget):
    """Stands in the place of the end of the season while one of its lines is looked at."""

    opened = Signal(object, object)
    """The ``OpenRow`` that was opened, and its ``Requirement``."""
    bench_wanted = Signal(object)
    """The ``Requirement`` whose bench is to be opened."""
    left = Signal()

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.bench, self.theme, self.say = bench, bench.theme, bench.surroundings.words
        self.line: OpenLine | None = None
        self.season = ""
        self.model: PagedTable | None = None
        self.head = labels.bold(wrap=True)
        self.table = TableView(self.theme, _("What is open"))
        self.go = act_button(" ")
        self.back = QPushButton(_("Back to the end of the season"))
        self.table.opened.connect(self._open)
        self.go.clicked.connect(self._go)
        self.back.clicked.connect(self.left)
        buttons = QHBoxLayout()
        buttons.addWidget(self.go)
        buttons.addWidget(self.back)
        buttons.addStretch(1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(self.theme.px(10))
        whole.addWidget(self.head)
        whole.addWidget(self.table, 1)
        whole.addLayout(buttons)
        self.table.setMinimumHeight(self.theme.px(150))

    def show_line(self, line: OpenLine, season: str) -> None:
        """Show the rows behind a line of a season."""
        self.line, self.season = line, season
        desk, key = self.bench.surroundings.desk, line.requirement.key

        def count(_wanted: Wanted) -> int:
            return count_open(desk, key, season)

        def page(_wanted: Wanted, first: int, how_many: int) -> Sequence[TableRow]:
            around = WordsAround.of(desk)
            return [open_row(row, around) for row in open_rows(desk, key, season, first=first, how_many=how_many)]

        before = self.model
        lanes = self.bench.surroundings.lanes
        self.model = PagedTable(lanes, open_row_columns(self.say), RegisterReads(count, page), self)
        self.model.counted.connect(self._say_count)
        self.model.refused.connect(self.bench.refuse)
        self.table.setModel(self.model)
        if before is not None:
            before.leave()
            before.deleteLater()
        self.go.setText(self.say(N_("Go to: {bench}"), bench=self.say(BENCHES[line.requirement.bench])))
        self.model.ask(key)
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def read_again(self) -> None:
        """Read the rows again."""
        if self.model is not None:
            self.model.reload()

    def _say_count(self, rows: int) -> None:
        if self.line is not None:
            name = self.say(self.line.requirement.name)
            self.head.setText(self.say(N_("{what}: {n}"), what=name, n=grouped(rows)))
            self.table.fit_columns()
            if rows and not self.table.currentIndex().isValid() and self.model is not None:
                self.table.setCurrentIndex(self.model.index(0, 0))

    def _go(self) -> None:
        if self.line is not None:
            self.bench_wanted.emit(self.line.requirement)

    def _open(self, row: object) -> None:
        if isinstance(row, OpenRow) and self.line is not None:
            self.opened.emit(row, self.line.requirement)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
            return
        super().keyPressEvent(event)
