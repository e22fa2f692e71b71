"""The parts of a dossier below its title: the life line, the sections, the cautions."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.dossier_facts import DossierFacts, Section
from findsdesk.ui.widgets.life_line import LifeLine
from findsdesk.ui.widgets.painting import fill, painter_of
from findsdesk.ui.widgets.slips import CautionSlip
from findsdesk.words import _

_LONGEST_FIGURE = 12
"""Characters up to which a cell at the far side stands in one line; what is longer are words, and they wrap."""


def add_parts(theme: Theme, layout: QVBoxLayout, facts: DossierFacts) -> None:
    """Put what the facts say of one thing into the column."""
    for section in facts.asked:
        _add_section(theme, layout, section)
    if facts.life:
        layout.addSpacing(theme.px(4))
        layout.addWidget(labels.group(facts.life_title or _("Its life so far")))
        line = LifeLine(theme)
        # First its place: shown without a parent a part is a window of its own for a moment and takes the keyboard.
        layout.addWidget(line)
        line.show_steps(facts.life)
    for section in facts.sections:
        _add_section(theme, layout, section)
    for caution in facts.cautions:
        layout.addWidget(CautionSlip(theme, caution))


def _add_section(theme: Theme, layout: QVBoxLayout, section: Section) -> None:
    layout.addSpacing(theme.px(4))
    layout.addWidget(labels.group(section.title))
    if section.text:
        layout.addWidget(labels.plain(section.text))
    if section.rows:
        layout.addWidget(_Rows(theme, section.rows))


class _Rows(QWidget):
    """Rows of a section: the first cell leads, the others stand at the far side, figures under figures."""

    def __init__(self, theme: Theme, rows: tuple[tuple[str, ...], ...]) -> None:
        super().__init__()
        self._theme = theme
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(theme.px(12))
        grid.setVerticalSpacing(theme.px(9))
        self._first: list[QLabel] = []
        for line, row in enumerate(rows):
            for column, text in enumerate(row):
                label = labels.plain(text, wrap=column == 0 or len(text) > _LONGEST_FIGURE)
                if column:
                    label.setAlignment(Qt.AlignmentFlag.AlignTrailing | Qt.AlignmentFlag.AlignVCenter)
                else:
                    self._first.append(label)
                grid.addWidget(label, line, column)
        grid.setColumnStretch(0, 1)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = painter_of(self)
        for label in self._first[:-1]:
            y = label.geometry().bottom() + self._theme.px(5)
            fill(painter, QRectF(0, y, self.width(), self._theme.border()), self._theme.colour("line"))
