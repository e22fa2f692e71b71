"""The evening by square: what came in, was washed and read, and what is asked of its supervisor."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from findsdesk.ui.benches.day.state import EveningRow
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.scroll_page import in_a_page
from findsdesk.words import N_

_QUESTIONS = 5
_LEAST = 80
"""Pixels of height, at 100 per cent, that the squares keep; more are scrolled."""


class EveningCard(Card):
    """A line for each square in which anything happened today."""

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        self._say = surroundings.words
        super().__init__(surroundings.theme, self._say(N_("Today by {square}")), parent)
        self._none = labels.muted(self._say(N_("Nothing came in and nothing was washed yet today.")))
        self._holder = QWidget()
        self.grid = QGridLayout(self._holder)
        self.grid.setContentsMargins(0, 0, 0, 0)
        self.body.addWidget(self._none)
        self._area = in_a_page(self._holder)
        self.body.addWidget(self._area, 1)
        self._keep_height()
        self.theme.changed.connect(self._keep_height)

    def _keep_height(self) -> None:
        self._area.setMinimumHeight(self.theme.px(_LEAST))

    def show_rows(self, rows: Sequence[EveningRow]) -> None:
        """Show these squares."""
        while self.grid.count():
            item = self.grid.takeAt(0)
            widget = item.widget() if item else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self._none.setVisible(not rows)
        self._area.setVisible(bool(rows))
        self.grid.setHorizontalSpacing(self.theme.px(13))
        self.grid.setVerticalSpacing(self.theme.px(5))
        say = self._say
        heads = (N_("{Square}"), N_("In"), N_("Washed"), N_("Count"), N_("Settled"), N_("Questions"))
        for column, head in enumerate(heads):
            self._put(0, column, labels.group(say(head)))
        for line, row in enumerate(rows, start=1):
            self._put(line, 0, labels.bold(row.square))
            for column, figure in enumerate((row.came_in, row.washed, row.pieces, row.read), start=1):
                self._put(line, column, labels.plain(figure, wrap=False))
            self._put(line, _QUESTIONS, labels.plain(row.questions))
        self.grid.setColumnStretch(_QUESTIONS, 1)

    def _put(self, line: int, column: int, label: QLabel) -> None:
        label.setWordWrap(line > 0 and column == _QUESTIONS)
        if 0 < column < _QUESTIONS:
            label.setAlignment(Qt.AlignmentFlag.AlignTrailing | Qt.AlignmentFlag.AlignTop)
        else:
            label.setAlignment(Qt.AlignmentFlag.AlignLeading | Qt.AlignmentFlag.AlignTop)
        self.grid.addWidget(label, line, column)
