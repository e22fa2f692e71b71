"""The subjects of the set-up one below the other: arrow keys go along them, Enter and Tab go into one."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QListWidget, QListWidgetItem

from findsdesk.ui.theme import Theme
from findsdesk.words import _

_KEY = Qt.ItemDataRole.UserRole


class SubjectList(QListWidget):
    """Known by their keys."""

    chosen = Signal(str)
    """The key of the subject the cursor came to."""
    entered = Signal()
    """Somebody wants to go into the subject that is shown."""

    def __init__(self, theme: Theme, subjects: Sequence[tuple[str, str]]) -> None:
        super().__init__()
        self.theme = theme
        self.setProperty("rows", True)
        self.setAccessibleName(_("What to set up"))
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        for key, words in subjects:
            item = QListWidgetItem(words)
            item.setData(_KEY, key)
            self.addItem(item)
        self.setCurrentRow(0)
        self.currentItemChanged.connect(lambda item, _before: self.chosen.emit(item.data(_KEY)))
        self._space()
        theme.changed.connect(self._space)

    def show_subject(self, key: str) -> None:
        """Put the cursor on a subject, without telling anybody."""
        blocked = self.blockSignals(True)
        self.setCurrentRow(next(row for row in range(self.count()) if self.item(row).data(_KEY) == key))
        self.blockSignals(blocked)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.entered.emit()
        else:
            super().keyPressEvent(event)

    def _space(self) -> None:
        self.setMaximumHeight(self.count() * self.theme.px(31) + self.theme.px(10))
        words = (self.item(row).text() for row in range(self.count()))
        for row in range(self.count()):
            self.item(row).setSizeHint(QSize(0, self.theme.px(31)))
        self.setFixedWidth(max(self.fontMetrics().horizontalAdvance(text) for text in words) + self.theme.px(34))
