"""The page of keys: every key of the open bench and of the window, in columns, read at a glance and closed."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLayout, QVBoxLayout, QWidget

from findsdesk.ui.notice import Notice
from findsdesk.ui.widgets import labels
from findsdesk.words import _

KeysOf = tuple[str, tuple[tuple[str, str], ...]]
"""Whose keys they are, in words, and (key, what it does); several keys are parted by two blanks."""
_MOST = 13
"""Keys in one column; more begin another."""


class KeysPage(Notice):
    """Groups side by side; F1 or Escape closes it as its button does."""

    def __init__(self, groups: Sequence[KeysOf], parent: QWidget | None = None) -> None:
        super().__init__(_("Keys"), "", parent=parent)
        self.groups = tuple(groups)
        self.add_no(_("Close"))
        page = QWidget(self)
        beside = QHBoxLayout(page)
        beside.setContentsMargins(0, 0, 0, 0)
        beside.setSpacing(36)
        for heading, keys in self.groups:
            beside.addLayout(self._group(heading, keys))
        self.put_in(page)
        self.whole.setContentsMargins(24, 18, 24, 18)
        self.whole.setSpacing(14)
        # As large as what stands in it, however small the screen: nothing scrolls and nothing is cut.
        self.whole.setSizeConstraint(QLayout.SizeConstraint.SetFixedSize)

    def _group(self, heading: str, keys: Sequence[tuple[str, str]]) -> QVBoxLayout:
        whole, grid = QVBoxLayout(), QGridLayout()
        whole.setSpacing(8)
        head = labels.group(heading)
        head.setWordWrap(False)
        whole.addWidget(head)
        grid.setHorizontalSpacing(12)
        grid.setVerticalSpacing(4)
        rows = ceil(len(keys) / ceil(len(keys) / _MOST)) if keys else 1
        for place, (key, words) in enumerate(keys):
            column, row = divmod(place, rows)
            grid.addLayout(self._caps(key), row, 3 * column)
            grid.addWidget(labels.plain(words, wrap=False), row, 3 * column + 1)
            grid.setColumnMinimumWidth(3 * column + 2, 24 if column * rows + rows < len(keys) else 0)
        whole.addLayout(grid)
        whole.addStretch(1)
        return whole

    @staticmethod
    def _caps(keys: str) -> QHBoxLayout:
        caps = QHBoxLayout()
        caps.setSpacing(4)
        for key in keys.split("  "):
            caps.addWidget(labels.key(key))
        caps.addStretch(1)
        return caps

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_F1:
            self.reject()
            return
        super().keyPressEvent(event)
