"""The list of pieces at the side: those of the container in hand, or all that a search finds."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from findsdesk.desk.desk import Desk
from findsdesk.desk.piece_rows import PieceRow
from findsdesk.desk.registers import Register, RegisterQuery, count, page
from findsdesk.desk.setting_up import season_now
from findsdesk.ui.bench import Bench
from findsdesk.ui.models.cells import Cell, Column, TableRow
from findsdesk.ui.models.paged import PAGE_ROWS, PagedTable, RegisterReads, Wanted
from findsdesk.ui.widgets.slips import EmptySlip
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _

_WIDTH, _SUNNY_WIDTH = 252, 262
"""Pixels at 100 per cent; letters are larger in the sun."""
_TYPING_MS = 150
"""A search waits until somebody stops typing for so long."""


class PieceSearch(QLineEdit):
    """Down leads to the rows."""

    down = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Down:
            self.down.emit()
        else:
            super().keyPressEvent(event)


class PieceList(QWidget):
    """Tells which piece the cursor came to, and what is searched."""

    picked = Signal(str)
    """The code of the piece under the cursor."""
    opened = Signal()
    """Enter on a row: to its fields."""
    searched = Signal(str)
    counted = Signal(int)

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        theme = bench.theme
        self.desk: Desk = bench.surroundings.desk
        self.search = PieceSearch()
        self.search.setAccessibleName(_("Search all pieces"))
        self.search.setPlaceholderText(_("Search all pieces"))
        self.search.setClearButtonEnabled(True)
        columns = (Column(_("Piece")), Column(_("What"), grows=True, least=60), Column(_("mm"), figures=True))
        self.model = PagedTable(bench.surroundings.lanes, columns, RegisterReads(self._count, self._page), self)
        self.table = TableView(theme, _("Pieces"))
        self.table.setModel(self.model)
        self.empty = EmptySlip(theme)
        self._waits = QTimer(self)
        self._waits.setSingleShot(True)
        self._waits.setInterval(_TYPING_MS)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.search)
        layout.addWidget(self.table, 1)
        layout.addWidget(self.empty, 1)
        self.search.textEdited.connect(lambda _text: self._waits.start())
        self.search.textChanged.connect(lambda text: None if text else self._waits.start())
        self.search.returnPressed.connect(self._to_rows)
        self.search.down.connect(self._to_rows)
        self._waits.timeout.connect(lambda: self.searched.emit(self.search.text().strip()))
        self.table.picked.connect(self._tell_picked)
        self.table.opened.connect(lambda _row_id: self.opened.emit())
        self.model.counted.connect(self._show_count)
        self.model.refused.connect(bench.refuse)
        self.model.dataChanged.connect(self._rows_came)
        self._nothing = ""
        self._wanted = ""
        """The code of a piece to go to once its row is there."""
        self._theme = theme
        theme.changed.connect(self._fix_width)
        self._fix_width()

    def _fix_width(self) -> None:
        self.setFixedWidth(self._theme.px(_SUNNY_WIDTH if self._theme.is_sun else _WIDTH))

    def ask(self, query: RegisterQuery, nothing: str) -> None:
        """List what a query finds; ``nothing`` stands there where nothing is found."""
        self._nothing = nothing
        if query == self.model.wanted.filter:
            self.model.reload()
        else:
            self.model.ask(query)

    def forget_search(self) -> None:
        """Empty the search; what is listed instead is asked for by who calls this, at once."""
        self.search.clear()
        self._waits.stop()

    def go_to(self, code: str) -> None:
        """Bring the cursor to a piece, now or when its row has come; the rows before it are not told of."""
        self._wanted = code
        self._go_to_wanted()

    def _go_to_wanted(self) -> None:
        rows = [self.model.row_at(row) for row in range(min(self.model.rowCount(), PAGE_ROWS))]
        if not self._wanted or not self.model.is_settled() or None in rows or not rows:
            return
        found = [place for place, row in enumerate(rows) if row is not None and row.row_id == self._wanted]
        self._wanted = ""
        if found:
            self.table.selectRow(found[0])

    def _count(self, wanted: Wanted) -> int:
        return count(self.desk, Register.PIECES, _query(wanted))

    def _page(self, wanted: Wanted, first: int, how_many: int) -> Sequence[TableRow]:
        around, now = WordsAround.of(self.desk), season_now(self.desk)
        rows = page(self.desk, Register.PIECES, _query(wanted), first, how_many)
        return [_row(one, around, now.name if now else "") for one in rows]

    def _show_count(self, found: int) -> None:
        self.table.setVisible(bool(found))
        self.empty.setVisible(not found)
        self.empty.say(self._nothing)
        self.table.fit_columns()
        self.counted.emit(found)
        self._go_to_wanted()
        if found and not self._wanted and not self.table.currentIndex().isValid():
            self.table.selectRow(0)
        self._tell_current()

    def _to_rows(self) -> None:
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _rows_came(self) -> None:
        self.table.fit_columns()
        self._go_to_wanted()
        self._tell_current()

    def _tell_current(self) -> None:
        """Tell of the row under the cursor once it is there."""
        self._tell_picked(self.table.row_id())

    def _tell_picked(self, row_id: object) -> None:
        if isinstance(row_id, str) and not self._wanted:
            self.picked.emit(row_id)


def _query(wanted: Wanted) -> RegisterQuery:
    return wanted.filter if isinstance(wanted.filter, RegisterQuery) else RegisterQuery()


def _row(piece: PieceRow, around: WordsAround, season: str) -> TableRow:
    """Return the row of a piece; one of another season than this is named with it, as it is typed."""
    name = piece.name if piece.season == season else f"{piece.season}/{piece.name}"
    what = " ".join(part for part in (piece.ware, around.listed("parts", piece.part)) if part)
    diameter = "" if piece.rim_diameter_mm is None else str(piece.rim_diameter_mm)
    if piece.drawing_wanted:
        what = around.say(N_("{what}, draw"), what=what)
    tone = "ochre" if piece.doubts else ""
    said = " ".join(doubt.in_words(around.terms) for doubt in piece.doubts)
    cells = (Cell(name, strong=True), Cell(what), Cell(diameter, tone))
    return TableRow(piece.code, cells, said=said)
