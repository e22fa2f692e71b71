"""The line below the row being typed: what is wrong in a cell that was left, or the rule behind the decision."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFont, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from findsdesk.ui.announcing import announce
from findsdesk.ui.benches.sorting.in_columns import column_widths
from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets.painting import Drawn, draw_text, fitted, painter_of, text_width


class BelowLine(Drawn):
    """Writes under the cell it is about, or as near to it as there is room."""

    def __init__(self, theme: Theme, width_of: Callable[[], int], parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._width_of = width_of
        self.columns: tuple[str, ...] = ()
        self.column, self.text, self.tone = "", "", "muted"
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def stand_in_a_row(self) -> None:
        """Stand over a row of the table, below its cells."""
        self.setAutoFillBackground(True)
        self.hide()

    def say(self, column: str, text: str, *, wrong: bool = False) -> None:
        """Write this under a column; nothing where the text is empty."""
        tone = "madder" if wrong else "muted"
        if (column, text, tone) == (self.column, self.text, self.tone):
            return
        self.column, self.text, self.tone = column, text, tone
        self.setAccessibleName(text)
        if wrong:
            announce(self, text)
        self.update()

    def left_of_text(self) -> float:
        """Return where the text begins, in pixels from the beginning of the line."""
        if self.column not in self.columns:
            return 0.0
        widths = column_widths(min(self._width_of(), self.width()) or self.width(), self.columns)
        begins = float(sum(widths[: self.columns.index(self.column)]))
        return max(0.0, min(begins, self.width() - text_width(self._font(), self.text)))

    def _font(self) -> QFont:
        """Return the font in which the whole text stands in the line."""
        return fitted(self.theme.font(Type.SMALL), self.text, self.width())

    def sizeHint(self) -> QSize:
        return QSize(self.theme.px(200), self.theme.line_height(Type.SMALL))

    def minimumSizeHint(self) -> QSize:
        return QSize(1, self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        if not self.text:
            return
        painter, begins = painter_of(self), self.left_of_text()
        turned = self.layoutDirection() == Qt.LayoutDirection.RightToLeft
        area = QRectF(0 if turned else begins, 0, self.width() - begins, self.height())
        side = Qt.AlignmentFlag.AlignRight if turned else Qt.AlignmentFlag.AlignLeft
        font, colour = self._font(), self.theme.colour(self.tone)
        draw_text(painter, area, self.text, font, colour, side | Qt.AlignmentFlag.AlignVCenter)
