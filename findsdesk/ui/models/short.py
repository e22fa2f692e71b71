"""A table of few rows, all held: what is shown whole on one screen."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from findsdesk.ui.models.cells import Column, TableRow, cell_data

Index = QModelIndex | QPersistentModelIndex
_NOWHERE = QModelIndex()


class ShortTable(QAbstractTableModel):
    """Rows given at once; replaced as a whole."""

    def __init__(self, columns: Sequence[Column], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.columns = tuple(columns)
        self.rows: tuple[TableRow, ...] = ()

    def show_rows(self, rows: Sequence[TableRow]) -> None:
        """Show these rows instead of those before; only changed ones are repainted where their number stays."""
        fresh = tuple(rows)
        if len(fresh) != len(self.rows):
            self.beginResetModel()
            self.rows = fresh
            self.endResetModel()
            return
        before, self.rows = self.rows, fresh
        last = len(self.columns) - 1
        for place, (old, new) in enumerate(zip(before, fresh, strict=True)):
            if old != new:
                self.dataChanged.emit(self.index(place, 0), self.index(place, last))

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        return 0 if parent.isValid() else len(self.columns)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if not index.isValid():
            return None
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return alignment(self.columns[index.column()])
        return cell_data(self.rows[index.row()], index.column(), role)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        return header_data(self.columns, section, orientation, role)


def alignment(column: Column) -> Qt.AlignmentFlag:
    """Return where the text of a column stands: figures at the far side."""
    side = Qt.AlignmentFlag.AlignTrailing if column.figures else Qt.AlignmentFlag.AlignLeading
    return side | Qt.AlignmentFlag.AlignVCenter


def header_data(columns: Sequence[Column], section: int, orientation: Qt.Orientation, role: int) -> object:
    """Return what the heading of a column answers; rows have none."""
    if orientation != Qt.Orientation.Horizontal or not 0 <= section < len(columns):
        return None
    if role == Qt.ItemDataRole.DisplayRole:
        return columns[section].title
    if role == Qt.ItemDataRole.TextAlignmentRole:
        return alignment(columns[section])
    if role == Qt.ItemDataRole.ToolTipRole:
        return columns[section].tip or None
    return None
