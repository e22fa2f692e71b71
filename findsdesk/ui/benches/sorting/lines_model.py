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
        self._words: dict[str, tuple[tuple[object, ...], TableRow]] = {}
        """The rows looked at, by their acts: what each is made of, and its words."""
        self.columns: tuple[Column, ...] = columns(state.lists.of_table.columns)

    def show(self) -> bool:
        """Show the lines as they stand; return whether their number changed."""
        before, fresh = self._lines, list(self._state.lines.lines)
        self._show_columns()
        if len(fresh) >= len(before) and fresh[: len(before)] == before:
            self._lines = fresh[: len(before)]
            self._tell_changed()
            if len(fresh) == len(before):
                return False
            self.beginInsertRows(QModelIndex(), len(before), len(fresh) - 1)
            self._lines = fresh
            self.endInsertRows()
        else:
            self._words.clear()
            self.beginResetModel()
            self._lines = fresh
            self.endResetModel()
        return True

    def _tell_changed(self) -> None:
        """Have those rows painted anew that say something else than when they were looked at."""
        for place, line in enumerate(self._lines if self._words else ()):
            looked_at = self._words.get(line.act_id)
            if looked_at is not None and looked_at[0] != self._made_of(line):
                del self._words[line.act_id]
                self.dataChanged.emit(self.index(place, 0), self.index(place, len(self.columns) - 1))

    def _made_of(self, line: TableLine) -> tuple[object, ...]:
        """Return all that the words of a row follow from; compared, since that is quicker than the words."""
        typing = (line.row, line.typed, line.said, line.saved)
        doubt = (line.doubt, line.doubt_column, line.clash)
        return (*typing, *doubt, self._state.looks_late(line), id(self._state.lists))

    def _show_columns(self) -> None:
        fresh = columns(self._state.lists.of_table.columns)
        if fresh != self.columns:
            self._words.clear()
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
            self._words[line.act_id] = (self._made_of(line), table_row(line, self._state))
        return self._words[line.act_id][1]

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
