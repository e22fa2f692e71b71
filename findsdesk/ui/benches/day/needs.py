"""What needs a person: lines that lead to the thing they are about."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from findsdesk.ui.benches.day.state import NeedRow
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.painting import DrawnButton, focus_frame, painter_of
from findsdesk.words import _


class NeedLine(DrawnButton):
    """One line; pressing it takes the thing in hand and goes to where it is settled."""

    def __init__(self, theme: Theme, row: NeedRow) -> None:
        super().__init__(theme)
        self.row = row
        self.setAccessibleName(", ".join(part for part in (row.head, row.text, row.since) if part))
        self._layout = QHBoxLayout(self)
        self._parts = [labels.headed(row.head, f"  {row.text}"), labels.muted(row.since, wrap=False)]
        for part in self._parts:
            part.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self._layout.addWidget(self._parts[0], 1)
        self._layout.addWidget(self._parts[1], 0, Qt.AlignmentFlag.AlignTop)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self._space()

    def texts(self) -> list[QLabel]:
        """Return the labels of the line."""
        return self._parts

    def _space(self) -> None:
        px = self.theme.px
        self._layout.setContentsMargins(px(10), px(7), px(6), px(7))
        self._layout.setSpacing(px(12))

    def _new_look(self) -> None:
        self._space()
        super()._new_look()

    def sizeHint(self) -> QSize:
        return self._layout.sizeHint()

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.px(180), self.theme.px(40))

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return self._layout.heightForWidth(width)

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
