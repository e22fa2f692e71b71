"""The rows on the table, as high as they are many; Enter or a double click changes one, Delete removes it."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from findsdesk.ui.benches.sorting.in_columns import column_widths
from findsdesk.ui.benches.sorting.lines import TableLine
from findsdesk.ui.benches.sorting.state import SortingState
from findsdesk.ui.benches.sorting.table_words import columns, table_row
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.words import _

_LEAST_ROWS = 1


class RowsView(TableView):
    """One container's rows."""

    removed = Signal(object)
    """The id of the row that is to be removed."""
    below = Signal()
    """The arrow down on the last row: back to the row being typed."""
    typed_on = Signal(object)
    """A key that was meant for the row being typed; the keyboard is there by now."""
    fitted = Signal()
    """The columns have another width."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, _("Rows of this table"), parent)
        self.table = ShortTable(columns(), self)
        self.setModel(self.table)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Maximum)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)

    def show_lines(self, state: SortingState) -> None:
        """Show the rows; the newest is always in sight."""
        before = len(self.table.rows)
        self.table.show_rows([table_row(line, state) for line in state.lines.lines])
        self._span_doubts()
        if len(self.table.rows) != before:
            self.updateGeometry()
            self.scrollToBottom()

    def _span_doubts(self) -> None:
        """Let a doubt stand over the last two columns: that it waits is said by it."""
        self.clearSpans()
        for place, row in enumerate(self.table.rows):
            if row.late:
                self.setSpan(place, len(self.table.columns) - 2, 1, 2)

    def mark(self, line: TableLine | None) -> None:
        """Mark the row that is being changed, or none."""
        place = next((n for n, row in enumerate(self.table.rows) if line and row.row_id == line.act_id), None)
        if place is None:
            self.clearSelection()
        else:
            self.selectRow(place)

    def go_to_last(self) -> None:
        """Put the cursor on the last row."""
        if self.table.rows:
            self.setCurrentIndex(self.table.index(len(self.table.rows) - 1, 0))
            self.setFocus(Qt.FocusReason.OtherFocusReason)

    def fit_columns(self) -> None:
        """Give each column its share of the width."""
        if not getattr(self, "_has_model", False):
            return
        for place, width in enumerate(column_widths(self.viewport().width())):
            self.setColumnWidth(place, width)
        self.fitted.emit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if not self.hasFocus():
            self.scrollToBottom()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        last = self.currentIndex().row() == len(self.table.rows) - 1
        if event.key() == Qt.Key.Key_Delete and self.row_id() is not None:
            self.removed.emit(self.row_id())
        elif event.key() == Qt.Key.Key_Escape or (event.key() == Qt.Key.Key_Down and last):
            self.below.emit()
        elif event.text().isprintable() and event.text().strip() and not self._is_command(event):
            # Who types here means the row below: the letter goes where it belongs.
            self.below.emit()
            self.typed_on.emit(event)
        else:
            super().keyPressEvent(event)

    @staticmethod
    def _is_command(event: QKeyEvent) -> bool:
        held = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier
        return bool(event.modifiers() & held)

    def _height(self, rows: int) -> int:
        return self.horizontalHeader().sizeHint().height() + rows * self.verticalHeader().defaultSectionSize() + 2

    def sizeHint(self) -> QSize:
        table = getattr(self, "table", None)
        return QSize(self.theme.px(400), self._height(max(1, len(table.rows) if table else 0)))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.px(200), self._height(_LEAST_ROWS))
