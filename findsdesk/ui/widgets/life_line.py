"""The life line: dated steps down the dossier, filled dots behind, a clay dot now, open dots ahead."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QBrush, QPaintEvent, QPen
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.dossier_facts import LifeStep, When
from findsdesk.ui.widgets.painting import Drawn, margins, painter_of, pen
from findsdesk.words import N_, put

_SAID = {When.BEHIND: N_("done"), When.NOW: N_("now"), When.AHEAD: N_("to come")}


class LifeLine(Drawn):
    """Shows the steps of one life; every step is a label, so that it can be read out and selected."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._rows: list[tuple[LifeStep, QLabel]] = []
        self._layout = QVBoxLayout(self)
        self._space()

    def show_steps(self, steps: Sequence[LifeStep]) -> None:
        """Show these steps instead of those before."""
        for _step, label in self._rows:
            self._layout.removeWidget(label)
            label.hide()
            label.deleteLater()
        self._rows = [(step, self._row(step)) for step in steps]
        self.setVisible(bool(steps))
        self.updateGeometry()
        self.update()

    def _row(self, step: LifeStep) -> QLabel:
        label = labels.headed(step.head, step.rest)
        if step.when is When.AHEAD:
            label.setText(f"{step.head}{step.rest}")
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setProperty("muted", True)
        if step.late:
            label.setProperty("wrong", True)
        label.setAccessibleName(f"{step.head}{step.rest} ({put(_SAID[step.when])})")
        self._layout.addWidget(label)
        return label

    def _space(self) -> None:
        px = self.theme.px
        self._layout.setContentsMargins(margins(self, px(29), 0, 0, 0))
        self._layout.setSpacing(px(9))

    def _new_look(self) -> None:
        self._space()
        super()._new_look()

    def paintEvent(self, event: QPaintEvent) -> None:
        if not self._rows:
            return
        theme, painter = self.theme, painter_of(self)
        middle = theme.px(8)
        x = float(self.width() - middle if self.layoutDirection() == Qt.LayoutDirection.RightToLeft else middle)
        half_line = theme.line_height() / 2
        places = [label.y() + half_line for _step, label in self._rows]
        painter.setPen(pen(theme.colour("line"), theme.px(3)))
        last_label = self._rows[-1][1]
        painter.drawLine(QPointF(x, max(0.0, places[0] - theme.px(10))), QPointF(x, last_label.geometry().bottom()))
        for (step, _label), y in zip(self._rows, places, strict=True):
            radius = theme.px(6) if step.when is not When.BEHIND else theme.px(5)
            fill, line = {
                When.BEHIND: ("ink", "card"),
                When.NOW: ("clay", "card"),
                When.AHEAD: ("card", "edge"),
            }[step.when]
            painter.setBrush(QBrush(theme.colour(fill)))
            painter.setPen(QPen(theme.colour(line), theme.border(1.6)))
            painter.drawEllipse(QPointF(x, y), radius, radius)
