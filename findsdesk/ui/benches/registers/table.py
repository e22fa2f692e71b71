"""The table of a register: Home and End go to its first and last row, however many there are."""

from __future__ import annotations

from PySide6.QtCore import QItemSelectionModel, Qt
from PySide6.QtGui import QKeyEvent

from findsdesk.ui.widgets.table_view import TableView


class RegisterTable(TableView):
    """Worked by keyboard: arrows and pages move, Home and End jump, Enter opens."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Home, Qt.Key.Key_End) and not event.modifiers():
            self.go_to(0 if event.key() == Qt.Key.Key_Home else -1)
            return
        super().keyPressEvent(event)

    def go_to(self, row: int) -> None:
        """Put the cursor on a row, counted from the end where it is negative."""
        rows = self.model().rowCount()
        if rows:
            index = self.model().index(row % rows, 0)
            flags = QItemSelectionModel.SelectionFlag
            self.selectionModel().setCurrentIndex(index, flags.ClearAndSelect | flags.Rows)
            self.scrollTo(index)

    def chosen_ids(self) -> list[object]:
        """Return the ids of all rows that are selected and held."""
        rows = sorted(index.row() for index in self.selectionModel().selectedRows())
        model = self.model()
        row_at = getattr(model, "row_at", None)
        found = [row_at(row) for row in rows] if row_at else []
        return [row.row_id for row in found if row is not None]
