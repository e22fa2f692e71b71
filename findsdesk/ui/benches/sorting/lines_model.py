"""The rows of a container as a model: a row is put into words when it is looked at, however many there are."""

from __future__ import annotations

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from findsdesk.ui.benches.sorting.lines import TableLine
from findsdesk.ui.benches.sorting.row_words import columns, table_row
from findsdesk.ui.benches.sorting.state import SortingState
from findsdesk.ui.models.cells import Column, TableRow, cell_data
from findsdesk.ui.models.short import alignment, header_data

Index = QModelIndex | QPersistentModelIndex
_NOWHERE = QModelIndex()


class LinesModel(QAbstractTableModel):
    """Shows the lines of the state; only those in sight are ever put into words."""

    def __init__(self, state: SortingState, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._state = state
        self._lines: list[TableLine] = []
        self._words: dict[str, TableRow] = {}
        self.columns: tuple[Column, ...] = columns(state.lists.of_table.columns)

    def show(self) -> bool:
        """Show the lines as they stand; return whether their number changed."""
        before, fresh = self._lines, list(self._state.lines.lines)
        self._words.clear()
        self._show_columns()
        if len(fresh) == len(before):
            self._lines = fresh
            if fresh:
                self.dataChanged.emit(self.index(0, 0), self.index(len(fresh) - 1, len(self.columns) - 1))
            return False
        if len(fresh) > len(before) and fresh[: len(before)] == before:
            self.beginInsertRows(QModelIndex(), len(before), len(fresh) - 1)
            self._lines = fresh
            self.endInsertRows()
        else:
            self.beginResetModel()
            self._lines = fresh
            self.endResetModel()
        return True

    def _show_columns(self) -> None:
        fresh = columns(self._state.lists.of_table.columns)
        if fresh != self.columns:
            self.beginResetModel()
            self.columns = fresh
            self.endResetModel()

    def line(self, place: int) -> TableLine | None:
        """Return the line at a place, or None."""
        return self._lines[place] if 0 <= place < len(self._lines) else None

    def place_of(self, line: TableLine | None) -> int:
        """Return the place of a line, -1 where it is not on the table."""
        return self._lines.index(line) if line in self._lines else -1

    def doubtful(self) -> list[int]:
        """Return the places of the lines that wait."""
        waiting = set(map(id, self._state.lines.waiting()))
        return [place for place, line in enumerate(self._lines) if id(line) in waiting] if waiting else []

    def row(self, place: int) -> TableRow:
        """Return a line in words."""
        line = self._lines[place]
        if line.act_id not in self._words:
            self._words[line.act_id] = table_row(line, self._state)
        return self._words[line.act_id]

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        return 0 if parent.isValid() else len(self._lines)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        return 0 if parent.isValid() else len(self.columns)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if not index.isValid() or index.row() >= len(self._lines):
            return None
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return alignment(self.columns[index.column()])
        return cell_data(self.row(index.row()), index.column(), role)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        return header_data(self.columns, section, orientation, role)
