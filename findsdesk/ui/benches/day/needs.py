"""What needs a person: lines that lead to the thing they are about."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QStyle, QVBoxLayout, QWidget

from findsdesk.ui.benches.day.state import NeedRow
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.painting import DrawnButton, focus_frame, painter_of
from findsdesk.words import _

_LEAST_BESIDE = 200
"""Pixels of width, at 100 per cent, that the text keeps; where less is left the time stands below it."""
_LIKES = 320
"""Pixels of width, at 100 per cent, that a line likes to have."""


class NeedLine(DrawnButton):
    """One line; pressing it takes the thing in hand and goes to where it is settled."""

    def __init__(self, theme: Theme, row: NeedRow) -> None:
        super().__init__(theme)
        self.row = row
        self.setAccessibleName(", ".join(part for part in (row.head, row.text, row.since) if part))
        self._text, self._since = labels.headed(row.head, f"  {row.text}"), labels.muted(row.since)
        for part in self.texts():
            part.setParent(self)
            part.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def texts(self) -> list[QLabel]:
        """Return the labels of the line."""
        return [self._text, self._since]

    def _places(self, width: int) -> tuple[QRect, QRect]:
        """Return where the text and the time stand on a line of that width: beside, or below where it is narrow."""
        px = self.theme.px
        left, top, whole, gap = px(10), px(7), width - px(16), px(12)
        since = self._since.fontMetrics().horizontalAdvance(self.row.since) + 1 if self.row.since else 0
        beside = whole - gap - since if since else whole
        if beside >= px(_LEAST_BESIDE) or not since:
            text = QRect(left, top, beside, self._text.heightForWidth(beside))
            return text, QRect(left + whole - since, top, since, self._since.heightForWidth(since))
        text = QRect(left, top, whole, self._text.heightForWidth(whole))
        return text, QRect(left, text.bottom() + 1, whole, self._since.heightForWidth(whole))

    def _place(self) -> None:
        whole = self.rect()
        for part, place in zip(self.texts(), self._places(self.width()), strict=True):
            part.setGeometry(QStyle.visualRect(self.layoutDirection(), whole, place))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place()

    def _new_look(self) -> None:
        super()._new_look()
        self._place()

    def sizeHint(self) -> QSize:
        width = self.theme.px(_LIKES)
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.px(180), self.theme.px(40))

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return max(place.bottom() + 1 for place in self._places(width)) + self.theme.px(7)

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter = self.theme, painter_of(self)
        thin = theme.border()
        painter.fillRect(QRectF(0, self.height() - thin, self.width(), thin), theme.colour("line"))
        if self.row.late:
            turned = self.layoutDirection() == Qt.LayoutDirection.RightToLeft
            width = theme.px(4)
            painter.fillRect(
                QRectF(self.width() - width if turned else 0, theme.px(5), width, self.height() - theme.px(11)),
                theme.colour("madder"),
            )
        if self.hasFocus():
            focus_frame(painter, QRectF(self.rect()), theme.colour("ink"))


class NeedsList(QWidget):
    """All lines, or that nothing needs anybody."""

    chosen = Signal(object)
    """The ``NeedRow`` that was pressed."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.lines: list[NeedLine] = []
        self._none = labels.muted(_("Nothing waits for anybody. What is missing, late or doubtful will stand here."))
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(0)
        self._layout.addWidget(self._none)
        self._layout.addStretch(1)

    def show_rows(self, rows: Sequence[NeedRow]) -> None:
        """Show these lines instead of those before; a line that stays keeps the keyboard."""
        if [line.row for line in self.lines] == list(rows):
            return
        for line in self.lines:
            self._layout.removeWidget(line)
            line.hide()
            line.deleteLater()
        self.lines = [NeedLine(self.theme, row) for row in rows]
        for place, line in enumerate(self.lines):
            line.clicked.connect(lambda _checked=False, row=line.row: self.chosen.emit(row))
            self._layout.insertWidget(place, line)
        self._none.setVisible(not rows)
