"""The rows behind a figure, in windows: which groups, pieces and objects it was made from."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.figure_scopes import Scope
from findsdesk.desk.register_columns import wording
from findsdesk.desk.rows_behind import Behind, rows_behind
from findsdesk.desk.word_lists import words_of
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.figures.state import behind_columns, behind_row, behind_title
from findsdesk.ui.models.cells import TableRow
from findsdesk.ui.models.paged import PagedTable, RegisterReads, Wanted
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.words import N_, CountOf, _


class BehindPart(QWidget):
    """Enter on a row takes its container in hand; Esc goes back to the figures."""

    left = Signal()

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.bench = bench
        self.title = labels.bold()
        self.counted = labels.muted(wrap=False)
        self.back = QPushButton(_("Back to the figures"))
        self.table = TableView(bench.theme, _("Rows behind the figure"))
        self.model: PagedTable | None = None
        self.table.may_leave_out((9, 4, 1))
        self.table.opened.connect(lambda row_id: bench.surroundings.open_thing.emit("container", row_id))
        self.back.clicked.connect(self.left)
        head = QHBoxLayout()
        head.addWidget(self.title)
        head.addWidget(self.counted)
        head.addStretch(1)
        head.addWidget(self.back)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addLayout(head)
        whole.addWidget(self.table, 1)

    def show_rows(self, scope: Scope, behind: Behind, name: str) -> None:
        """Show the rows behind a figure of a thing."""
        desk, say = self.bench.surroundings.desk, self.bench.surroundings.words
        self.title.setText(behind_title(behind, name, say))
        self.table.setAccessibleName(self.title.text())
        pieces = {"n": 0}

        def count(_wanted: Wanted) -> int:
            found = rows_behind(desk, scope, behind, how_many=0)
            pieces["n"] = found.pieces
            return found.total

        def page(_wanted: Wanted, first: int, how_many: int) -> Sequence[TableRow]:
            lists, words = words_of(desk), wording(desk)
            return [behind_row(row, lists, words) for row in rows_behind(desk, scope, behind, first, how_many).rows]

        before, self.model = (
            self.model,
            PagedTable(self.bench.surroundings.lanes, behind_columns(say), RegisterReads(count, page), self),
        )
        self.model.counted.connect(lambda rows: self._say_count(rows, pieces["n"]))
        self.model.refused.connect(self.bench.refuse)
        self.table.setModel(self.model)
        self.table.may_leave_out((9, 4, 1))
        if before is not None:
            before.leave()
            before.deleteLater()
        self.model.ask(behind)
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def reload(self) -> None:
        """Read the rows again."""
        if self.model is not None:
            self.model.reload()

    def _say_count(self, rows: int, pieces: int) -> None:
        self.counted.setText(
            self.bench.surroundings.words(
                N_("{rows}, {pieces}"),
                rows=CountOf("{n} row", "{n} rows", rows),
                pieces=CountOf("{n} piece", "{n} pieces", pieces),
            )
        )

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)
