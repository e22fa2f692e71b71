"""The scan line: always ready, the last answer in words beside it."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QFontMetricsF, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QSizePolicy, QWidget

from findsdesk.ui.announcing import announce
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.painting import Drawn, draw_text, fill, painter_of, pen
from findsdesk.words import _

HEIGHT = 64
FLASH_MS = 120
_PICTURE_FROM = 620
"""Pixels of width from which there is room for the picture of a barcode."""
_MARKS = {Tone.DONE: ("green", "✓"), Tone.ALREADY: ("ochre", "="), Tone.REFUSED: ("madder", "×"), Tone.PLAIN: ("", "")}
_BARS = (3, 1, 2, 1, 4, 2, 1, 1, 3, 2, 1, 3, 2, 2, 4)
"""Widths of bars and gaps in turn: a picture of a barcode that says nothing."""


class _BarcodePicture(Drawn):
    def sizeHint(self) -> QSize:
        return QSize(self.theme.px(40), self.theme.px(26))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = painter_of(self)
        painter.setRenderHint(painter.RenderHint.Antialiasing, False)
        unit, x = self.width() / sum(_BARS), 0.0
        for index, bar in enumerate(_BARS):
            if index % 2 == 0:
                fill(painter, QRectF(x, 0, unit * bar, self.height()), self.theme.colour("ink"))
            x += unit * bar


class ToneMark(Drawn):
    """A disc with a tick, an equals sign or a cross: a shape beside the colour."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.tone = Tone.PLAIN
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def show_tone(self, tone: Tone) -> None:
        """Show the mark of that tone."""
        self.tone = tone
        self.setVisible(tone is not Tone.PLAIN)
        self.update()

    def sizeHint(self) -> QSize:
        side = self.theme.px(24)
        return QSize(side, side)

    def paintEvent(self, event: QPaintEvent) -> None:
        role, mark = _MARKS[self.tone]
        if not role:
            return
        painter = painter_of(self)
        area = QRectF(self.rect()).adjusted(1, 1, -1, -1)
        painter.setBrush(self.theme.colour(role))
        painter.setPen(Qt.PenStyle.NoPen)
        if self.tone is Tone.REFUSED:
            painter.drawRect(area)
        else:
            painter.drawEllipse(area)
        white = self.theme.colour("card")
        if self.tone is Tone.DONE:
            w, h = area.width(), area.height()
            painter.setPen(QPen(white, max(2.0, w / 10), c=Qt.PenCapStyle.RoundCap, j=Qt.PenJoinStyle.RoundJoin))
            points = [
                QPointF(area.left() + w * x, area.top() + h * y) for x, y in ((0.28, 0.53), (0.44, 0.7), (0.74, 0.33))
            ]
            painter.drawPolyline(points)
        else:
            draw_text(painter, area, mark, self.theme.font(Type.TITLE), white, Qt.AlignmentFlag.AlignCenter)


class ScanLine(QFrame):
    """Barcode picture, field, and the last answer."""

    entered = Signal(str)
    """A text typed and closed with Enter, to be found like a scan."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.answer = Answer(Tone.PLAIN, "")
        self._flashing = False
        self.field = QLineEdit()
        self.field.setProperty("scan", True)
        self.field.setPlaceholderText(_("scan, or type a number or word"))
        self.field.setAccessibleName(_("Scan line: scan, or type a number or word"))
        self.field.returnPressed.connect(self._enter)
        self._picture = _BarcodePicture(theme)
        self._mark = ToneMark(theme)
        self._words = labels.headed()
        self._words.setProperty("kind", "large")
        self._words.setAccessibleName(_("Last answer"))
        self._layout = QHBoxLayout(self)
        self._layout.addWidget(self._picture)
        self._layout.addWidget(self.field, 1)
        self._layout.addWidget(self._mark)
        self._layout.addWidget(self._words, 3)
        self._flash = QTimer(self)
        self._flash.setSingleShot(True)
        self._flash.setInterval(FLASH_MS)
        self._flash.timeout.connect(self._end_flash)
        self._space()
        self.show_answer(self.answer)
        theme.changed.connect(self._space)

    def show_answer(self, answer: Answer, flash: bool = False) -> None:
        """Write the answer beside the field; ``flash`` colours the line for 120 ms, the only motion there is."""
        self.answer = answer
        self._mark.show_tone(answer.tone)
        self._words.setText(labels.rich(answer.head, answer.rest))
        self._fit_words()
        self._words.setAccessibleName(answer.in_one_line() or _("Last answer"))
        announce(self._words, answer.in_one_line())
        if flash and answer.tone is not Tone.PLAIN:
            self._flashing = True
            self._flash.start()
        self.update()

    def propose(self, text: str, chosen: int) -> None:
        """Write a text into the field with its first signs chosen, so that typing replaces them and Enter takes it."""
        self.field.setText(text)
        self.field.setSelection(0, chosen)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._picture.setVisible(self.width() >= self.theme.px(_PICTURE_FROM))
        self._fit_words()

    def _fit_words(self) -> None:
        """Take the largest type in which the whole answer stands in the line."""
        if not self._words.text():
            return
        for kind in ("large", "plain", "small"):
            if self._words.property("kind") != kind:
                self._words.setProperty("kind", kind)
                labels.restyle(self._words)
            if self._words.heightForWidth(self._words.width()) <= self.height() - self.theme.px(4):
                return

    def _end_flash(self) -> None:
        self._flashing = False
        self.update()

    def _enter(self) -> None:
        text = self.field.text().strip()
        if text:
            self.field.clear()
            self.entered.emit(text)

    def _space(self) -> None:
        px = self.theme.px
        self.setFixedHeight(px(HEIGHT))
        self._layout.setContentsMargins(px(18), 0, px(18), 0)
        self._layout.setSpacing(px(14))
        self._picture.setFixedSize(self._picture.sizeHint())
        wanted = QFontMetricsF(self.theme.font()).horizontalAdvance(self.field.placeholderText())
        self.field.setMinimumWidth(round(wanted) + px(34))
        self.field.setMaximumWidth(px(300))
        self._mark.setFixedSize(self._mark.sizeHint())

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = painter_of(self)
        ground = {Tone.DONE: "water", Tone.REFUSED: "refusal_fill"}.get(self.answer.tone, "caution_fill")
        fill(painter, self.rect(), self.theme.colour(ground if self._flashing else "card"))
        if self._flashing:
            edge = _MARKS[self.answer.tone][0] or "ink"
            painter.setPen(pen(self.theme.colour(edge), self.theme.px(4)))
            painter.drawLine(0, self.height() - 2, self.width(), self.height() - 2)
            return
        height = max(1, round(self.theme.border()))
        fill(painter, QRect(0, self.height() - height, self.width(), height), self.theme.colour("line"))
