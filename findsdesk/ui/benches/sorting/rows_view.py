"""The rows on the table: a doubt stands in them whole; Enter changes one where it stands, Delete removes it."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QFontMetrics, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QStyleOptionViewItem, QWidget

from findsdesk.ui.benches.sorting.below_line import BelowLine
from findsdesk.ui.benches.sorting.in_columns import CROWDED, column_widths
from findsdesk.ui.benches.sorting.lines import TableLine
from findsdesk.ui.benches.sorting.lines_model import LinesModel
from findsdesk.ui.benches.sorting.row_fields import RowFields
from findsdesk.ui.benches.sorting.row_words import place_of_doubt
from findsdesk.ui.benches.sorting.state import SortingState
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets.painting import fitted
from findsdesk.ui.widgets.table_view import CellDelegate, TableView
from findsdesk.words import _

_LEAST_ROWS = 1
_AROUND, _SMALLEST = 22, 11
"""Pixels, at 100 per cent: around the text of a cell, and how small its letters may become."""


class WholeWords(CellDelegate):
    """Sets a word that is longer than its cell in smaller letters rather than cutting it; a doubt breaks instead."""

    def initStyleOption(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> None:
        super().initStyleOption(option, index)
        rows = self.parent()
        if isinstance(rows, RowsView) and not rows.is_doubt(index.row(), index.column()):
            room = rows.columnWidth(index.column()) - rows.theme.px(_AROUND)
            option.font = fitted(option.font, option.text, room, smallest=rows.theme.px(_SMALLEST))


class RowsView(TableView):
    """One container's rows."""

    row_height = 28
    taken_up = Signal(object, str)
    """A ``TableLine`` that is to be changed, and the column the cursor is in."""
    removed = Signal(object)
    """A ``TableLine`` that is to be removed."""
    below = Signal()
    """The arrow down on the last row: back to the row being typed."""
    typed_on = Signal(object)
    """A key that was meant for the row being typed; the keyboard is there by now."""
    fitted = Signal()
    """The columns have another width."""

    def __init__(self, theme: Theme, state: SortingState, parent: QWidget | None = None) -> None:
        super().__init__(theme, _("Rows of this table"), parent)
        self._state = state
        self.table = LinesModel(state, self)
        self._edited: tuple[RowFields, BelowLine, TableLine] | None = None
        self._spans: list[int] = []
        self._tall: list[int] = []
        self.setModel(self.table)
        self.setItemDelegate(WholeWords(theme, self))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.horizontalHeader().setTextElideMode(Qt.TextElideMode.ElideRight)
        self.setWordWrap(True)
        self.opened.connect(lambda _row_id: self._take_up())

    def show_lines(self) -> None:
        """Show the rows; the newest is always in sight."""
        here, column = self.line(), self.currentIndex().column()
        more = self.table.show()
        self._span_doubts()
        if more:
            self.updateGeometry()
            place = self.table.place_of(here)
            if self.hasFocus() and place >= 0:
                self.setCurrentIndex(self.table.index(place, max(0, column)))
            elif not self.hasFocus():
                self.scrollToBottom()
        self.place_edited()

    def _span_doubts(self) -> None:
        """Let a doubt stand over the last two columns where the last of them is the reason or the note."""
        doubtful, last = self.table.doubtful(), len(self.table.columns) - 1
        if doubtful or self._spans:
            self.clearSpans()
            self._spans = doubtful
        first = place_of_doubt(self._state.lists.of_table.columns)
        for place in doubtful if first < last else ():
            self.setSpan(place, first, 1, last - first + 1)
        self._fit_heights()

    def _fit_heights(self) -> None:
        """Give a row the height its doubt asks for, and the one being changed room for what is said below it."""
        plain = self.verticalHeader().defaultSectionSize()
        for place in self._tall:
            self.setRowHeight(place, plain)
        columns = self._state.lists.of_table.columns
        first = place_of_doubt(columns)
        width = sum(column_widths(self.viewport().width(), columns)[first:]) - self.theme.px(_AROUND)
        heights = {place: self._height_of_doubt(place, first, width) for place in self._spans}
        if self._edited is not None:
            fields, below, line = self._edited
            place = self.table.place_of(line)
            heights[place] = max(heights.get(place, 0), fields.sizeHint().height() + below.sizeHint().height())
        self._tall = [place for place, height in heights.items() if place >= 0 and height > plain]
        for place in self._tall:
            self.setRowHeight(place, heights[place])

    def _height_of_doubt(self, place: int, column: int, width: int) -> int:
        text = str(self.table.index(place, column).data() or "")
        wrapped = Qt.TextFlag.TextWordWrap.value
        needed = QFontMetrics(self.theme.font()).boundingRect(0, 0, max(1, width), 10_000, wrapped, text).height()
        return needed + self.theme.px(_AROUND)

    def is_doubt(self, place: int, column: int) -> bool:
        """Return whether a doubt stands in this cell, over several lines where it is long."""
        return place in self._spans and column == place_of_doubt(self._state.lists.of_table.columns)

    def line(self) -> TableLine | None:
        """Return the line under the cursor."""
        return self.table.line(self.currentIndex().row())

    def mark(self, line: TableLine | None) -> None:
        """Mark the row that is being changed, or none."""
        place = self.table.place_of(line)
        if place < 0:
            self.clearSelection()
        else:
            self.selectRow(place)

    def go_to_last(self) -> None:
        """Put the cursor on the last row."""
        if self.table.rowCount():
            column = max(0, self.currentIndex().column())
            self.setCurrentIndex(self.table.index(self.table.rowCount() - 1, column))
            self.setFocus(Qt.FocusReason.OtherFocusReason)

    # A row changed where it stands

    def edit_row(self, fields: RowFields, below: BelowLine, line: TableLine | None) -> None:
        """Let these fields stand over a row, with the line that says what is wrong below them, or take both away."""
        for part in (fields, below):
            part.setVisible(line is not None)
        self._edited = (fields, below, line) if line is not None else None
        self._fit_heights()
        place = self.table.place_of(line)
        if place >= 0:
            self.scrollTo(self.table.index(place, 0))
        for part in (fields, below):
            part.raise_()
        self.place_edited()

    def place_edited(self) -> None:
        """Put the fields where their row is now."""
        if self._edited is None:
            return
        fields, below, line = self._edited
        place = self.table.place_of(line)
        if place >= 0:
            top, width = self.visualRect(self.table.index(place, 0)).top(), self.viewport().width()
            height, whole = fields.sizeHint().height(), self.rowHeight(place)
            fields.setGeometry(QRect(0, top, width, height))
            below.setGeometry(QRect(0, top + height, width, max(below.sizeHint().height(), whole - height - 1)))

    def updateGeometries(self) -> None:
        """Lay out what changed in height; at the end of the list all rows may move without having been scrolled."""
        super().updateGeometries()
        if getattr(self, "_has_model", False):
            self.place_edited()
            self.viewport().update()

    def scrollContentsBy(self, dx: int, dy: int) -> None:
        super().scrollContentsBy(dx, dy)
        self.place_edited()

    def fit_columns(self) -> None:
        """Give each column its share of the width."""
        if not getattr(self, "_has_model", False):
            return
        crowded = len(self._state.lists.of_table.columns) > CROWDED
        if crowded != bool(self.property("crowded")):
            self.setProperty("crowded", crowded)
            self.style().unpolish(self)
            self.style().polish(self)
        widths = column_widths(self.viewport().width(), self._state.lists.of_table.columns)
        for place, width in enumerate(widths):
            self.setColumnWidth(place, width)
        self._fit_heights()
        self.place_edited()
        self.fitted.emit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._edited is not None:
            self.scrollTo(self.table.index(self.table.place_of(self._edited[2]), 0))
        elif not self.hasFocus():
            self.scrollToBottom()
        self.place_edited()

    def _take_up(self) -> None:
        line, columns = self.line(), self._state.lists.of_table.columns
        place = self.currentIndex().column()
        if line is not None:
            self.taken_up.emit(line, columns[place] if place < len(columns) else columns[0])

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Have a cursor that can be seen, however the keyboard came here."""
        super().focusInEvent(event)
        if not self.currentIndex().isValid() and self.table.rowCount():
            self.setCurrentIndex(self.table.index(self.table.rowCount() - 1, 0))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        last = self.currentIndex().row() == self.table.rowCount() - 1
        if event.key() == Qt.Key.Key_Delete and self.line() is not None:
            self._remove()
        elif event.key() == Qt.Key.Key_Escape or (event.key() == Qt.Key.Key_Down and last):
            self.below.emit()
        elif event.text().isprintable() and event.text().strip() and not self._is_command(event):
            # Who types here means the row below: the letter goes where it belongs.
            self.below.emit()
            self.typed_on.emit(event)
        else:
            super().keyPressEvent(event)

    def _remove(self) -> None:
        """Have the row under the cursor removed; the cursor goes to the one below it, else above, else leaves."""
        place, column = self.currentIndex().row(), max(0, self.currentIndex().column())
        line = self.line()
        if line is not None and line.waits_changed:
            # Its change is given up, the row stays.
            self.removed.emit(line)
            return
        beside = self.table.line(place + 1) or self.table.line(place - 1)
        self.removed.emit(self.line())
        stays = self.table.place_of(beside)
        if stays >= 0:
            self.setCurrentIndex(self.table.index(stays, column))
        else:
            self.below.emit()

    @staticmethod
    def _is_command(event: QKeyEvent) -> bool:
        held = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier
        return bool(event.modifiers() & held)

    def _height(self, rows: int) -> int:
        return self.horizontalHeader().sizeHint().height() + rows * self.verticalHeader().defaultSectionSize() + 2

    def sizeHint(self) -> QSize:
        table = getattr(self, "table", None)
        return QSize(self.theme.px(400), self._height(max(1, table.rowCount() if table else 0)))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.px(200), self._height(_LEAST_ROWS))
