"""One line large enough to read across the table, and a line of figures with their words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPaintEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QVBoxLayout, QWidget

from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.painting import Drawn, draw_text, fitted, painter_of, text_width

_SMALLEST = 10
"""Pixels below which no letter is set."""


class BigLine(Drawn):
    """The last line dictated, or what is in hand; made smaller, or set in two lines, rather than cut."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._text, self._quiet = "", False
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_text(self, text: str, *, quiet: bool = False) -> None:
        """Show this line; ``quiet`` for one that only holds the place: small and muted."""
        if (text, quiet) == (self._text, self._quiet):
            return
        self._text, self._quiet = text, quiet
        self.setAccessibleName(text)
        self.update()

    def text(self) -> str:
        """Return the line."""
        return self._text

    def sizeHint(self) -> QSize:
        return QSize(self.theme.px(300), self.theme.px(44))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.px(120), self.theme.px(44))

    def font_of_text(self) -> QFont:
        """Return the largest font in which the whole text stands here, in one line or else in two."""
        theme, room, text = self.theme, self.rect(), labels.breakable(self._text)
        if self._quiet:
            return theme.font(Type.SMALL)
        font = theme.font(Type.TAG)
        font.setPixelSize(round(font.pixelSize() * 1.2))
        font = fitted(font, text, room.width(), smallest=theme.px(15))
        wrapped = Qt.TextFlag.TextWordWrap.value
        while (
            text_width(font, text) > room.width()
            and font.pixelSize() > _SMALLEST
            and not room.contains(QFontMetrics(font).boundingRect(room, wrapped, text))
        ):
            font.setPixelSize(font.pixelSize() - 1)
        return font

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, font = painter_of(self), self.font_of_text()
        turned = self.layoutDirection() == Qt.LayoutDirection.RightToLeft
        begin = Qt.AlignmentFlag.AlignRight if turned else Qt.AlignmentFlag.AlignLeft
        text = labels.breakable(self._text)
        colour, wrap = self.theme.colour("muted" if self._quiet else "ink"), text_width(font, text) > self.width()
        where = begin | Qt.AlignmentFlag.AlignVCenter
        draw_text(painter, QRectF(self.rect()), text, font, colour, where, wrap=wrap)


@dataclass(frozen=True, slots=True)
class Figure:
    """A number with the words around it: "Washing is" + "1 day" + "behind the trench"."""

    number: str
    after: str = ""
    before: str = ""


def figure_label(figure: Figure, size: int | None = None) -> QLabel:
    """Return a figure with its words as a label, the number strong, and of so many pixels where that is said."""
    label = labels.headed(wrap=False)
    number = labels.rich(figure.number)
    if size is not None:
        number = f'<span style="font-size:{size}px">{number}</span>'
    before = labels.rich("", f"{figure.before} ") if figure.before else ""
    after = labels.rich("", f" {figure.after}") if figure.after else ""
    label.setText(f"{before}{number}{after}")
    label.setAccessibleName(f"{figure.before} {figure.number} {figure.after}".strip())
    return label


class FigureLine(QWidget):
    """Large figures side by side; a new line begins where there is no more room."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self._labels: list[QLabel] = []
        self._figures: tuple[Figure, ...] = ()
        self._flow = FlowLayout()
        self.setLayout(self._flow)
        theme.changed.connect(self._show)

    def show_figures(self, figures: Sequence[Figure]) -> None:
        """Show these figures instead of those before."""
        if tuple(figures) != self._figures:
            self._figures = tuple(figures)
            self._show()

    def _show(self) -> None:
        self._flow.set_gaps(self.theme.px(28), self.theme.px(4))
        for label in self._labels:
            self._flow.removeWidget(label)
            label.hide()
            label.deleteLater()
        size = self.theme.font(Type.TITLE).pixelSize()
        self._labels = [figure_label(figure, size) for figure in self._figures]
        for label in self._labels:
            self._flow.addWidget(label)


class FigureColumns(QWidget):
    """Figures below one another in columns, the number leading: "3,310 kept"."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self._flow = FlowLayout(theme.px(20), theme.px(4))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        self._holder = QWidget()
        self._holder.setLayout(self._flow)
        layout.addWidget(self._holder)
        self._labels: list[QLabel] = []

    def show_figures(self, figures: Sequence[Figure]) -> None:
        """Show these figures instead of those before, all as wide as the widest."""
        for label in self._labels:
            self._flow.removeWidget(label)
            label.hide()
            label.deleteLater()
        self._labels = [labels.headed(figure.number, f" {figure.after}", wrap=False) for figure in figures]
        widest = max((label.sizeHint().width() for label in self._labels), default=0)
        for label in self._labels:
            label.setMinimumWidth(widest)
            self._flow.addWidget(label)
