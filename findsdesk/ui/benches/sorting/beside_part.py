"""Beside the table: the date profile, growing with each row; what gives the terminus; what looks late."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from findsdesk.desk.live_dates import LiveDates
from findsdesk.desk.rows_behind import Behind
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.dossier_facts import Caution
from findsdesk.ui.widgets.profile_chart import Chart, ChartBar, ChartLine, ProfileChart
from findsdesk.ui.widgets.slips import CautionSlip
from findsdesk.words import _


class BesidePart(QWidget):
    """Stands in the dossier while the table is open."""

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.surroundings = surroundings
        self.heading = labels.group()
        self.chart = ProfileChart(surroundings.theme)
        self.dates = labels.plain()
        self.undated = labels.muted(small=True)
        self.late = CautionSlip(surroundings.theme)
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        for part in (self.heading, self.chart, self.dates, self.late, self.undated):
            self._layout.addWidget(part)
        self.shown: LiveDates | None = None
        self.chart.opened.connect(self._open)
        self.show_dates(None)
        surroundings.theme.changed.connect(self._space)
        self._space()

    def show_dates(self, shown: LiveDates | None) -> None:
        """Show the dates of what is on the table, or that there is nothing."""
        self.shown = shown
        empty = _("The dates of what is read stand here, and grow with each row.")
        bars = shown.bars if shown else ()
        self.heading.setText(shown.heading if shown else "")
        self.heading.setToolTip(shown.how_profile if shown else "")
        self.heading.setVisible(bool(shown))
        self.chart.show_chart(
            Chart(
                tuple(ChartBar(bar.begin, bar.until, bar.share, bar.late) for bar in bars),
                tuple(ChartLine(line.year, line.words, line.dashed) for line in shown.lines) if shown else (),
                shown.unit if shown else "",
                empty,
            )
        )
        self.dates.setText(", ".join(part for part in (shown.terminus, shown.mean) if part) if shown else "")
        self.dates.setToolTip(shown.how_years if shown else "")
        self.dates.setAccessibleDescription(self.dates.toolTip())
        self.dates.setVisible(bool(self.dates.text()))
        self.undated.setText(shown.undated if shown else "")
        self.undated.setVisible(bool(self.undated.text()))
        self.late.show_caution(Caution(shown.late_head, shown.late_rest) if shown and shown.late_head else None)

    def _open(self, begin: int, until: int) -> None:
        """Show the rows that can be of the years of a bar."""
        if self.shown is not None:
            self.surroundings.open_rows(self.shown.scope, Behind("bar", begin=begin, until=until))

    def _space(self) -> None:
        self._layout.setSpacing(self.surroundings.theme.px(6))
