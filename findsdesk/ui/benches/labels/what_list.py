"""The list at the left: what can be printed or written, and how much of it waits. Up and Down walk."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from findsdesk.ui.benches.labels.label_words import RowWords
from findsdesk.ui.benches.labels.rows import Row
from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets.painting import DrawnButton, draw_text, focus_frame, hatch, painter_of, text_width
from findsdesk.words import _, grouped

_HEIGHT, _LOW_HEIGHT = 31, 26


class _WhatRow(DrawnButton):
    """One line: its name, and how much waits at the far side."""

    def __init__(self, theme: Theme, row: Row) -> None:
        super().__init__(theme)
        self.row = row
        self.words = RowWords(row, "", None)
        self.is_chosen = False
        self.is_low = False
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_words(self, words: RowWords, chosen: bool) -> None:
        """Write the line; the chosen one is where the keyboard comes in."""
        self.words, self.is_chosen = words, chosen
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus if chosen else Qt.FocusPolicy.ClickFocus)
        waits = _("{n} waiting").format(n=grouped(words.amount)) if words.amount is not None else ""
        self.setAccessibleName(", ".join(part for part in (words.name, waits, _("chosen") if chosen else "") if part))
        self.updateGeometry()
        self.update()

    def make_low(self, low: bool) -> None:
        """Stand lower where there is little height."""
        self.is_low = low
        self.updateGeometry()

    def _figure(self) -> str:
        return "" if self.words.amount is None else grouped(self.words.amount)

    def sizeHint(self) -> QSize:
        theme = self.theme
        width = text_width(theme.font(Type.BOLD), self.words.name) + text_width(theme.font(Type.BOLD), self._figure())
        return QSize(round(width) + theme.px(42), theme.px(_LOW_HEIGHT if self.is_low else _HEIGHT))

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme, painter = self.theme, painter_of(self)
        area = QRectF(self.rect())
        turned = self.layoutDirection() == Qt.LayoutDirection.RightToLeft
        if self.is_chosen:
            painter.fillRect(area, theme.colour("card"))
            edge = theme.px(5)
            painter.fillRect(
                QRectF(area.right() - edge if turned else area.left(), area.top(), edge, area.height()),
                theme.colour("clay"),
            )
        if not self.isEnabled():
            hatch(painter, area, theme.colour("hatch"), theme.px(9), theme.border(0.7))
        thin = theme.border()
        painter.fillRect(QRectF(area.left(), area.bottom() - thin, area.width(), thin), theme.colour("line"))
        inside = area.adjusted(theme.px(14), 0, -theme.px(10), 0)
        middle, sides = Qt.AlignmentFlag.AlignVCenter, (Qt.AlignmentFlag.AlignLeft, Qt.AlignmentFlag.AlignRight)
        begin, end = reversed(sides) if turned else sides
        ink = theme.colour("ink" if self.isEnabled() else "muted")
        if not self.isEnabled():
            written = text_width(theme.font(Type.BOLD), self.words.name) + theme.px(8)
            painter.fillRect(_words_area(inside, written, turned), theme.colour("ground"))
        font = theme.font(Type.BOLD if self.is_chosen else Type.BASE)
        draw_text(painter, inside, self.words.name, font, ink, begin | middle)
        waits = theme.font(Type.BOLD if self.words.amount else Type.BASE)
        if self.isEnabled():
            grey = theme.colour("muted")
            draw_text(painter, inside, self._figure(), waits, ink if self.words.amount else grey, end | middle)
        if self.hasFocus():
            focus_frame(painter, area, ink)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        owner = self.parentWidget()
        steps = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
        key = Qt.Key(event.key())
        if key in steps and isinstance(owner, WhatList):
            owner.walk(self.row, steps[key])
            return
        super().keyPressEvent(event)


def _words_area(inside: QRectF, width: float, turned: bool) -> QRectF:
    """Return where the name of a line stands, so that hatching leaves it free."""
    left = inside.right() - width if turned else inside.left() - 4
    return QRectF(left, inside.top() + 2, width, inside.height() - 5)


class WhatList(QWidget):
    """All lines, one of them chosen."""

    chosen = Signal(str)
    """The row, as its key."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(_("What to print or write"))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        self.lines: dict[Row, _WhatRow] = {}
        for row in Row:
            line = _WhatRow(theme, row)
            line.clicked.connect(lambda _checked=False, row=row: self.chosen.emit(str(row)))
            layout.addWidget(line)
            self.lines[row] = line

    def show_rows(self, rows: Sequence[RowWords], chosen: Row) -> None:
        """Show how much waits in each row, and which is chosen."""
        for words in rows:
            self.lines[words.row].show_words(words, words.row is chosen)

    def walk(self, row: Row, steps: int) -> None:
        """Choose the row so many lines further, and take the keyboard there."""
        rows = list(Row)
        there = rows[max(0, min(len(rows) - 1, rows.index(row) + steps))]
        if there is not row:
            self.chosen.emit(str(there))
            self.lines[there].setFocus(Qt.FocusReason.TabFocusReason)

    def take_keyboard(self) -> QWidget:
        """Return the chosen line, which takes the keyboard."""
        return next((line for line in self.lines.values() if line.is_chosen), self.lines[Row.BAG])

    def make_low(self, low: bool) -> None:
        """Stand lower where there is little height."""
        for line in self.lines.values():
            line.make_low(low)
