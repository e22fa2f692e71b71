"""A field for a Munsell notation, with its colour on a screen beside it: an approximation, and said to be one."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QRectF, QSize
from PySide6.QtGui import QColor, QFocusEvent, QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QSizePolicy, QWidget

from findsdesk.domain.munsell import read_munsell
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.swatches import SOURCE, Swatch, swatch
from findsdesk.ui.announcing import announce
from findsdesk.ui.widgets import labels
from findsdesk.words import _


class SwatchPatch(QWidget):
    """A patch of one colour; crossed out where a screen cannot show it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.shown: Swatch | None = None
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def show_swatch(self, shown: Swatch | None) -> None:
        """Show a colour, or none."""
        self.shown = shown
        self.update()

    def sizeHint(self) -> QSize:
        height = self.fontMetrics().height() + 8
        return QSize(round(1.6 * height), height)

    def paintEvent(self, event: QPaintEvent) -> None:
        if self.shown is None:
            return
        painter = QPainter(self)
        area = QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5)
        painter.setPen(self.palette().color(QPalette.ColorRole.Mid))
        painter.setBrush(QColor(self.shown.red, self.shown.green, self.shown.blue))
        painter.drawRect(area)
        if not self.shown.within_screen:
            painter.setPen(self.palette().color(QPalette.ColorRole.WindowText))
            painter.drawLine(area.bottomLeft(), area.topRight())


class MunsellField(QWidget):
    """What is typed is judged on leaving; the nearest chip stands beside it."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.line = QLineEdit()
        self.line.setAccessibleName(name)
        self.patch = SwatchPatch()
        self.said: QLabel = labels.muted(small=True)
        """Which chip is meant, and how good its colour on a screen is."""
        self.wrong: QLabel = labels.plain()
        """What is wrong; it takes room only where it stands in a form."""
        self.wrong.setProperty("kind", "small")
        labels.restyle(self.wrong, wrong=True)
        self.wrong.hide()
        self.setFocusProxy(self.line)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.line)
        row.addWidget(self.patch)
        row.addWidget(self.said, 1)
        self.line.textEdited.connect(lambda _text: self._show(judge=False))
        self.line.installEventFilter(self)

    def show_notation(self, text: str) -> None:
        """Show a notation as it is stored."""
        self.line.setText(text)
        self._show(judge=True)

    def judge(self) -> bool:
        """Say what is wrong with what is typed; return whether it can be read, or nothing is there."""
        return self._show(judge=True)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Judge on leaving the field."""
        if watched is self.line and isinstance(event, QFocusEvent) and event.lostFocus():
            self._show(judge=True)
        return super().eventFilter(watched, event)

    def _show(self, *, judge: bool) -> bool:
        text = self.line.text().strip()
        if not text:
            self._say(None, "")
            return True
        try:
            colour = read_munsell(text)
        except Refusal as refusal:
            self._say(None, "", refusal.in_words() if judge else "")
            self._mark(judge)
            if judge:
                announce(self.line, refusal.in_words())
            return False
        found = swatch(colour)
        self._say(found, self._of_chip(found))
        return True

    def _of_chip(self, found: Swatch) -> str:
        said = _("about this colour") if found.exact else _("nearest chip {chip}, about").format(chip=found.chip)
        return said if found.within_screen else _("{said}; no screen shows it").format(said=said)

    def _say(self, found: Swatch | None, text: str, wrong: str = "") -> None:
        self._mark(False)
        self.patch.show_swatch(found)
        self.said.setText(text)
        self.wrong.setText(wrong)
        # Without a parent it would be a window of its own.
        self.wrong.setVisible(bool(wrong) and self.wrong.parent() is not None)
        self.said.setToolTip(SOURCE if found else "")

    def _mark(self, wrong: bool) -> None:
        self.line.setProperty("wrong", wrong)
        self.line.style().unpolish(self.line)
        self.line.style().polish(self.line)
