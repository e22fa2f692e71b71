"""The shares of the wares and the explanations written at a table, one after the other in one line."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QWidget

from findsdesk.desk.sorting_table import EntryRow
from findsdesk.domain.balance import Entry
from findsdesk.ui.benches.sorting import table_words
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.big_line import Figure, figure_label
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.words import _

_LONGEST = 48
"""Letters of an explanation that stand in the line; the rest is read where the mouse stays, and aloud."""
_BY_COUNTING = (Entry.COUNTED, Entry.RECOUNTED)


class EntriesLine(QWidget):
    """Figures, then the explanations in words; pressing one of these asks why it is answered by its opposite."""

    chosen = Signal(object)
    """The ``EntryRow``."""

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = surroundings.theme
        self._surroundings = surroundings
        self._flow = FlowLayout(parent=self)
        self._parts: list[QWidget] = []
        self._shown: tuple[tuple[Figure, ...], tuple[EntryRow, ...]] = ((), ())
        self._low = False

    def make_low(self, low: bool) -> None:
        """Leave the figures out from the next showing on, where there is little room."""
        self._low = low

    def show_line(self, figures: Sequence[Figure], entries: Sequence[EntryRow]) -> None:
        """Show the figures, and the entries but the counts; an answered one and its answer are pressed no more."""
        explained = tuple(entry for entry in entries if entry.kind not in _BY_COUNTING)
        shown = (() if self._low else tuple(figures), explained)
        if shown == self._shown:
            return
        self._shown = shown
        self._flow.set_gaps(self._theme.px(20), self._theme.px(4))
        for part in self._parts:
            self._flow.removeWidget(part)
            part.hide()
            part.deleteLater()
        self._parts = [*map(figure_label, shown[0]), *map(self._part, explained)]
        for part in self._parts:
            self._flow.addWidget(part)
        self.setVisible(bool(self._parts))

    def _part(self, entry: EntryRow) -> QWidget:
        words = table_words.entry_words(entry, self._surroundings.terms)
        moved = entry.kind in (Entry.ARRIVED, Entry.MOVED_OUT)
        if moved or entry.answered or entry.answers_id is not None:
            said = _("{entry}, taken back").format(entry=words) if entry.answered else words
            label = labels.muted(_shortened(said), wrap=False, small=True)
            label.setAccessibleName(said)
            label.setToolTip(said if label.text() != said else "")
            return label
        button = QPushButton(_shortened(words))
        button.setAccessibleName(words)
        button.setProperty("quiet", True)
        button.setProperty("word", True)
        whole = f"{words}\n" if button.text() != words else ""
        button.setToolTip(whole + _("Take back this explanation"))
        button.clicked.connect(lambda: self.chosen.emit(entry))
        return button


def _shortened(words: str) -> str:
    return words if len(words) <= _LONGEST else f"{words[: _LONGEST - 1].rstrip()}…"
