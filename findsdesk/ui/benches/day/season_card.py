"""Every piece of the season as one bar, its figures in two columns, and whether it balances."""

from __future__ import annotations

from PySide6.QtWidgets import QGridLayout, QWidget

from findsdesk.ui.benches.day.state import SeasonFigures
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.balance_bar import BalanceBar
from findsdesk.ui.widgets.card import Card

_COLUMNS = 2


class SeasonCard(Card):
    """Shows a ``SeasonFigures``."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent=parent)
        self.bar = BalanceBar(theme, words_inside=False)
        self._holder = QWidget()
        self._grid = QGridLayout(self._holder)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._together = labels.plain()
        self.verdict = labels.plain()
        for part in (self.bar, self._holder, self._together, self.verdict):
            self.body.addWidget(part)
        self.body.addStretch(1)

    def show_figures(self, season: SeasonFigures) -> None:
        """Show the season's figures."""
        self.say_heading(season.heading)
        self.bar.show_parts(season.parts)
        while self._grid.count():
            item = self._grid.takeAt(0)
            widget = item.widget() if item else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self._grid.setHorizontalSpacing(self.theme.px(14))
        self._grid.setVerticalSpacing(self.theme.px(4))
        for place, (figure, words) in enumerate(season.figures):
            self._grid.addWidget(labels.headed(figure, f" {words}"), place // _COLUMNS, place % _COLUMNS)
        self._holder.setVisible(bool(season.figures))
        self._together.setText(season.together)
        self._together.setVisible(bool(season.together))
        self.verdict.setText(season.verdict)
        counted = bool(season.figures)
        labels.restyle(self.verdict, agreed=season.balances and counted, wrong=not season.balances, muted=not counted)
