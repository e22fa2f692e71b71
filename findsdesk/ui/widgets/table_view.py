"""A table in the look of the house: fixed row heights, hairlines, a madder edge on late rows, worked by keyboard."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from PySide6.QtCore import QAbstractItemModel, QEvent, QModelIndex, QPersistentModelIndex, QRectF, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QKeyEvent, QPainter, QPalette, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from findsdesk.ui.models.cells import Column, Role
from findsdesk.ui.theme import Theme, Type

_SAMPLE = 60
"""Rows looked at when columns are fitted; looking at all would read all."""
_WIDEST = 340
_GROWN = 150
"""Pixels, at 100 per cent, that a column which takes the room that is left keeps where there is too little."""
_SPARE = 10
"""Pixels each column gives up before the table scrolls sideways."""


class CellDelegate(QStyledItemDelegate):
    """Paints a cell with the tone of its text, the hairline below, and the edge of a late row."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme

    def initStyleOption(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> None:
        super().initStyleOption(option, index)
        tone = index.data(Role.TONE)
        if tone:
            colour = self._theme.colour(tone)
            option.palette.setColor(QPalette.ColorRole.Text, colour)
            option.palette.setColor(QPalette.ColorRole.HighlightedText, colour)
        if index.data(Role.STRONG):
            option.font.setBold(True)

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        super().paint(painter, option, index)
        theme = self._theme
        area = QRectF(option.rect)
        thin = theme.border()
        painter.fillRect(QRectF(area.left(), area.bottom() - thin, area.width(), thin), theme.colour("line"))
        if index.column() == 0 and index.data(Role.LATE):
            turned = option.direction == Qt.LayoutDirection.RightToLeft
            width = theme.px(5)
            left = area.right() - width if turned else area.left()
            painter.fillRect(QRectF(left, area.top(), width, area.height()), theme.colour("madder"))
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.save()
            painter.setPen(theme.colour("clay"))
            half = 1.0
            for _stroke in range(2):
                painter.drawRect(area.adjusted(half, half, -half - 1, -half - 1))
                half += 1
            painter.restore()


class TableView(QTableView):
    """Shows a ``ShortTable`` or a ``PagedTable``; Enter or a double click opens the row."""

    row_height: ClassVar[int] = 35
    """Pixels at 100 per cent."""
    opened = Signal(object)
    """The id of the row that was opened."""
    picked = Signal(object)
    """The id of the row the cursor came to."""

    def __init__(self, theme: Theme, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self._has_model = False
        self._sorted: tuple[int, bool] | None = None
        self._fitted = False
        self._spare: tuple[int, ...] = ()
        self.setAccessibleName(name)
        self.setItemDelegate(CellDelegate(theme, self))
        self.setShowGrid(False)
        self.setCornerButtonEnabled(False)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setTabKeyNavigation(False)
        self.setWordWrap(False)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        rows = self.verticalHeader()
        rows.hide()
        rows.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        head = self.horizontalHeader()
        head.setHighlightSections(False)
        head.setSectionsClickable(True)
        head.setMinimumSectionSize(theme.px(36))
        head.sectionClicked.connect(self._sort_by)
        self.doubleClicked.connect(self._open)
        self._space()
        theme.changed.connect(self._space)

    def setModel(self, model: QAbstractItemModel | None) -> None:
        super().setModel(model)
        self._has_model = model is not None
        self._fitted = False
        if model is not None:
            model.modelReset.connect(self._fit_once)
            model.dataChanged.connect(self._fit_once)
            self.selectionModel().currentRowChanged.connect(self._tell_picked)
            self._fit_once()

    def row_id(self) -> object:
        """Return the id of the row under the cursor, or None."""
        index = self.currentIndex()
        return index.data(Role.ROW_ID) if index.isValid() else None

    def show_sorted(self, column: int, falling: bool = False) -> None:
        """Mark the column the rows are sorted by."""
        self._sorted = (column, falling)
        order = Qt.SortOrder.DescendingOrder if falling else Qt.SortOrder.AscendingOrder
        self.horizontalHeader().setSortIndicatorShown(True)
        self.horizontalHeader().setSortIndicator(column, order)

    def may_leave_out(self, columns: Sequence[int]) -> None:
        """Name the columns that are left out, in this order, where there is too little room for all."""
        for place in self._spare:
            self.setColumnHidden(place, False)
        self._spare = tuple(columns)
        self.fit_columns()

    def columns(self) -> tuple[Column, ...]:
        """Return the columns of the model, or none for a model of another make."""
        return getattr(self.model(), "columns", ())

    def fit_columns(self) -> None:
        """Fit the columns to their headings and a sample of rows, and let those that grow share the rest."""
        if not getattr(self, "_has_model", False):
            return
        model = self.model()
        plain, bold = QFontMetricsF(self.theme.font()), QFontMetricsF(self.theme.font(Type.BOLD))
        small, room = QFontMetricsF(self.theme.font(Type.SMALL_BOLD)), self.theme.px(24)
        widths = []
        for column in range(model.columnCount()):
            heading = str(model.headerData(column, Qt.Orientation.Horizontal) or "")
            width = small.horizontalAdvance(heading) + self.theme.px(8)
            for row in range(min(_SAMPLE, model.rowCount())):
                index = model.index(row, column)
                metrics = bold if index.data(Role.STRONG) else plain
                width = max(width, metrics.horizontalAdvance(str(index.data() or "")))
            gone = self.isColumnHidden(column) and column not in self._spare
            widths.append(0 if gone else min(self.theme.px(_WIDEST), round(width) + room))
        self._leave_out(widths)
        self._share(widths)

    def _leave_out(self, widths: list[int]) -> None:
        """Hide what may be left out until the rest fits; a column that grows is counted at its least."""
        least = [
            min(width, self._least(column)) if column.grows else width
            for width, column in zip(widths, self.columns(), strict=False)
        ]
        for place in self._spare:
            hidden = sum(least) > self.viewport().width()
            self.setColumnHidden(place, hidden)
            if hidden:
                least[place] = widths[place] = 0

    def _least(self, column: Column) -> int:
        return self.theme.px(column.least or _GROWN)

    def _share(self, widths: list[int]) -> None:
        shown = [place for place in range(len(widths)) if widths[place]]
        growing = [place for place in shown if place < len(self.columns()) and self.columns()[place].grows]
        growing = growing or shown[-1:]
        left = self.viewport().width() - sum(widths)
        for place in growing if widths and left < 0 else ():
            least = self._least(self.columns()[place]) if place < len(self.columns()) else self.theme.px(_GROWN)
            given = max(min(widths[place], least), widths[place] + left)
            left += widths[place] - given
            widths[place] = given
        if left < 0:
            spare = min(self.theme.px(_SPARE), -left // len(widths) + 1)
            widths = [width - spare if width else 0 for width in widths]
            left = self.viewport().width() - sum(widths)
        for place in growing if widths else ():
            widths[place] += max(0, left // len(growing))
        for place in shown:
            self.setColumnWidth(place, widths[place])

    def _fit_once(self) -> None:
        if self._fitted or not self._has_model or not self.model().rowCount():
            return
        if self.model().index(0, 0).data(Role.ROW_ID) is not None:
            self._fitted = True
            self.fit_columns()

    def _space(self) -> None:
        self.verticalHeader().setDefaultSectionSize(self.theme.px(self.row_height))
        self.horizontalHeader().setMinimumHeight(self.theme.px(30))
        self._fitted = False
        self._fit_once()

    def _sort_by(self, column: int) -> None:
        columns = self.columns()
        if column >= len(columns) or not columns[column].key:
            return
        falling = self._sorted == (column, False)
        self.show_sorted(column, falling)
        self.model().sort(column, self.horizontalHeader().sortIndicatorOrder())

    def _open(self, index: QModelIndex) -> None:
        if index.isValid() and index.data(Role.ROW_ID) is not None:
            self.opened.emit(index.data(Role.ROW_ID))

    def _tell_picked(self, index: QModelIndex) -> None:
        if index.isValid() and index.data(Role.ROW_ID) is not None:
            self.picked.emit(index.data(Role.ROW_ID))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        editing = self.state() == QAbstractItemView.State.EditingState
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not editing:
            self._open(self.currentIndex())
            return
        ends = {Qt.Key.Key_Home: 0, Qt.Key.Key_End: self.model().rowCount() - 1}
        if event.key() in ends and not event.modifiers() and self._reads_only():
            place = self.model().index(ends[Qt.Key(event.key())], max(0, self.currentIndex().column()))
            self.setCurrentIndex(place)
            return
        super().keyPressEvent(event)

    def _reads_only(self) -> bool:
        """Return whether lines are read, not cells typed: then Home and End go to the first line and the last."""
        return self.editTriggers() == QAbstractItemView.EditTrigger.NoEditTriggers

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.StyleChange, QEvent.Type.FontChange):
            self.fit_columns()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.fit_columns()
