"""How far a table is read or taken in: rows done of rows, and a button that calls it off."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QProgressBar, QPushButton, QWidget

from findsdesk.ui.background import Job
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.words import N_, _, grouped, put


class RowsFollowed(QWidget):
    """Hidden while nothing is under way."""

    off = Signal()
    """What was under way is called off."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.job: Job | None = None
        self.bar, self.said = QProgressBar(), labels.plain(wrap=False)
        self.bar.setAccessibleName(_("How far it is"))
        self.bar.setTextVisible(False)
        self.stop = QPushButton(_("Stop"))
        self.stop.clicked.connect(self.call_off)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        for part in (self.bar, self.said, self.stop):
            row.addWidget(part)
        self.bar.setMinimumWidth(theme.px(120))
        self.hide()

    def begin(self, job: Job) -> None:
        """Follow a piece of work; nothing is known of its rows yet."""
        self.job = job
        self.bar.setRange(0, 0)
        self.said.clear()
        self.stop.setEnabled(True)
        self.show()

    def tell(self, done: int, of: int) -> None:
        """Say how many rows are done."""
        self.bar.setRange(0, of)
        self.bar.setValue(done)
        self.said.setText(put(N_("{done} of {rows} rows"), None, {"done": grouped(done), "rows": grouped(of)}))

    def end(self) -> None:
        """Follow nothing any more."""
        self.job = None
        self.hide()

    def call_off(self) -> None:
        """Call off what is under way, once."""
        if self.job is not None:
            self.stop.setEnabled(False)
            self.job.call_off()
            self.off.emit()
